// Spending points where a contour bends.
#pragma once

#include <functional>
#include <vector>

#include "linerwright/units/vector.hpp"

namespace linerwright {

// A smooth run: places of both faces at a parameter.
struct FacePair {
  Vec2 duct;
  Vec2 air;
};

// Parameters from `from` to `to` (both included, either may be the larger) whose chords keep both faces
// within the chord error and turn per vertex; no step shorter than the shortest segment unless the chord
// error needs it. `corners` between the two are kept. The chords stay as near to `beside`, too, where that is
// given: what the knife follows with an allowance added.
std::vector<double> spend_points(const std::function<FacePair(double)>& at, double from, double to,
                                 std::vector<double> corners,
                                 const std::function<FacePair(double)>& beside = nullptr);

}  // namespace linerwright
