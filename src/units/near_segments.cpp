#include "linerwright/units/near_segments.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace linerwright {

namespace {

// Of the distance, mm2.
double squared_from_box(Vec2 p, Vec2 low, Vec2 high) {
  const double x = p.x < low.x ? low.x - p.x : p.x > high.x ? p.x - high.x : 0.0;
  const double y = p.y < low.y ? low.y - p.y : p.y > high.y ? p.y - high.y : 0.0;
  return x * x + y * y;
}

double squared_from_segment(Vec2 p, Vec2 a, Vec2 b) {
  const Vec2 along = b - a;
  const double squared = dot(along, along);
  const double share = squared == 0.0 ? 0.0 : std::clamp(dot(p - a, along) / squared, 0.0, 1.0);
  const Vec2 beside = p - (a + share * along);
  return dot(beside, beside);
}

}  // namespace

NearSegments::NearSegments(std::vector<std::array<Vec2, 2>> segments) : segments_(std::move(segments)) {
  if (!segments_.empty()) build(0, segments_.size());
}

void NearSegments::build(std::size_t first, std::size_t last) {
  constexpr std::size_t k_few = 8;
  const std::size_t here = nodes_.size();
  Node node{segments_[first][0], segments_[first][0], first, last};
  for (std::size_t i = first; i < last; ++i)
    for (const Vec2 p : segments_[i]) {
      node.low = {std::min(node.low.x, p.x), std::min(node.low.y, p.y)};
      node.high = {std::max(node.high.x, p.x), std::max(node.high.y, p.y)};
    }
  nodes_.push_back(node);
  if (last - first <= k_few) return;
  const std::size_t middle = first + (last - first) / 2;
  build(first, middle);
  nodes_[here].right = nodes_.size();
  build(middle, last);
}

void NearSegments::search(std::size_t index, Vec2 p, Found& found) const {
  const Node& node = nodes_[index];
  if (node.right == 0) {
    for (std::size_t i = node.first; i < node.last; ++i) {
      const double squared = squared_from_segment(p, segments_[i][0], segments_[i][1]);
      if (squared < found.squared) found = {squared, i};
    }
    return;
  }
  std::size_t near = index + 1;
  std::size_t far = node.right;
  double near_away = squared_from_box(p, nodes_[near].low, nodes_[near].high);
  double far_away = squared_from_box(p, nodes_[far].low, nodes_[far].high);
  if (far_away < near_away) {
    std::swap(near, far);
    std::swap(near_away, far_away);
  }
  if (near_away < found.squared) search(near, p, found);
  if (far_away < found.squared) search(far, p, found);
}

double NearSegments::distance(Vec2 p, double within) const {
  Found found{within * within, segments_.size()};
  if (!nodes_.empty()) search(0, p, found);
  if (found.segment == segments_.size()) return within;
  return distance_to_segment(p, segments_[found.segment][0], segments_[found.segment][1]);
}

}  // namespace linerwright
