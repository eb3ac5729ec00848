// The edge of an opening. On the flat of the duct face x runs around and y along the wall from the opening's
// middle; there its sides are straight, or the circle of a tube that stands square on the wall is unrolled,
// and a setback is laid out.
#include <algorithm>
#include <cmath>
#include <optional>
#include <stdexcept>

#include "linerwright/joint/joint.hpp"
#include "linerwright/sheet/folds.hpp"
#include "linerwright/sheet/part_places.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

[[noreturn]] void wider_than_wall() {
  throw GeometryError("the opening is wider than its wall");
}

bool is_round(const Sheet& wall) {
  return wall.is_cylinder() || wall.is_right_cone();
}

// A wall's surface near one place of its duct face: the flat of it, and what lines square to the wall there
// meet. On a round one half angle p, positive where the wall narrows: radius r at the middle, apex a = r /
// sin p further on. Of others the flat is integrated, and lines meet the surface by a search.
class Near {
 public:
  Near(const Sheet& wall, const OpeningTarget& at)
      : wall_(wall), theta_(at.theta), v_(at.v), flat_(at.flat), middle_ruling_(wall.ruling(at.theta)) {
    if (!flat_) flat_ = flat_of(wall, theta_);
    const Sheet::Ruling& r = middle_ruling_;
    sine_ = r.normal.z;
    cosine_ = r.direction.z;
    radius_ = wall.spread(theta_, v_, 0.0);
    if (wall.is_flat() ? v_ > wall.r1() : !(radius_ > 0.0))
      throw GeometryError("an opening lies beyond the point where its cone ends");
    around_ = wall.frame().direction(r.around);
    along_ = wall.frame().direction(r.direction);
    normal_ = wall.frame().direction(r.normal);
    middle_ = wall.point(theta_, v_, 0.0);
  }

  // A disc is its own flat.
  Vec2 flat(Sheet::Place place) const {
    if (wall_.is_flat()) return across(place);
    const double turn = std::remainder(place.theta - theta_, k_two_pi);
    if (flat_)
      return turned(flat_->point(theta_ + turn, place.v) - flat_->point(theta_, v_), flat_->lean(theta_));
    if (sine_ == 0.0) return {radius_ * turn, place.v - v_};
    const double apex = radius_ / sine_;
    const double reach = apex - (place.v - v_);
    return {reach * std::sin(turn * sine_), apex - reach * std::cos(turn * sine_)};
  }

  Sheet::Place place(Vec2 flat) const {
    if (wall_.is_flat()) return wall_.locate(middle_ + flat.x * around_ + flat.y * along_, 0.0);
    if (flat_) return place_on_board(flat);
    if (sine_ == 0.0) return {theta_ + flat.x / radius_, v_ + flat.y};
    const double apex = radius_ / sine_;
    const double side = std::copysign(1.0, sine_);
    const double reach = side * std::hypot(flat.x, apex - flat.y);
    const double angle = std::atan2(side * flat.x, side * (apex - flat.y));
    return {theta_ + angle / sine_, v_ + apex - reach};
  }

  // Where the line square to the wall in the middle, moved by (x, y), meets the surface at depth w.
  Sheet::Place place_under(Vec2 at, double w) const {
    if (wall_.is_square_to_round() && part_at(theta_).flat)
      if (const auto place = place_in_plane(at)) return *place;
    if (flat_) return place_by_search(at, w);
    return wall_.locate(middle_ + at.x * around_ + at.y * along_ - (w + drop(at, w)) * normal_, w);
  }

  // Of a point of the duct face, how far it lies from the middle square to the opening's axis.
  Vec2 across(Sheet::Place place) const {
    const Vec3 way = wall_.point(place.theta, place.v, 0.0) - middle_;
    return {dot(way, around_), dot(way, along_)};
  }

  // The way on the flat of a step (x, y) across the axis from a place: the step's part along the surface,
  // turned by as much as the ruling there leans on the flat.
  Vec2 step_on_flat(Vec2 step, Sheet::Place place) const {
    if (wall_.is_flat()) return step;
    const Sheet::Ruling r = wall_.ruling(place.theta);
    const Vec3 level = step.x * middle_ruling_.around + step.y * middle_ruling_.direction;
    const Vec3 way =
        level - dot(level, r.normal) / dot(middle_ruling_.normal, r.normal) * middle_ruling_.normal;
    const double turn = std::remainder(place.theta - theta_, k_two_pi);
    const double lean = flat_ ? flat_->lean(theta_) - flat_->lean(theta_ + turn) : turn * sine_;
    return turned({dot(way, r.around), dot(way, r.direction)}, lean);
  }

 private:
  // Turned counter-clockwise.
  static Vec2 turned(Vec2 at, double angle) {
    return {std::cos(angle) * at.x - std::sin(angle) * at.y, std::sin(angle) * at.x + std::cos(angle) * at.y};
  }

  Sheet::Place place_on_board(Vec2 flat) const {
    try {
      const Vec2 on = flat_->point(theta_, v_) + turned(flat, -flat_->lean(theta_));
      if (wall_.is_square_to_round())
        if (const auto place = place_on_part(*flat_, wall_, on, theta_)) return *place;
      const Sheet::Place place = flat_->place(on, theta_ + 0.5 * flat.x / radius_);
      if (!(std::fabs(place.theta - theta_) < k_pi) || !(wall_.spread(place.theta, place.v, 0.0) > 0.0))
        wider_than_wall();
      return place;
    } catch (const std::invalid_argument&) {  // on no ruling
      wider_than_wall();
    }
  }

  // On a flat part all lines square to it stay on their foot's ruling.
  std::optional<Sheet::Place> place_in_plane(Vec2 at) const {
    const WallPart part = part_at(theta_);
    const Vec3 foot =
        middle_ruling_.base + at.x * middle_ruling_.around + (v_ + at.y) * middle_ruling_.direction;
    const double middle = part.from + 0.5 * k_part_span;
    const double theta =
        middle + std::remainder(theta_on_flat(wall_, part.quarter, foot, 0.0) - middle, k_two_pi);
    if (!(theta > part.from && theta < part.from + k_part_span) || !(foot.z < wall_.height()))
      return std::nullopt;
    const Sheet::Ruling ruling = wall_.ruling(theta);
    return Sheet::Place{theta, dot(foot - ruling.base, ruling.direction)};
  }

  // Where the line square to a round wall in the middle, moved by (x, y), meets the surface at depth w: so
  // far under the tangent plane there. With X = x and Y from the apex the parallel cone is, in the frame of
  // the middle,
  //   k l^2 + 2 b l + (cos p x)^2 = 0,  k = cos 2p,  b = (y - apex) sin p cos p,
  // and its small root is the near side of the wall; p = 0 gives r - sqrt(r^2 - x^2).
  double drop(Vec2 at, double w) const {
    if (wall_.is_flat()) return 0.0;
    const double radius = radius_ - w * cosine_;
    const double b = (at.y * sine_ - radius) * cosine_;
    const double k = cosine_ * cosine_ - sine_ * sine_;
    const double cx = cosine_ * at.x;
    const double inside = b * b - k * cx * cx;
    if (!(radius > 0.0) || !(b < 0.0) || !(inside > 0.0)) wider_than_wall();
    return cx * cx / (-b + std::sqrt(inside));
  }

  // The layer at depth w of a convex wall lies behind all its tangent planes moved in by w. The line meets
  // the plane of ruling theta; from where it does the ruling lies so far on that side as the line misses it.
  // That is none on one ruling of those that the line comes to from outside, and changes its sign there.
  Sheet::Place place_by_search(Vec2 at, double w) const {
    const Vec3& axis = middle_ruling_.normal;
    const Vec3 start =
        middle_ruling_.base + at.x * middle_ruling_.around + (v_ + at.y) * middle_ruling_.direction;
    const double side = at.x < 0.0 ? -1.0 : 1.0;
    double near = 0.0;
    double far = k_pi;
    double last = -1.0;
    double turn =
        std::min(1.0, std::fabs(at.x) / std::max(wall_.spread(theta_, v_ + at.y, w), std::fabs(at.x)));
    for (int step = 0; step < 200; ++step) {
      const double theta = theta_ + side * turn;
      const Sheet::Ruling r = wall_.ruling(theta);
      const double facing = dot(r.normal, axis);
      double next = 0.5 * (near + far);
      if (facing > k_grazing) {
        const Vec3 from = start - ((dot(r.normal, start - r.base) + w) / facing) * axis - r.base;
        const double v = dot(from, r.direction);
        const double miss = side * dot(from, r.around);
        const double spread = dot(r.base_slope + v * r.direction_slope - w * r.normal_slope, r.around);
        const bool stalled = turn == last;
        if (std::fabs(miss) < (stalled ? k_stalled : k_met) * wall_.r1()) {
          if (!(spread > 0.0)) wider_than_wall();
          return {theta, v};
        }
        (miss > 0.0 ? near : far) = turn;
        next = turn + miss / spread;
        if (!(next > near && next < far)) next = 0.5 * (near + far);
      } else {
        far = turn;
        next = 0.5 * (near + far);
      }
      if (turn == last) break;
      last = turn;
      turn = next;
    }
    wider_than_wall();
  }

  static constexpr double k_grazing = 1e-6;   // of a line along the surface
  static constexpr double k_met = 1e-13;      // of the radius, by a ruling
  static constexpr double k_stalled = 1e-11;  // where rounding lets it come no nearer
  const Sheet& wall_;
  double theta_, v_;
  std::shared_ptr<const Development> flat_;
  Sheet::Ruling middle_ruling_;
  double sine_, cosine_, radius_;
  Vec3 around_, along_, normal_, middle_;
};

// The edge's place on the duct face, moved outward by `out`.
Sheet::Place edge_on_duct_face(const Near& near, const OpeningTarget& opening, double s, double out) {
  if (!opening.round) {
    const double x = opening.half_around + out;
    const double y = opening.half_along + out;
    const double turn = s - k_two_pi * std::floor(s / k_two_pi);
    const double side = std::floor(turn / (0.5 * k_pi));
    const double share = 2.0 * (turn / (0.5 * k_pi) - side) - 1.0;  // -1 to 1 along the side
    switch (static_cast<int>(side) % 4) {
      case 0:
        return near.place({-share * x, y});
      case 1:
        return near.place({-x, -share * y});
      case 2:
        return near.place({share * x, -y});
      default:
        return near.place({x, share * y});
    }
  }
  const double radius = opening.half_along;
  const Vec2 at{-radius * std::sin(s), radius * std::cos(s)};
  const Sheet::Place place = near.place_under(at, 0.0);
  if (out == 0.0) return place;
  const Vec2 way = near.step_on_flat({-at.y, at.x}, place);
  return near.place(near.flat(place) + (out / norm(way)) * Vec2{way.y, -way.x});
}

}  // namespace

std::shared_ptr<const Development> flat_of(const Sheet& wall, double theta) {
  if (is_round(wall)) return nullptr;
  double seam = theta - k_pi;
  // its parts begin where the integral's steps do when the seam is the middle line of a flat
  constexpr double k_quarter = 0.5 * k_pi;
  if (wall.is_square_to_round()) seam = k_quarter * std::round(theta / k_quarter) - k_pi;
  return std::make_shared<const Development>(wall, 0.0, 1.0, seam);
}

Sheet::Place place_on_opening(const Sheet& wall, const OpeningTarget& opening, double s, double w) {
  const Near near(wall, opening);
  const bool splayed = opening.bevel == OpeningBevel::splayed;
  const double out = opening.setback + (splayed ? w * opening.splay : 0.0);
  Sheet::Place place = edge_on_duct_face(near, opening, s, out);
  if (opening.bevel == OpeningBevel::radial && wall.is_flat())
    throw GeometryError("square to its duct's axis no cut goes through a disc");
  if (opening.bevel == OpeningBevel::radial) {
    const Sheet::Ruling r = wall.ruling(place.theta);
    place.v += w * r.normal.z / r.direction.z;
  }
  if (opening.bevel == OpeningBevel::straight) place = near.place_under(near.across(place), w);
  return place;
}

double flat_half(const Sheet& wall, const OpeningTarget& at, double half_chord) {
  if (wall.is_flat()) return half_chord;
  const Near near(wall, at);
  // the chord grows with its half on the flat as long as neither side has turned a quarter
  const auto chord = [&](double half) {
    return 0.5 * (near.across(near.place({half, 0.0})).x - near.across(near.place({-half, 0.0})).x);
  };
  const double quarter = 0.5 * k_pi * wall.spread(at.theta, at.v, 0.0);
  double high = 0.0;
  constexpr int k_steps = 128;
  for (double widest = 0.0; widest <= half_chord; high += quarter / k_steps) {
    const double next = chord(high + quarter / k_steps);
    if (!(next > widest)) wider_than_wall();
    widest = next;
  }
  double low = std::max(0.0, high - quarter / k_steps);
  for (int step = 0; step < 200 && high - low > 1e-13 * quarter; ++step) {
    const double middle = 0.5 * (low + high);
    (chord(middle) < half_chord ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

}  // namespace linerwright
