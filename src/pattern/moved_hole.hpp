// The edge of a hole that an allowance makes smaller, as a run for a tilting blade.
#pragma once

#include <functional>
#include <vector>

#include "tilt.hpp"

namespace linerwright {

// The run inside an exact edge of both faces, `distance` mm (above zero) from it, as the knife's own contour
// is. `parameters` are some of the edge, around it in its sense, and `at` gives a face's place at one. Throws
// GeometryError where nothing, or more than one opening, is left of a face's hole.
TiltRun moved_into_hole(const std::vector<double>& parameters,
                        const std::function<Vec2(double, bool air)>& at, double distance);

}  // namespace linerwright
