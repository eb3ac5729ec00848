// Several pieces from one rectangle: gores with shared mitre cuts, and tapers closed by notches.
#pragma once

#include "linerwright/pattern.hpp"

namespace linerwright {

// Throws GeometryError if the pieces' edges do not coincide.
Pattern blank_pattern(const Fitting& fitting, const Blank& blank);
Pattern notched_pattern(const Fitting& fitting, const NotchedBlank& blank);

}  // namespace linerwright
