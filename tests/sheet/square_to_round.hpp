// A square-to-round for the tests, and what must be true of it by its tangent planes alone: formulas that
// share nothing with the sheet. A plane that touches rectangle and circle on the side N = (cos, sin) is N.x
// <= A - k z, with A = a |cos| + b |sin| and k = (A - r - e.N) / H; at depth w it is moved in by w sqrt(1 +
// k^2) in the section at z.
#pragma once

#include <algorithm>
#include <cmath>
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
  // The smallest distance to any tangent plane, and its plane's angle: ninety planes between each two flats,
  // then by thirds about the nearest of them.
  double depth(Vec3 p, double* angle = nullptr) const;
  // Area of the section at height z of all that lies deeper than w, by cutting a large square with
  // half-planes.
  double section(double z, double w, int steps) const;
  // The volume deeper than w. Polygons about a round section are too large by a share that falls with the
  // square of their sides' number: what is left of two of them falls with the fourth power.
  double inside(double w, int steps = 48) const;
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
