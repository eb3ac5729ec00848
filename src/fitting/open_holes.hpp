// Holes in the liner's boards that the butt allowance leaves open.
#pragma once

#include "common.hpp"

namespace linerwright {

// Adds the reasons where the board that the butt allowance leaves inside a hole closes it: on the board, as
// it is cut, no circle wider than the allowance lies in the hole of each face, or, where the knife stands
// square and keeps all material of both (`outer`), in what the two have in common.
void require_open_holes(Reasons& reasons, const Fitting& fitting);

}  // namespace linerwright
