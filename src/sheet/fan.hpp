// The planes that touch the cone of a square-to-round's corner.
#pragma once

#include <algorithm>
#include <cmath>

#include "linerwright/sheet/sheet.hpp"

namespace linerwright {

constexpr double k_quarter = 0.5 * k_pi;

// The planes that touch a corner's cone, by the turn of their normal from the way that one of the two flats
// faces: from the flat at its start, or counted backwards from the other.
class Fan {
 public:
  Fan(const Sheet& sheet, int corner, bool backwards) : sheet_(sheet), backwards_(backwards) {
    const Vec2 half = sheet.half_sides();
    const double cs = std::cos(corner * k_quarter + k_part_span);
    const double sn = std::sin(corner * k_quarter + k_part_span);
    from_centre_ = Vec2{std::copysign(half.x, cs), std::copysign(half.y, sn)} - sheet.centre();
    first_ = k_quarter * (backwards ? corner + 1 : corner);
    corner_ = ((corner % 4) + 4) % 4;
  }

  double lean(double turn) const {
    return lean_of(dot(from_centre_, way(turn)) - sheet_.r2(), sheet_.height());
  }
  double size(double turn) const { return size_of(lean(turn)); }
  // Of a normal with this lean; `hypot` guards against sizes that do not occur here, at ten times the cost.
  static double size_of(double lean) { return std::sqrt(1.0 + lean * lean); }
  // Length of the ruling from the corner to the circle.
  double length(double turn) const {
    const Vec2 over = sheet_.r2() * way(turn) - from_centre_;
    return std::hypot(over.x, over.y, sheet_.height());
  }
  double theta(double turn) const { return corner_theta(corner_, backwards_ ? k_quarter - turn : turn); }
  // What no growth exceeds: q is at most this slope, and what it is divided by at least 1.
  double most_growth() const {
    return 1.0 + 2.0 * dot(from_centre_, from_centre_) / (sheet_.height() * sheet_.height());
  }

  // How much farther two planes of the fan stand from each other than those of a right cylinder would: 1 -
  // n.n' = 2 s^2 G / (S S') with s the sine of half the turn between them. From (1 + k^2)(1 + k'^2) - (1 + k
  // k')^2 = (k - k')^2, and k - k' = 2 s q with q the slope of k half way between them.
  double growth(double turn, double other) const { return growth(turn, other, lean(turn)); }
  double growth(double turn, double other, double k) const {
    const double middle = 0.5 * (turn + other);
    const Vec2 across{-std::sin(angle(middle)), std::cos(angle(middle))};
    const double q = dot(from_centre_, across) / sheet_.height();
    const double k_other = lean(other);
    return 1.0 + 2.0 * q * q / (size_of(k) * size_of(k_other) + 1.0 + k * k_other);
  }

  // Where the ruling at `turn` meets the plane at `other`, per unit of depth, from the corner. The plane goes
  // through the corner, and n'.d = -2 r s^2 / (S' l): so s drops out, and the formula holds for neighbours.
  double start(double turn, double other) const { return reach(turn) * growth(turn, other); }
  double reach(double turn) const { return length(turn) / (sheet_.r2() * size(turn)); }
  // The same of the rectangle's plane.
  double plane(double turn) const {
    const double k = lean(turn);
    return k * length(turn) / (size_of(k) * sheet_.height());
  }

  // The turn of the plane that leans most: toward it from the circle's middle. As far on either side of it
  // planes lean alike; within the fan it may not be.
  double steepest() const {
    return std::atan2(dot(from_centre_, way(k_quarter)), dot(from_centre_, way(0.0)));
  }
  // Outside of the duct face planes that lean more than this fold over each other beside the rectangle.
  double most_lean_outside() const { return sheet_.height() / sheet_.r2(); }

 private:
  double angle(double turn) const { return backwards_ ? first_ - turn : first_ + turn; }
  Vec2 way(double turn) const { return {std::cos(angle(turn)), std::sin(angle(turn))}; }

  const Sheet& sheet_;
  bool backwards_;
  Vec2 from_centre_;
  double first_;
  int corner_;
};

// Whether the corner's layers outside of the duct face fold over each other beside the rectangle. Where they
// would by less than a nanometre for each millimetre of depth, they do not: no edge is that short.
inline bool folds_outside(const Fan& fan) {
  constexpr double k_least = 1e-6;
  return fan.lean(std::clamp(fan.steepest(), 0.0, k_quarter)) > fan.most_lean_outside() + k_least;
}

}  // namespace linerwright
