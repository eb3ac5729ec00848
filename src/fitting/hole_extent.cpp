// How far a hole reaches in the wall of a piece that is to be divided.
#include <algorithm>
#include <cmath>
#include <limits>

#include "clearance.hpp"
#include "division.hpp"

namespace linerwright {

Divider::HoleExtent Divider::extent_of(const JointUse& use) const {
  constexpr double k_far = std::numeric_limits<double>::infinity();
  const Joint& joint = fitting_.joint(use.joint);
  const double bore = fitting_.liner.bore_depth();
  HoleExtent extent{0.0, 0.0, k_far, -k_far};
  double least = k_far;
  double most = -k_far;
  double last =
      place_on(joint, use.side, 0.0, liner_depths(joint.style, use.side, fitting_.liner.outer_depth, bore))
          .theta;
  constexpr int k_steps = 256;
  for (const double w : fitting_.liner.faces())
    for (int i = 0; i < k_steps; ++i) {
      const Sheet::Place place =
          place_on(joint, use.side, k_two_pi * i / k_steps, liner_depths(joint.style, use.side, w, bore));
      last = place.theta + k_two_pi * std::round((last - place.theta) / k_two_pi);
      least = std::min(least, last);
      most = std::max(most, last);
      extent.low = std::min(extent.low, place.v);
      extent.high = std::max(extent.high, place.v);
    }
  // The metal's walls are cut at the same places, and where a branch stands on its body their hole is larger
  // than the board's: a cut keeps clear of it, too.
  constexpr double k_clear_of_metal = 5.0;  // mm
  for (const DepthPair& depths : hole_depths(fitting_.liner))
    for (int i = 0; i < k_steps; ++i) {
      const double v = place_on(joint, use.side, k_two_pi * i / k_steps, depths).v;
      extent.low = std::min(extent.low, v + k_cut_clear - k_clear_of_metal);
      extent.high = std::max(extent.high, v - k_cut_clear + k_clear_of_metal);
    }
  extent.middle = 0.5 * (least + most);
  extent.half_width = 0.5 * (most - least);
  return extent;
}

}  // namespace linerwright
