#include "linerwright/pattern/blank_edges.hpp"

#include <algorithm>
#include <stdexcept>

#include "linerwright/joint/joint.hpp"

namespace linerwright {

std::array<std::vector<Vec2>, 2> blank_edges(Ring outline) {
  constexpr double k_beside = 2e-3;  // mm: what a file's decimals leave of a side
  if (signed_area(outline) < 0.0) std::reverse(outline.begin(), outline.end());
  const auto box = bounding_box(outline);
  if (!box) throw std::invalid_argument("the outline of a blank has no points");
  // the corner at one end of the left or right side
  enum class Beside { left, right };
  const auto corner = [&](Beside side, End end) {
    const bool right = side == Beside::right;
    const bool upper = end == End::high;
    std::size_t best = outline.size();
    for (std::size_t i = 0; i < outline.size(); ++i) {
      const bool on_side =
          right ? outline[i].x > box->high.x - k_beside : outline[i].x < box->low.x + k_beside;
      if (on_side && (best == outline.size() || (outline[i].y > outline[best].y) == upper)) best = i;
    }
    return best;
  };
  // counter-clockwise: below from left to right, above from right to left
  const auto line = [&](std::size_t from, std::size_t to) {
    std::vector<Vec2> points{outline[from]};
    for (std::size_t i = from; i != to;) {
      i = (i + 1) % outline.size();
      points.push_back(outline[i]);
    }
    return points;
  };
  const std::size_t below[] = {corner(Beside::left, End::low), corner(Beside::right, End::low)};
  const std::size_t above[] = {corner(Beside::left, End::high), corner(Beside::right, End::high)};
  if (below[0] == above[0] || below[1] == above[1])
    throw std::invalid_argument("the outline of a blank has no two straight sides");
  std::array<std::vector<Vec2>, 2> edges{line(below[0], below[1]), line(above[1], above[0])};
  std::reverse(edges[1].begin(), edges[1].end());
  return edges;
}

}  // namespace linerwright
