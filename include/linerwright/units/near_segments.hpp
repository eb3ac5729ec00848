// Many distances to the same segments of a plane.
#pragma once

#include <array>
#include <limits>
#include <vector>

#include "linerwright/units/vector.hpp"

namespace linerwright {

// Segments under a tree of boxes, those that follow each other together: a search looks only into boxes that
// are nearer than what it has found.
class NearSegments {
 public:
  explicit NearSegments(std::vector<std::array<Vec2, 2>> segments);
  // From a point to the nearest segment, mm; `within` where none is nearer than that.
  double distance(Vec2 p, double within = std::numeric_limits<double>::infinity()) const;

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
