// The proof by the request alone, of the files in a folder.
#pragma once

#include <vector>

#include "linerwright/check/check.hpp"

namespace linerwright {

// `parts` are those of the STEP file; empty without one.
std::vector<CheckResult> prove_as_asked(const CheckFiles& files, const std::vector<Part>& parts);

}  // namespace linerwright
