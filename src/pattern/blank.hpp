// Several pieces from one board: gores with shared mitre cuts, and tapers closed by notches.
#pragma once

#include "linerwright/pattern/pattern.hpp"
#include "outline.hpp"

namespace linerwright {

// From the outliners of all the fitting's pieces. Throws GeometryError if the pieces' edges do not coincide.
Pattern blank_pattern(const Fitting& fitting, const Blank& blank, const std::vector<Outliner>& all);
Pattern notched_pattern(const Fitting& fitting, const NotchedBlank& blank);

}  // namespace linerwright
