#include "outlines.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <queue>
#include <utility>

#include "linerwright/units/near_segments.hpp"

namespace linerwright {

namespace {

// How far a point lies beside the upright box over two corners; none of what the box holds is nearer.
double outside_box(Vec2 p, Vec2 a, Vec2 b) {
  return std::max({std::min(a.x, b.x) - p.x, p.x - std::max(a.x, b.x), std::min(a.y, b.y) - p.y,
                   p.y - std::max(a.y, b.y)});
}

NearSegments edges_of(const Outline& outline) {
  std::vector<std::array<Vec2, 2>> edges;
  for (std::size_t i = 0; i < outline.size(); ++i)
    edges.push_back({outline[i], outline[(i + 1) % outline.size()]});
  return NearSegments(std::move(edges));
}

// The nearest of what was found so far and of the points' distances from the outline.
double nearest_of(const Outline& points, const Outline& outline, double nearest) {
  const Span x = span_of(outline, {1.0, 0.0});
  const Span y = span_of(outline, {0.0, 1.0});
  const NearSegments edges = edges_of(outline);
  for (const Vec2& p : points) {
    const double beside = outside_box(p, {x.low, y.low}, {x.high, y.high});
    if (beside > 0.0 && beside < nearest) nearest = edges.distance(p, nearest);
    if (beside <= 0.0) nearest = std::min(nearest, signed_distance_to(p, outline));
  }
  return nearest;
}

}  // namespace

double signed_distance_to(Vec2 p, const Outline& outline) {
  double nearest = std::numeric_limits<double>::infinity();
  bool inside = false;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Vec2 from = outline[i];
    const Vec2 to = outline[(i + 1) % outline.size()];
    if (outside_box(p, from, to) < nearest) nearest = std::min(nearest, distance_to_segment(p, from, to));
    if ((from.y > p.y) != (to.y > p.y) && p.x < from.x + (p.y - from.y) / (to.y - from.y) * (to.x - from.x))
      inside = !inside;
  }
  return inside ? -nearest : nearest;
}

double distance_between(const Outline& a, const Outline& b) {
  const double from_b = nearest_of(a, b, std::numeric_limits<double>::infinity());
  return std::max(0.0, nearest_of(b, a, from_b));
}

Span span_of(const Outline& outline, Vec2 direction) {
  Span span{std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()};
  for (const Vec2& p : outline) {
    span.low = std::min(span.low, dot(p, direction));
    span.high = std::max(span.high, dot(p, direction));
  }
  return span;
}

Vec2 middle_of(const Outline& outline) {
  Vec2 sum{};
  for (const Vec2& p : outline) sum = sum + p;
  return (1.0 / static_cast<double>(outline.size())) * sum;
}

namespace {

struct Square {
  Vec2 middle;
  double half;   // of a side
  double depth;  // of its middle in all outlines
  double most() const { return depth + std::sqrt(2.0) * half; }
  bool operator<(const Square& other) const { return most() < other.most(); }
};

}  // namespace

double widest_circle_in(const std::vector<Outline>& outlines) {
  constexpr double k_fine = 0.01;  // mm
  const auto square_at = [&](Vec2 middle, double half) {
    double depth = std::numeric_limits<double>::infinity();
    for (const Outline& outline : outlines) depth = std::min(depth, -signed_distance_to(middle, outline));
    return Square{middle, half, depth};
  };
  const Span x = span_of(outlines.front(), {1.0, 0.0});
  const Span y = span_of(outlines.front(), {0.0, 1.0});
  std::priority_queue<Square> open;
  open.push(square_at({0.5 * (x.low + x.high), 0.5 * (y.low + y.high)},
                      0.5 * std::max(x.high - x.low, y.high - y.low)));
  double widest = 0.0;
  while (!open.empty() && open.top().most() > widest + k_fine) {
    const Square square = open.top();
    open.pop();
    widest = std::max(widest, square.depth);
    const double half = 0.5 * square.half;
    for (const Vec2 corner : {Vec2{-half, -half}, {half, -half}, {-half, half}, {half, half}})
      open.push(square_at(square.middle + corner, half));
  }
  return widest;
}

}  // namespace linerwright
