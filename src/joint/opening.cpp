// The edge of an opening. On the flat of the duct face x runs around and y along the wall from the opening's
// middle; there its sides are straight, or the circle of a tube that stands square on the wall is unrolled,
// and a setback is laid out.
#include <cmath>

#include "linerwright/joint/joint.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

// A wall's surface near one place of its duct face: the flat of it, and what lines square to the wall there
// meet. Half angle p, positive where the wall narrows: radius r at the middle, apex a = r / sin p further on.
class Near {
 public:
  Near(const Sheet& wall, double theta, double v) : wall_(wall), theta_(theta), v_(v) {
    if (!wall.is_cylinder() && !wall.is_right_cone()) throw GeometryError("no such wall has an opening");
    const Sheet::Ruling r = wall.ruling(theta);
    sine_ = r.normal.z;
    cosine_ = r.direction.z;
    radius_ = wall.spread(theta, v, 0.0);
    if (wall.is_flat() ? v > wall.r1() : !(radius_ > 0.0))
      throw GeometryError("an opening lies beyond the point where its cone ends");
    around_ = wall.frame().direction(r.around);
    along_ = wall.frame().direction(r.direction);
    normal_ = wall.frame().direction(r.normal);
    middle_ = wall.point(theta, v, 0.0);
  }

  // A disc is its own flat.
  Vec2 flat(Sheet::Place place) const {
    if (wall_.is_flat()) return across(place);
    const double turn = std::remainder(place.theta - theta_, k_two_pi);
    if (sine_ == 0.0) return {radius_ * turn, place.v - v_};
    const double apex = radius_ / sine_;
    const double reach = apex - (place.v - v_);
    return {reach * std::sin(turn * sine_), apex - reach * std::cos(turn * sine_)};
  }

  Sheet::Place place(Vec2 flat) const {
    if (wall_.is_flat()) return wall_.locate(middle_ + flat.x * around_ + flat.y * along_, 0.0);
    if (sine_ == 0.0) return {theta_ + flat.x / radius_, v_ + flat.y};
    const double apex = radius_ / sine_;
    const double side = std::copysign(1.0, sine_);
    const double reach = side * std::hypot(flat.x, apex - flat.y);
    const double angle = std::atan2(side * flat.x, side * (apex - flat.y));
    return {theta_ + angle / sine_, v_ + apex - reach};
  }

  // Where the line square to the wall in the middle, moved by (x, y), meets the surface at depth w: so far
  // under the tangent plane there. With X = x and Y from the apex the parallel cone is, in the frame of the
  // middle,
  //   k l^2 + 2 b l + (cos p x)^2 = 0,  k = cos 2p,  b = (y - apex) sin p cos p,
  // and its small root is the near side of the wall; p = 0 gives r - sqrt(r^2 - x^2).
  double drop(Vec2 at, double w) const {
    if (wall_.is_flat()) return 0.0;
    const double radius = radius_ - w * cosine_;
    const double b = (at.y * sine_ - radius) * cosine_;
    const double k = cosine_ * cosine_ - sine_ * sine_;
    const double cx = cosine_ * at.x;
    const double inside = b * b - k * cx * cx;
    if (!(radius > 0.0) || !(b < 0.0) || !(inside > 0.0))
      throw GeometryError("the opening is wider than its wall");
    return cx * cx / (-b + std::sqrt(inside));
  }

  // The same point in space.
  Vec3 under(Vec2 at, double w) const {
    return middle_ + at.x * around_ + at.y * along_ - (w + drop(at, w)) * normal_;
  }

  Sheet::Place place_under(Vec2 at, double w) const { return wall_.locate(under(at, w), w); }

  // Of a point of the duct face, how far it lies from the middle square to the opening's axis.
  Vec2 across(Sheet::Place place) const {
    const Vec3 way = wall_.point(place.theta, place.v, 0.0) - middle_;
    return {dot(way, around_), dot(way, along_)};
  }

  // The way on the flat of a step (x, y) across the axis from `at`: the step's part along the surface, turned
  // by as much as the ruling there leans on the flat.
  Vec2 step_on_flat(Vec2 at, Vec2 step, Sheet::Place place) const {
    if (wall_.is_flat()) return step;
    const double radius = radius_;
    const double b = (at.y * sine_ - radius) * cosine_;
    const double k = cosine_ * cosine_ - sine_ * sine_;
    const double l = drop(at, 0.0);
    const double fall = -(l * sine_ * cosine_ * step.y + cosine_ * cosine_ * at.x * step.x) / (k * l + b);
    const Vec3 way = step.x * around_ + step.y * along_ - fall * normal_;
    const Sheet::Ruling r = wall_.ruling(place.theta);
    const Vec2 on{dot(way, wall_.frame().direction(r.around)),
                  dot(way, wall_.frame().direction(r.direction))};
    const double lean = std::remainder(place.theta - theta_, k_two_pi) * sine_;
    return {std::cos(lean) * on.x - std::sin(lean) * on.y, std::sin(lean) * on.x + std::cos(lean) * on.y};
  }

  double sine() const { return sine_; }
  double cosine() const { return cosine_; }

 private:
  const Sheet& wall_;
  double theta_, v_;
  double sine_, cosine_, radius_;
  Vec3 around_, along_, normal_, middle_;
};

// The edge's place on the flat, moved outward by `out`.
Vec2 edge_on_flat(const Near& near, const OpeningTarget& opening, double s, double out) {
  if (!opening.round) {
    const double x = opening.half_around + out;
    const double y = opening.half_along + out;
    const double turn = s - k_two_pi * std::floor(s / k_two_pi);
    const double side = std::floor(turn / (0.5 * k_pi));
    const double share = 2.0 * (turn / (0.5 * k_pi) - side) - 1.0;  // -1 to 1 along the side
    switch (static_cast<int>(side) % 4) {
      case 0:
        return {-share * x, y};
      case 1:
        return {-x, -share * y};
      case 2:
        return {share * x, -y};
      default:
        return {x, share * y};
    }
  }
  const double radius = opening.half_along;
  const Vec2 at{-radius * std::sin(s), radius * std::cos(s)};
  const Sheet::Place place = near.place_under(at, 0.0);
  const Vec2 flat = near.flat(place);
  if (out == 0.0) return flat;
  const Vec2 way = near.step_on_flat(at, {-at.y, at.x}, place);
  return flat + (out / norm(way)) * Vec2{way.y, -way.x};
}

}  // namespace

Sheet::Place place_on_opening(const Sheet& wall, const OpeningTarget& opening, double s, double w) {
  const Near near(wall, opening.theta, opening.v);
  const bool splayed = opening.bevel == OpeningBevel::splayed;
  const double out = opening.setback + (splayed ? w * opening.splay : 0.0);
  Sheet::Place place = near.place(edge_on_flat(near, opening, s, out));
  if (opening.bevel == OpeningBevel::radial && wall.is_flat())
    throw GeometryError("square to its duct's axis no cut goes through a disc");
  if (opening.bevel == OpeningBevel::radial) place.v += w * near.sine() / near.cosine();
  if (opening.bevel == OpeningBevel::straight) place = near.place_under(near.across(place), w);
  return place;
}

double flat_half(const Sheet& wall, double v, double half_chord) {
  if (wall.is_flat()) return half_chord;
  const Near near(wall, 0.0, v);
  const auto chord = [&](double half) {
    const Sheet::Place right = near.place({half, 0.0});
    return near.across(right).x;
  };
  // the chord grows with its half on the flat up to a quarter turn
  const double quarter = 0.5 * k_pi * wall.spread(0.0, v, 0.0);
  if (!(half_chord < chord(0.999 * quarter))) throw GeometryError("the opening is wider than its wall");
  double low = 0.0;
  double high = quarter;
  for (int step = 0; step < 200 && high - low > 1e-13 * quarter; ++step) {
    const double middle = 0.5 * (low + high);
    (chord(middle) < half_chord ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

}  // namespace linerwright
