// Many distances to the same lines of a board.
#pragma once

#include <array>

#include "linerwright/reroll/dxf_lines.hpp"

namespace linerwright {

// The segments of lines under a tree of boxes, neighbours along a line together: a search looks only into
// boxes that are nearer than what it has found.
class NearLines {
 public:
  explicit NearLines(const BoardLines& lines);
  // As distance_to_lines: mm; infinite where there is no line.
  double distance(Vec2 p) const;

 private:
  struct Node {
    Vec2 low, high;
    std::size_t first, last;  // segments
    std::size_t right = 0;    // of a parent: its second child; the first one is the next node
  };
  void build(std::size_t first, std::size_t last);
  struct Found {
    double squared;  // of the distance, mm2: the root is taken of the nearest alone
    std::size_t segment;
  };
  void search(std::size_t node, Vec2 p, Found& found) const;

  std::vector<std::array<Vec2, 2>> segments_;
  std::vector<Node> nodes_;
};

}  // namespace linerwright
