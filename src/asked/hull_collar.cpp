// The collar on a square-to-round's circle: where it meets what the planes leave, and what both enclose.
#include <algorithm>

#include "hull_least.hpp"

namespace linerwright::asked {

namespace {

Place on_collar(const Hull& hull, double phi, double w) {
  return {hull.moved[0] + (hull.radius - w) * std::cos(phi),
          hull.moved[1] + (hull.radius - w) * std::sin(phi), hull.length};
}

// The least height, or with `sense` -1 the negative of the greatest, at which planes of a quarter that narrow
// toward the circle, or widen, are w deep on the collar's ruling: (off - w - u.x) / u_z.
double bound_on(const Hull& hull, const Place& at, double w, double sense, int quarter) {
  constexpr double k_upright = 1e-9;
  return least_in_quarter(
      hull,
      [&](const HullPlane& on) {
        if (!(sense * on.u[2] > k_upright)) return 1e300;
        return sense * (hull.length + (on.off - w - along(on.u, at)) / on.u[2]);
      },
      quarter);
}

}  // namespace

// At the circle's height the planes that are w deep leave nothing beyond the collar's own circle there. So on
// the collar they end below it where the one on that side narrows toward it, above it where it widens. Each
// quarter is asked for itself: where the layers of two corners meet, either's planes may be the ones.
double Hull::joint_height(double phi, double w) const {
  if (w == 0.0) return length;
  const Place at = on_collar(*this, phi, w);
  const double sense = slope(phi) < 0.0 ? -1.0 : 1.0;
  double least = 1e300;
  for (int quarter = 0; quarter < 4; ++quarter)
    least = std::min(least, bound_on(*this, at, w, sense, quarter));
  const double bound = sense * least;
  if (w < 0.0) return least < 1e300 ? bound : length;
  return sense > 0.0 ? std::min(length, bound) : std::max(length, bound);
}

double Hull::joint_corner(int side, double w) const {
  double before = side * k_quarter - 0.5 * k_quarter;
  double after = side * k_quarter + 0.5 * k_quarter;
  for (int i = 0; i < 50; ++i) {
    const double middle = 0.5 * (before + after);
    const Place at = on_collar(*this, middle, w);
    const bool early = bound_on(*this, at, w, 1.0, (side + 3) % 4) < bound_on(*this, at, w, 1.0, side % 4);
    (early ? before : after) = middle;
  }
  return 0.5 * (before + after);
}

double Hull::open_area(double z, double w) const {
  constexpr double k_there = 2e-6;  // mm: as a way is written
  // where no side narrows toward it, the collar begins above the circle's height
  const bool widens =
      std::all_of(fine.begin(), fine.end(), [](const HullLine& on) { return on.slope <= 0.0; });
  if (collar > 0.0 && z > length + (widens ? k_there : -k_there)) return k_pi * (radius - w) * (radius - w);
  return section_area(z, w);
}

namespace {

// How far from the circle's axis what lies w deep reaches at height z on the side phi, without the collar.
double reach_of(const Hull& hull, double phi, double z, double w) {
  const Place middle{hull.moved[0], hull.moved[1], z};
  const Place out{std::cos(phi), std::sin(phi), 0.0};
  return least_of(hull, [&](const HullPlane& on) {
    const double rate = along(on.u, out);
    return rate > 0.0 ? (on.off - w - along(on.u, middle)) / rate : 1e300;
  });
}

}  // namespace

// Level sections below the joint with the collar, wedges about the circle's axis through it, a cylinder above
// it.
double Hull::inside(double w) const {
  double low = length;
  double high = length;
  constexpr int k_around = 1440;
  std::vector<double> joint;
  for (int i = 0; collar > 0.0 && i < k_around; ++i) {
    joint.push_back(joint_height(k_turn * i / k_around, w));
    low = std::min(low, joint.back());
    high = std::max(high, joint.back());
  }
  constexpr int k_panels = 16;
  double bottom = 0.0;
  std::vector<double> heights{start(), 0.0};  // between which sections change alike
  for (int side = 0; side < 4 && square > 0.0 && w > 0.0; ++side) {
    heights.push_back(square_top(side, w));
    bottom = std::max(bottom, heights.back());
  }
  std::sort(heights.begin(), heights.end());
  double sum = 0.0;
  for (int panel = 0; panel < k_panels; ++panel)
    for (int i = 0; i < 5; ++i)
      sum += k_gauss_weight[i] / k_panels *
             section_area(bottom + (low - bottom) * (panel + k_gauss_at[i]) / k_panels, w);
  sum *= low - bottom;
  for (std::size_t k = 0; k + 1 < heights.size() && square > 0.0; ++k)
    for (int i = 0; i < 5; ++i)
      sum += k_gauss_weight[i] * (heights[k + 1] - heights[k]) *
             section_area(heights[k] + (heights[k + 1] - heights[k]) * k_gauss_at[i], w);
  const double round = (radius - w) * (radius - w);
  for (std::size_t k = 0; k < joint.size(); ++k) {
    double wedge = round * (high - joint[k]);
    for (int i = 0; i < 5; ++i) {
      const double reach = reach_of(*this, k_turn * static_cast<double>(k) / k_around,
                                    low + (joint[k] - low) * k_gauss_at[i], w);
      wedge += k_gauss_weight[i] * (joint[k] - low) * reach * reach;
    }
    sum += 0.5 * k_turn / k_around * wedge;
  }
  if (collar > 0.0) sum += k_pi * round * (end() - high);
  return sum;
}

}  // namespace linerwright::asked
