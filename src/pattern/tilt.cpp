#include "tilt.hpp"

#include <algorithm>
#include <cmath>

#include "outline.hpp"

namespace linerwright {

namespace {

constexpr double k_corner = 20.0 / 180.0 * k_pi;

double turn_between(Vec2 a, Vec2 b) {
  return std::fabs(std::atan2(cross(a, b), dot(a, b)));
}

}  // namespace

void add_tilts(Pattern& pattern, int contour, const std::vector<TiltPoint>& points, bool closed,
               CutPolicy policy, const LinerSpec& liner) {
  const std::size_t n = points.size();
  for (std::size_t i = 0; i < n; ++i) {
    const TiltPoint& p = points[i];
    const TiltPoint& before = points[(i + n - 1) % n];
    const TiltPoint& after = points[(i + 1) % n];
    const bool arrives = closed || i > 0;
    const bool leaves = closed || i + 1 < n;
    const Vec2 in = p.true_edge.duct - before.true_edge.duct;
    const Vec2 out = after.true_edge.duct - p.true_edge.duct;
    // along the edge on either side; where the two run on smoothly, along both
    std::vector<double> shifts;
    if (arrives && leaves && before.leans && p.leans && turn_between(in, out) < k_corner) {
      shifts = {outward_shift(p.true_edge, in + out)};
    } else {
      if (arrives) shifts.push_back(before.leans ? outward_shift(p.true_edge, in) : 0.0);
      if (leaves) shifts.push_back(p.leans ? outward_shift(p.true_edge, out) : 0.0);
    }
    for (const double shift : shifts) {
      const SquareCut cut = square_cut(policy, liner.face_up, shift);
      pattern.gap_square = std::max(pattern.gap_square, cut.gap);
      pattern.overlap_square = std::max(pattern.overlap_square, cut.overlap);
      const double tilt = std::atan2(shift, liner.thickness);
      pattern.max_tilt = std::max(pattern.max_tilt, std::fabs(tilt));
      pattern.tilts.push_back(
          {contour, liner.face_up == Face::air ? p.cut_edge.air : p.cut_edge.duct, 0.0, tilt});
    }
  }
}

}  // namespace linerwright
