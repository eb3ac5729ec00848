#include "linerwright/fitting/notched_places.hpp"

#include <cmath>

namespace linerwright {

NotchedPlaces::NotchedPlaces(const Fitting& fitting, const NotchedBlank& blank)
    : fitting_(fitting),
      blank_(blank),
      taper_(fitting.piece(blank.taper)),
      layout_(layout_of(fitting, blank)),
      away_(fitting.wall_of(taper_).sheet.r2() > fitting.wall_of(taper_).sheet.r1() ? -1.0 : 1.0) {}

Vec2 NotchedPlaces::on_ruling(double x, double height) const {
  if (height <= 0.0) return {x, height};
  const double share = height / blank_reach(fitting_, blank_, false, theta_at(x), 0.0);
  return {x + share * (small_place(layout_, x, true) - x), height};
}

Vec2 NotchedPlaces::place(int piece, double theta, double v) const {
  double turn = std::fmod(theta - taper_.seam, k_two_pi);
  if (turn < 0.0) turn += k_two_pi;
  const double x = layout_.width * turn / taper_.span;
  double height = away_ * v;  // of a collar, counted from the seam
  if (piece == blank_.taper) {
    const double length = fitting_.wall_of(taper_).sheet.ruling(theta).length;
    height = away_ < 0.0 ? (1.0 - blank_.large) * length - v : v - blank_.large * length;
  }
  return on_ruling(x, height);
}

Vec2 NotchedPlaces::flat(int piece, double theta, double v) const {
  const Vec2 at = place(piece, theta, v);
  return {at.x, away_ * at.y};
}

}  // namespace linerwright
