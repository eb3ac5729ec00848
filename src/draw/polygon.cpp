#include "linerwright/draw/polygon.hpp"

#include <algorithm>

namespace linerwright {

double signed_area(const Ring& ring) {
  double twice = 0.0;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    // Measured from the first point, so that a small ring far from the origin keeps its digits.
    const Vec2 a = ring[i] - ring[0];
    const Vec2 b = ring[(i + 1) % ring.size()] - ring[0];
    twice += cross(a, b);
  }
  return 0.5 * twice;
}

double area(const Region& region) {
  double total = std::abs(signed_area(region.outer));
  for (const Ring& hole : region.holes) total -= std::abs(signed_area(hole));
  return total;
}

std::optional<Box> bounding_box(const std::vector<Vec2>& points) {
  if (points.empty()) return std::nullopt;
  Box box{points.front(), points.front()};
  for (const Vec2 p : points) box = joined(box, {p, p});
  return box;
}

Box joined(const Box& a, const Box& b) {
  return {{std::min(a.low.x, b.low.x), std::min(a.low.y, b.low.y)},
          {std::max(a.high.x, b.high.x), std::max(a.high.y, b.high.y)}};
}

double polyline_length(const std::vector<Vec2>& points, bool closed) {
  double length = 0.0;
  for (std::size_t i = 1; i < points.size(); ++i) length += distance(points[i - 1], points[i]);
  if (closed && points.size() > 1) length += distance(points.back(), points.front());
  return length;
}

bool point_in_polygon(Vec2 p, const Ring& ring) {
  bool inside = false;
  for (std::size_t i = 0, next = 1; i < ring.size(); ++i, ++next) {
    const Vec2 a = ring[i];
    const Vec2 b = ring[next == ring.size() ? 0 : next];
    if ((a.y > p.y) == (b.y > p.y)) continue;
    const double x = a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x);
    if (p.x < x) inside = !inside;
  }
  return inside;
}

bool meets_box(const Box& box, Vec2 a, Vec2 b) {
  // nearly all lie wholly beside it
  if (std::max(a.x, b.x) < box.low.x || std::min(a.x, b.x) > box.high.x || std::max(a.y, b.y) < box.low.y ||
      std::min(a.y, b.y) > box.high.y)
    return false;
  // clip the segment by the box's four sides
  double from = 0.0;
  double to = 1.0;
  const Vec2 d = b - a;
  const auto clip = [&](double start, double step, double low, double high) {
    if (step == 0.0) return start >= low && start <= high;
    double t0 = (low - start) / step;
    double t1 = (high - start) / step;
    if (t0 > t1) std::swap(t0, t1);
    from = std::max(from, t0);
    to = std::min(to, t1);
    return from <= to;
  };
  return clip(a.x, d.x, box.low.x, box.high.x) && clip(a.y, d.y, box.low.y, box.high.y);
}

}  // namespace linerwright
