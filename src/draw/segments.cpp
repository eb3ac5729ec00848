#include "segments.hpp"

#include <algorithm>
#include <numeric>

namespace linerwright {

void append_segments(std::vector<Segment>& segments, const std::vector<Vec2>& points, bool closed, int line,
                     double tolerance) {
  std::vector<Vec2> kept;
  for (const Vec2 p : points) {
    if (kept.empty() || distance(kept.back(), p) > tolerance) kept.push_back(p);
  }
  while (closed && kept.size() > 1 && distance(kept.back(), kept.front()) <= tolerance) kept.pop_back();
  if (kept.size() < 2) return;
  const std::size_t count = closed ? kept.size() : kept.size() - 1;
  for (std::size_t i = 0; i < count; ++i) {
    segments.push_back(
        {kept[i], kept[(i + 1) % kept.size()], line, static_cast<int>(i), static_cast<int>(count), closed});
  }
}

bool neighbours(const Segment& a, const Segment& b) {
  if (a.line != b.line) return false;
  const int apart = std::abs(a.index - b.index);
  return apart == 1 || (a.closed && apart == a.count - 1);
}

namespace {

// The two run along one line, no further apart than the tolerance, for longer than a touch can account for.
bool overlapping(const Segment& longer, const Segment& shorter, double tolerance) {
  const Vec2 along = (1.0 / distance(longer.a, longer.b)) * (longer.b - longer.a);
  double from = dot(shorter.a - longer.a, along);
  double to = dot(shorter.b - longer.a, along);
  const double from_off = cross(along, shorter.a - longer.a);
  const double to_off = cross(along, shorter.b - longer.a);
  if (from == to) return false;
  const double slope = (to_off - from_off) / (to - from);
  const double start = std::max(0.0, std::min(from, to));
  const double end = std::min(distance(longer.a, longer.b), std::max(from, to));
  if (end - start <= 10.0 * tolerance) return false;
  const auto off = [&](double t) { return std::abs(from_off + slope * (t - from)); };
  return off(start) <= tolerance && off(end) <= tolerance;
}

// True when all of b lies on one side of the endless line through a, further off than the tolerance: decides
// most pairs without a root.
bool clear_of(const Segment& a, const Segment& b, double tolerance) {
  const Vec2 along = a.b - a.a;
  const double limit = tolerance * (std::abs(along.x) + std::abs(along.y));
  const double first = cross(along, b.a - a.a);
  const double second = cross(along, b.b - a.a);
  return (first > limit && second > limit) || (first < -limit && second < -limit);
}

}  // namespace

Meeting meeting(const Segment& a, const Segment& b, double tolerance) {
  if (clear_of(a, b, tolerance) || clear_of(b, a, tolerance)) return Meeting::none;
  const bool a_longer = distance(a.a, a.b) >= distance(b.a, b.b);
  if (overlapping(a_longer ? a : b, a_longer ? b : a, tolerance)) return Meeting::overlap;
  if (neighbours(a, b)) return Meeting::none;
  if (distance_to_segment(a.a, b.a, b.b) <= tolerance || distance_to_segment(a.b, b.a, b.b) <= tolerance ||
      distance_to_segment(b.a, a.a, a.b) <= tolerance || distance_to_segment(b.b, a.a, a.b) <= tolerance) {
    return Meeting::touch;
  }
  const auto side = [](const Segment& s, Vec2 p) { return cross(s.b - s.a, p - s.a) > 0.0; };
  return side(a, b.a) != side(a, b.b) && side(b, a.a) != side(b, a.b) ? Meeting::cross : Meeting::none;
}

// A sweep along the longer side of the drawing: only segments that reach the present place are compared.
void for_near_pairs(const std::vector<Segment>& segments, double tolerance,
                    const std::function<bool(const Segment&, const Segment&)>& visit) {
  if (segments.empty()) return;
  Box all{segments.front().a, segments.front().a};
  std::vector<Box> boxes;
  boxes.reserve(segments.size());
  for (const Segment& s : segments) {
    boxes.push_back(joined({s.a, s.a}, {s.b, s.b}));
    all = joined(all, boxes.back());
  }
  if (all.high.y - all.low.y > all.high.x - all.low.x) {
    for (Box& box : boxes) {
      std::swap(box.low.x, box.low.y);
      std::swap(box.high.x, box.high.y);
    }
  }
  std::vector<std::size_t> order(segments.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(), [&](std::size_t i, std::size_t j) {
    return boxes[i].low.x != boxes[j].low.x ? boxes[i].low.x < boxes[j].low.x : i < j;
  });
  std::vector<std::size_t> reaching;
  for (const std::size_t i : order) {
    for (std::size_t k = 0; k < reaching.size();) {
      const std::size_t j = reaching[k];
      if (boxes[j].high.x < boxes[i].low.x - tolerance) {
        reaching[k] = reaching.back();
        reaching.pop_back();
        continue;
      }
      ++k;
      if (boxes[j].high.y < boxes[i].low.y - tolerance || boxes[j].low.y > boxes[i].high.y + tolerance)
        continue;
      if (!visit(segments[std::min(i, j)], segments[std::max(i, j)])) return;
    }
    reaching.push_back(i);
  }
}

bool self_intersects(const std::vector<Vec2>& points, bool closed, double tolerance) {
  std::vector<Segment> segments;
  append_segments(segments, points, closed, 0, tolerance);
  bool found = false;
  for_near_pairs(segments, tolerance, [&](const Segment& a, const Segment& b) {
    found = meeting(a, b, tolerance) != Meeting::none;
    return !found;
  });
  return found;
}

}  // namespace linerwright
