// Holes for access doors, shafts and instruments, in any fitting's walls.
#pragma once

#include "common.hpp"

namespace linerwright {

// Cuts the openings that a request lists into the walls of an undivided fitting; adds the reasons why one
// cannot be where it is asked for.
void add_openings(Reasons& reasons, Fitting& fitting);
// Adds the reasons where a seam comes too near to an opening, once seams lie where they will.
void require_clear_seams(Reasons& reasons, const Fitting& fitting);

}  // namespace linerwright
