// Whether walls in a row keep clear of each other.
#pragma once

#include <optional>
#include <utility>

#include "linerwright/fitting/fitting.hpp"

namespace linerwright {

// The first two walls that are no neighbours and share room, their metal `gauge` thick; none: nothing. Walls
// are taken as the hulls of their two ends, which they are where both are plane.
std::optional<std::pair<int, int>> walls_that_meet(const Fitting& fitting, double gauge);
// The same of two walls.
bool walls_apart(const Fitting& fitting, int a, int b, double gauge);

}  // namespace linerwright
