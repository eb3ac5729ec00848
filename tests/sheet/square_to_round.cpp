#include "sheet/square_to_round.hpp"

namespace linerwright {

double SquareToRound::depth(Vec3 p, double* angle) const {
  constexpr int k_steps = 90;
  constexpr double k_step = 0.5 * k_pi / k_steps;
  double nearest = 0.0;
  for (int i = 1; i < 4 * k_steps; ++i)
    if (depth_under(k_step * i, p) < depth_under(nearest, p)) nearest = k_step * i;
  double best = nearest;
  for (const double side : {-k_step, 0.0}) {  // planes have a corner in every flat's
    double from = nearest + side;
    double to = from + k_step;
    for (int i = 0; i < 26; ++i) {
      const double third = (to - from) / 3.0;
      if (depth_under(from + third, p) < depth_under(to - third, p))
        to -= third;
      else
        from += third;
    }
    if (depth_under(0.5 * (from + to), p) < depth_under(best, p)) best = 0.5 * (from + to);
  }
  if (angle != nullptr) *angle = best;
  return depth_under(best, p);
}

double SquareToRound::section(double z, double w, int steps) const {
  const double far = 4.0 * (a + b + r + norm(centre));
  std::vector<Vec2> ring{{-far, -far}, {far, -far}, {far, far}, {-far, far}};
  std::vector<Vec2> left;
  for (int i = 0; i < 4 * steps && !ring.empty(); ++i) {
    const Plane cut = plane(0.5 * k_pi * i / steps);
    const double limit = cut.off - cut.lean * z - w * cut.size;
    left.clear();
    for (std::size_t k = 0; k < ring.size(); ++k) {
      const Vec2 p = ring[k];
      const Vec2 q = ring[(k + 1) % ring.size()];
      const double at_p = dot(cut.way, p) - limit;
      const double at_q = dot(cut.way, q) - limit;
      if (at_p <= 0.0) left.push_back(p);
      if ((at_p < 0.0 && at_q > 0.0) || (at_p > 0.0 && at_q < 0.0))
        left.push_back(p + (at_p / (at_p - at_q)) * (q - p));
    }
    ring.swap(left);
  }
  double area = 0.0;
  for (std::size_t k = 0; k < ring.size(); ++k) area += 0.5 * cross(ring[k], ring[(k + 1) % ring.size()]);
  return area;
}

double SquareToRound::inside(double w, int steps) const {
  const auto volume = [&](int n) {
    return integrate([&](double z) { return section(z, w, n); }, 0.0, height, 8);
  };
  return (4.0 * volume(2 * steps) - volume(steps)) / 3.0;
}

}  // namespace linerwright
