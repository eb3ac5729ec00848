#include "clearance.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "outlines.hpp"

namespace linerwright {

namespace {

// The hole on the body unrolled at this radius (around, along), turned by whole turns so that it lies about
// `around`.
Outline outline_of(const HoleOf& hole, double around, const DepthPair& depths, double radius) {
  constexpr int k_points = 180;
  Outline outline;
  for (int i = 0; i < k_points; ++i) {
    const Sheet::Place place = place_on(hole.joint, Side::follow, k_two_pi * i / k_points, depths);
    outline.push_back({radius * (around + std::remainder(place.theta - around, k_two_pi)), place.v});
  }
  return outline;
}

// With the board of a square-to-round about that side, the feet of its normals there.
Outline outline_of(const HoleOf& hole, double around, const DepthPair& depths, const Development* board) {
  const Sheet& body = hole.joint.follow.at(0);
  if (board != nullptr) {
    Outline outline;
    for (const Vec2& p : outline_of(hole, around, depths, 1.0)) outline.push_back(board->point(p.x, p.y));
    return outline;
  }
  if (!body.is_cylinder()) {  // the flat of the cone, which goes on beyond a turn
    const Development flat(body, depths.follow, 1.0, 0.0);
    Outline outline;
    for (const Vec2& p : outline_of(hole, around, depths, 1.0)) outline.push_back(flat.point(p.x, p.y));
    return outline;
  }
  return outline_of(hole, around, depths, hole.joint.follow.at(0).r1() - depths.follow);
}

std::shared_ptr<const Development> board_about(const HoleOf& hole) {
  const Sheet& body = hole.joint.follow.at(0);
  return body.is_square_to_round() ? flat_of(body, hole.around) : nullptr;
}

// How far the deepest of an outline's points lies inside the other.
double depth_in(const Outline& points, const Outline& outline) {
  double deepest = 0.0;
  for (const Vec2& p : points) deepest = std::max(deepest, -signed_distance_to(p, outline));
  return deepest;
}

}  // namespace

std::vector<DepthPair> hole_depths(const LinerSpec& liner) {
  std::vector<DepthPair> all{shell_depths(-liner.gauge), shell_depths(0.0), shell_depths(liner.bore_depth())};
  for (const double w : liner.faces())
    all.push_back(liner_depths(liner.joint, Side::follow, w, liner.bore_depth()));
  return all;
}

double holes_apart(const HoleOf& a, const HoleOf& b, const LinerSpec& liner) {
  const double around = a.around + std::remainder(b.around - a.around, k_two_pi);
  const double other_way = around > a.around ? around - k_two_pi : around + k_two_pi;
  double nearest = std::numeric_limits<double>::infinity();
  const std::shared_ptr<const Development> board = board_about(a);
  for (const DepthPair& depths : hole_depths(liner)) {
    const Outline outline = outline_of(a, a.around, depths, board.get());
    for (const double seen_at : {around, other_way})
      nearest = std::min(nearest, distance_between(outline, outline_of(b, seen_at, depths, board.get())));
  }
  return nearest;
}

void require_common_opening(Reasons& reasons, const HoleOf& hole, const LinerSpec& liner,
                            const std::string& name) {
  if (liner.cut != CutPolicy::outer) return;
  constexpr double k_least = 1.0;  // mm that the holes overlap where neither holds the other's middle
  const double radius = hole.joint.follow.at(0).r1() - liner.reference_depth();
  const std::shared_ptr<const Development> board = board_about(hole);
  const auto outline = [&](double w) {
    const DepthPair depths = liner_depths(hole.joint.style, Side::follow, w, liner.bore_depth());
    return board ? outline_of(hole, hole.around, depths, board.get())
                 : outline_of(hole, hole.around, depths, radius);
  };
  const Outline duct = outline(liner.outer_depth);
  const Outline air = outline(liner.inner_depth());
  const Vec2 from = middle_of(duct);
  const Vec2 to = middle_of(air);
  const bool overlap = signed_distance_to(from, air) <= 0.0 || signed_distance_to(to, duct) <= 0.0 ||
                       std::max(depth_in(duct, air), depth_in(air, duct)) >= k_least;
  if (overlap) return;
  const Span duct_along = span_of(duct, {0.0, 1.0});
  const Span air_along = span_of(air, {0.0, 1.0});
  const bool along = duct_along.high <= air_along.low || air_along.high <= duct_along.low;
  const Vec2 direction = along ? Vec2{0.0, 1.0} : Vec2{1.0, 0.0};
  const auto from_to = [&](const Outline& of) {
    const Span span = span_of(of, direction);
    const double zero = board ? dot(from, direction) : along ? 0.0 : radius * hole.around;
    return fmt::format("from {} to {}", reasons.length(span.low - zero), reasons.length(span.high - zero));
  };
  reasons.add(
      "cut", "tilt, mid, duct, air",
      fmt::format("the hole for {} lies {} {} on the duct face and {} on the air face: they have no opening "
                  "in common, so no cut square to the board keeps all material of both",
                  name, from_to(duct),
                  board   ? "from its middle on the board"
                  : along ? "along the body"
                          : "around the body from the branch's direction",
                  from_to(air)));
}

}  // namespace linerwright
