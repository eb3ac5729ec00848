#include "linerwright/joint/folded_ends.hpp"

#include <algorithm>
#include <cmath>

#include "linerwright/sheet/folds.hpp"

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

std::vector<Arc> carved_ranges(const Sheet& sheet, double w) {
  std::vector<Arc> ranges;
  for (int corner = 0; corner < 4; ++corner) {
    const Vec3 foot = w * corner_fold(sheet, corner).foot;
    const auto flat_part = [&](int flat) {
      const Vec3 edge = sheet.ruling(0.5 * k_pi * flat).base_slope;
      constexpr double k_clear = 0.02;  // mm from the foot: there the edge of the air face turns
      return (std::fabs(dot(foot, edge)) + k_clear * norm(edge)) / dot(edge, edge);
    };
    ranges.push_back({corner_theta(corner, 0.0) - flat_part(corner),
                      corner_theta(corner, 0.5 * k_pi) + flat_part(corner + 1)});
  }
  return ranges;
}

bool in_ranges(const std::vector<Arc>& ranges, double theta) {
  return std::any_of(ranges.begin(), ranges.end(), [&](const Arc& range) {
    const double on = theta - range.from;
    return on - k_two_pi * std::floor(on / k_two_pi) < range.to - range.from;
  });
}

}  // namespace linerwright
