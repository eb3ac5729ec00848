// A wall that is partly flat: rulings of the four triangles and four oblique cones between a rectangle and a
// circle.
#include <cmath>
#include <stdexcept>

#include "linerwright/sheet/folds.hpp"
#include "linerwright/sheet/sheet.hpp"

namespace linerwright {

namespace {

constexpr double k_half_part = 0.5 * k_part_span;

// Exact cosine and sine of k quarters.
Vec2 quarter_way(int k) {
  constexpr Vec2 k_ways[] = {{1.0, 0.0}, {0.0, 1.0}, {-1.0, 0.0}, {0.0, -1.0}};
  return k_ways[((k % 4) + 4) % 4];
}

Vec2 left_of(Vec2 way) {
  return {-way.y, way.x};
}

// u / |u| and its derivative.
struct Unit {
  Vec3 at, slope;
  double size;
};
Unit unit(Vec3 u, Vec3 slope) {
  const double size = norm(u);
  const Vec3 at = (1.0 / size) * u;
  return {at, (1.0 / size) * (slope - dot(at, slope) * at), size};
}

}  // namespace

Sheet Sheet::square_to_round(const Frame& frame, double half_x, double half_y, double radius, double height,
                             Vec2 centre, double collar) {
  for (const double size : {half_x, half_y, radius, height})
    if (!(size > 0.0) || !std::isfinite(size))
      throw std::invalid_argument("sides, radius and height must be positive and finite");
  if (!std::isfinite(centre.x) || !std::isfinite(centre.y))
    throw std::invalid_argument("the circle's centre must be finite");
  if (!(collar >= 0.0) || !std::isfinite(collar))
    throw std::invalid_argument("the collar's length must be finite and not negative");
  Sheet sheet(frame, std::hypot(half_x, half_y), radius, height, 0.0);
  sheet.half_ = {half_x, half_y};
  sheet.centre_ = centre;
  sheet.collar_ = collar;
  return sheet;
}

WallPart part_at(double theta) {
  const double turns = std::floor((theta + k_half_part) / k_part_span);
  const double round = turns - 8.0 * std::floor(turns / 8.0);
  const int index = static_cast<int>(round);
  return {index / 2, index % 2 == 0, turns * k_part_span - k_half_part};
}

double corner_theta(int quarter, double turn) {
  return 0.5 * k_pi * quarter + k_half_part + 0.5 * turn;
}

double corner_turn(int quarter, double theta) {
  return 2.0 * (std::remainder(theta - 0.5 * k_pi * quarter - k_part_span, k_two_pi)) + k_part_span;
}

// The plane that touches rectangle and circle on the side N = (cos, sin) stands off the origin by A = C.N in
// the plane z = 0, C the rectangle's corner on that side, and by r + e.N where z = H: N.x + k z = A with k =
// (A - r - e.N) / H. It touches the circle in e + r N, and the rectangle in C alone, or in a side where N is
// square to it: there the plane is one for all rulings. So n ~ (N, k), with N' and k' = (C.N' - e.N') / H.
Sheet::Ruling Sheet::part_ruling(double theta) const {
  const WallPart part = part_at(theta);
  const Vec2 ahead = quarter_way(part.quarter);
  const Vec2 aside = quarter_way(part.quarter + 1);
  const auto half = [&](Vec2 way) { return std::fabs(way.x) * half_.x + std::fabs(way.y) * half_.y; };
  Vec2 way = ahead;
  Vec2 base = half(ahead) * ahead;
  Vec2 base_slope{};
  double turning = 0.0;  // of the normal, per radian of theta
  if (part.flat) {
    const double per_theta = half(aside) / k_half_part;
    base = base + (per_theta * (theta - part.from - k_half_part)) * aside;
    base_slope = per_theta * aside;
  } else {
    const double turn = 2.0 * (theta - part.from);
    way = std::cos(turn) * ahead + std::sin(turn) * aside;
    base = base + half(aside) * aside;
    turning = 2.0;
  }
  const Vec2 way_slope = turning * left_of(way);
  const Vec2 from_centre = base - centre_;

  Ruling r;
  r.base = {base.x, base.y, 0.0};
  r.base_slope = {base_slope.x, base_slope.y, 0.0};
  const Vec2 over = r2_ * way - from_centre;
  const Vec2 over_slope = r2_ * way_slope - base_slope;
  const Unit along = unit({over.x, over.y, height_}, {over_slope.x, over_slope.y, 0.0});
  r.direction = along.at;
  r.direction_slope = along.slope;
  r.length = along.size;
  r.lean = lean_of(dot(from_centre, way) - r2_, height_);
  const Unit outward =
      unit({way.x, way.y, r.lean}, {way_slope.x, way_slope.y, dot(from_centre, way_slope) / height_});
  r.normal = outward.at;
  r.normal_slope = outward.slope;
  r.around = cross(r.direction, r.normal);
  return r;
}

double theta_on_flat(const Sheet& sheet, int flat, Vec3 point, double w) {
  const Sheet::Ruling middle = sheet.ruling(0.5 * k_pi * flat);
  const Vec3 on = point + w * middle.normal;
  const Vec3 tip = middle.base + middle.length * middle.direction;
  const Vec3 foot = tip + (sheet.height() / (sheet.height() - on.z)) * (on - tip);
  // along the side; base_slope is the side's half length per half a part
  const double per_theta = norm(middle.base_slope);
  return 0.5 * k_pi * flat + dot(foot - middle.base, (1.0 / per_theta) * middle.base_slope) / per_theta;
}

}  // namespace linerwright
