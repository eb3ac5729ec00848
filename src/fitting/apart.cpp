#include "apart.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace linerwright {

namespace {

using Outline = std::vector<Vec2>;  // closed; the first point is not repeated

// The hole on the unrolled body (around, along), turned by whole turns so that it lies about `around`.
Outline outline_of(const HoleOf& hole, double around, const DepthPair& depths) {
  constexpr int k_points = 180;
  const double radius = hole.joint.follow.at(0).r1() - depths.follow;
  Outline outline;
  for (int i = 0; i < k_points; ++i) {
    const Sheet::Place place = place_on(hole.joint, Side::follow, k_two_pi * i / k_points, depths);
    outline.push_back({radius * (around + std::remainder(place.theta - around, k_two_pi)), place.v});
  }
  return outline;
}

double distance_to(Vec2 p, Vec2 from, Vec2 to) {
  const Vec2 along = to - from;
  const double square = dot(along, along);
  const double share = square > 0.0 ? std::clamp(dot(p - from, along) / square, 0.0, 1.0) : 0.0;
  return distance(p, from + share * along);
}

// Distance of a point from an outline; 0 inside (even-odd rule).
double distance_to(Vec2 p, const Outline& outline) {
  double nearest = std::numeric_limits<double>::infinity();
  bool inside = false;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Vec2 from = outline[i];
    const Vec2 to = outline[(i + 1) % outline.size()];
    nearest = std::min(nearest, distance_to(p, from, to));
    if ((from.y > p.y) != (to.y > p.y) && p.x < from.x + (p.y - from.y) / (to.y - from.y) * (to.x - from.x))
      inside = !inside;
  }
  return inside ? 0.0 : nearest;
}

double distance_between(const Outline& a, const Outline& b) {
  double nearest = std::numeric_limits<double>::infinity();
  for (const Vec2& p : a) nearest = std::min(nearest, distance_to(p, b));
  for (const Vec2& p : b) nearest = std::min(nearest, distance_to(p, a));
  return nearest;
}

double distance_to(Vec3 p, Vec3 from, Vec3 to) {
  const Vec3 along = to - from;
  const double square = dot(along, along);
  const double share = square > 0.0 ? std::clamp(dot(p - from, along) / square, 0.0, 1.0) : 0.0;
  return distance(p, from + share * along);
}

}  // namespace

std::vector<DepthPair> hole_depths(const LinerSpec& liner) {
  std::vector<DepthPair> all{shell_depths(-liner.gauge), shell_depths(0.0), shell_depths(liner.thickness)};
  for (const double w : {0.0, liner.thickness})
    all.push_back(liner_depths(liner.joint, Side::follow, w, liner.thickness));
  return all;
}

double holes_apart(const HoleOf& a, const HoleOf& b, const LinerSpec& liner) {
  const double around = a.around + std::remainder(b.around - a.around, k_two_pi);
  const double other_way = around > a.around ? around - k_two_pi : around + k_two_pi;
  double nearest = std::numeric_limits<double>::infinity();
  for (const DepthPair& depths : hole_depths(liner)) {
    const Outline outline = outline_of(a, a.around, depths);
    for (const double seen_at : {around, other_way})
      nearest = std::min(nearest, distance_between(outline, outline_of(b, seen_at, depths)));
  }
  return nearest;
}

// The common perpendicular where its feet lie on both lines, else the nearest of the four ends.
double lines_apart(Vec3 a0, Vec3 a1, Vec3 b0, Vec3 b1) {
  double nearest = std::min(
      {distance_to(a0, b0, b1), distance_to(a1, b0, b1), distance_to(b0, a0, a1), distance_to(b1, a0, a1)});
  const Vec3 a = a1 - a0;
  const Vec3 b = b1 - b0;
  const Vec3 between = b0 - a0;
  const Vec3 across = cross(a, b);
  const double square = dot(across, across);
  if (square > 1e-24 * dot(a, a) * dot(b, b)) {
    const double on_a = dot(cross(between, b), across) / square;
    const double on_b = dot(cross(between, a), across) / square;
    if (on_a >= 0.0 && on_a <= 1.0 && on_b >= 0.0 && on_b <= 1.0)
      nearest = std::min(nearest, std::fabs(dot(between, across)) / std::sqrt(square));
  }
  return nearest;
}

}  // namespace linerwright
