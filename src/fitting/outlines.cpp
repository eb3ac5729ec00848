#include "outlines.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <queue>

namespace linerwright {

double signed_distance_to(Vec2 p, const Outline& outline) {
  double nearest = std::numeric_limits<double>::infinity();
  bool inside = false;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Vec2 from = outline[i];
    const Vec2 to = outline[(i + 1) % outline.size()];
    nearest = std::min(nearest, distance_to_segment(p, from, to));
    if ((from.y > p.y) != (to.y > p.y) && p.x < from.x + (p.y - from.y) / (to.y - from.y) * (to.x - from.x))
      inside = !inside;
  }
  return inside ? -nearest : nearest;
}

double distance_between(const Outline& a, const Outline& b) {
  double nearest = std::numeric_limits<double>::infinity();
  for (const Vec2& p : a) nearest = std::min(nearest, signed_distance_to(p, b));
  for (const Vec2& p : b) nearest = std::min(nearest, signed_distance_to(p, a));
  return std::max(0.0, nearest);
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
