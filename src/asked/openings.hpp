// Holes for access doors, shafts and instruments, as the request lists them.
#pragma once

#include "request.hpp"
#include "wall.hpp"

namespace linerwright::asked {

// Adds to the walls their openings in liner and metal. Heights are counted from the metal's edges, which
// `metal` has.
Wanted with_openings(const Request& request, const Wanted& metal, Wanted wanted);

}  // namespace linerwright::asked
