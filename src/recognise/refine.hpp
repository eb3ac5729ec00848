// Surfaces laid onto points alone, from a first guess.
#pragma once

#include <vector>

#include "fit.hpp"

namespace linerwright {

// Moves a cylinder, cone or torus to where the squares of the points' distances sum up to the least, and
// states the largest of them as its residual; other sorts only get the residual. `points` are not empty.
void refine(FittedSurface& surface, const std::vector<Vec3>& points);

}  // namespace linerwright
