#include "linerwright/reroll/near_lines.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace linerwright {

namespace {

// Of the distance, mm2: a root is taken of the nearest alone.
double squared_from_box(Vec2 p, Vec2 low, Vec2 high) {
  const Vec2 beside{std::max({0.0, low.x - p.x, p.x - high.x}), std::max({0.0, low.y - p.y, p.y - high.y})};
  return dot(beside, beside);
}

double squared_from_segment(Vec2 p, Vec2 a, Vec2 b) {
  const Vec2 along = b - a;
  const double squared = dot(along, along);
  const double share = squared == 0.0 ? 0.0 : std::clamp(dot(p - a, along) / squared, 0.0, 1.0);
  const Vec2 beside = p - (a + share * along);
  return dot(beside, beside);
}

}  // namespace

NearLines::NearLines(const BoardLines& lines) {
  for (const BoardLine& line : lines) {
    const std::size_t n = line.points.size();
    for (std::size_t i = 0; i + (line.closed ? 0 : 1) < n; ++i)
      segments_.push_back({line.points[i], line.points[(i + 1) % n]});
  }
  if (!segments_.empty()) build(0, segments_.size());
}

void NearLines::build(std::size_t first, std::size_t last) {
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

void NearLines::search(std::size_t index, Vec2 p, double& nearest) const {
  const Node& node = nodes_[index];
  if (node.right == 0) {
    for (std::size_t i = node.first; i < node.last; ++i)
      nearest = std::min(nearest, squared_from_segment(p, segments_[i][0], segments_[i][1]));
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
  if (near_away < nearest) search(near, p, nearest);
  if (far_away < nearest) search(far, p, nearest);
}

double NearLines::distance(Vec2 p) const {
  double nearest = std::numeric_limits<double>::infinity();
  if (!nodes_.empty()) search(0, p, nearest);
  return std::sqrt(nearest);
}

}  // namespace linerwright
