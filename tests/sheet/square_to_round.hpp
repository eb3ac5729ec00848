// A square-to-round for the tests, and what must be true of it by its tangent planes alone: formulas that
// share nothing with the sheet. A plane that touches rectangle and circle on the side N = (cos, sin) is N.x
// <= A - k z, with A = a |cos| + b |sin| and k = (A - r - e.N) / H; at depth w it is moved in by w sqrt(1 +
// k^2) in the section at z.
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "linerwright/sheet/sheet.hpp"
#include "sheet/numeric.hpp"

namespace linerwright {

struct SquareToRound {
  double a = 300.0, b = 200.0, r = 200.0, height = 400.0;
  Vec2 centre{};

  Sheet sheet() const { return Sheet::square_to_round(Frame{}, a, b, r, height, centre); }

  struct Plane {
    Vec2 way;
    double off, lean, size;
  };
  Plane plane(double angle) const {
    const Vec2 way{std::cos(angle), std::sin(angle)};
    const double off = a * std::fabs(way.x) + b * std::fabs(way.y);
    const double lean = (off - r - dot(centre, way)) / height;
    return {way, off, lean, std::hypot(1.0, lean)};
  }
  double depth_under(double angle, Vec3 p) const {
    const Plane at = plane(angle);
    return (at.off - at.lean * p.z - at.way.x * p.x - at.way.y * p.y) / at.size;
  }
  // The smallest distance to any tangent plane, and its plane's angle: `steps` planes between each two flats,
  // then by thirds about the nearest of them.
  double depth(Vec3 p, double* angle = nullptr) const {
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
  // Area of the section at height z of all that lies deeper than w, by cutting a large square with
  // half-planes.
  double section(double z, double w, int steps) const {
    const double far = 4.0 * (a + b + r + norm(centre));
    std::vector<Vec2> ring{{-far, -far}, {far, -far}, {far, far}, {-far, far}};
    for (int i = 0; i < 4 * steps && !ring.empty(); ++i) {
      const Plane cut = plane(0.5 * k_pi * i / steps);
      const double limit = cut.off - cut.lean * z - w * cut.size;
      std::vector<Vec2> left;
      for (std::size_t k = 0; k < ring.size(); ++k) {
        const Vec2 p = ring[k];
        const Vec2 q = ring[(k + 1) % ring.size()];
        const double at_p = dot(cut.way, p) - limit;
        const double at_q = dot(cut.way, q) - limit;
        if (at_p <= 0.0) left.push_back(p);
        if ((at_p < 0.0 && at_q > 0.0) || (at_p > 0.0 && at_q < 0.0))
          left.push_back(p + (at_p / (at_p - at_q)) * (q - p));
      }
      ring = std::move(left);
    }
    double area = 0.0;
    for (std::size_t k = 0; k < ring.size(); ++k) area += 0.5 * cross(ring[k], ring[(k + 1) % ring.size()]);
    return area;
  }
  // The volume deeper than w. Polygons about a round section are too large by a share that falls with the
  // square of their sides' number: what is left of two of them falls with the fourth power.
  double inside(double w, int steps = 48) const {
    const auto volume = [&](int n) {
      return integrate([&](double z) { return section(z, w, n); }, 0.0, height, 8);
    };
    return (4.0 * volume(2 * steps) - volume(steps)) / 3.0;
  }
  // H/3 (A B + (A + B) r + pi r^2) with full sides A and B: prisms and pyramids under the flats, cones under
  // the corners. Any offset of the circle leaves it as it is.
  double cavity() const { return height / 3.0 * (4.0 * a * b + 2.0 * (a + b) * r + k_pi * r * r); }
};

// 600 x 400 to round 400, 400 long.
inline const SquareToRound k_case;

inline SquareToRound random_square_to_round(Dice& dice) {
  SquareToRound made;
  made.a = dice.between(80.0, 600.0);
  made.b = made.a * dice.between(0.4, 2.5);
  made.r = std::min(made.a, made.b) * dice.between(0.5, 1.3);
  made.height = std::max(made.a, made.b) * dice.between(0.5, 3.0);
  if (dice.pick(2) == 0) made.centre = {made.a * dice.between(-0.7, 0.7), made.b * dice.between(-0.7, 0.7)};
  return made;
}

}  // namespace linerwright
