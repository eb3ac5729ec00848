#include "linerwright/folded_ends.hpp"

#include <algorithm>

#include "linerwright/folds.hpp"

namespace linerwright {

bool is_round_end(const Sheet& sheet, const PlaneTarget& plane) {
  return sheet.frame().local_point(plane.point).z > 0.5 * sheet.height();
}

std::vector<double> folded_corners(const Joint& joint, double w) {
  const bool round = is_round_end(joint.lead, std::get<PlaneTarget>(joint.target));
  std::vector<double> corners = round ? high_corners(joint.lead, w) : low_corners(joint.lead, w);
  corners.insert(corners.end(), joint.splits.begin(), joint.splits.end());
  std::sort(corners.begin(), corners.end());
  constexpr double k_same = 1e-9;  // radians
  corners.erase(
      std::unique(corners.begin(), corners.end(), [](double a, double b) { return b - a < k_same; }),
      corners.end());
  return corners;
}

std::vector<Arc> folded_arcs(const Joint& joint, double w) {
  const std::vector<double> corners = folded_corners(joint, w);
  std::vector<Arc> arcs;
  for (std::size_t i = 0; i < corners.size(); ++i)
    arcs.push_back({corners[i], i + 1 < corners.size() ? corners[i + 1] : corners.front() + k_two_pi});
  return arcs;
}

}  // namespace linerwright
