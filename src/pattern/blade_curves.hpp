// Both contours of an edge under a blade: places and directions of the path, and feet on the lower contour.
#pragma once

#include <optional>
#include <vector>

#include "blade.hpp"

namespace linerwright {

// A row in the making. Its place on the upper contour and its foot on the lower one are counted in points.
struct BladePlace {
  BladeRow row;
  double k = 0.0;
  double foot = 0.0;
  bool between = false;  // two points
  bool meets = false;    // the line square to the path meets the lower contour
  // Whether the lower end stays on its contour from here to the next row; nothing while that was not looked
  // at.
  std::optional<bool> stays{};
};

// A point of the lower contour.
struct LowerNode {
  double k;
  Vec2 at;
};

// To the left positive.
double turn_between(Vec2 a, Vec2 b);
Vec2 right_of(Vec2 along);
// A direction turned to the left, rad.
Vec2 turned(Vec2 along, double angle);

class BladeCurves {
 public:
  explicit BladeCurves(const BladeEdge& edge);

  std::size_t points() const { return edge_.upper.size(); }
  bool closed() const { return edge_.closed; }
  bool exact() const { return static_cast<bool>(edge_.upper_at) && static_cast<bool>(edge_.lower_at); }
  Vec2 lower(double k) const;
  // How far a point lies from the lower contour, whose point k is near it.
  double off_lower(Vec2 p, double k) const;
  // The first corner of the exact lower contour that lies between two places on it.
  std::optional<double> lower_corner_between(double from, double to) const;
  // The lower contour's points, and some of where an open edge runs on beyond its ends.
  const std::vector<LowerNode>& nodes() const { return nodes_; }
  // Whether a row at k of the upper contour may look for this node: where an open edge runs on beyond an end
  // is a place for rows near that end alone. The piece itself may lie there, for a wide sector comes nearly
  // around.
  bool may_meet(const LowerNode& node, double k) const;

  // The rows at the upper contour's points, without lean; two at a corner.
  std::vector<BladePlace> places() const;
  // The place half way between two of the exact upper contour, without lean.
  BladePlace half_way(double k_a, double k_b) const;
  // Where the line square to the path meets the lower contour as it goes the path's way, nearest by: sets
  // foot and shift.
  void find_foot(BladePlace& place) const;
  // Sets the foot to this place of the lower contour, and the lean to come as near to it as can be.
  void lean_to(BladePlace& place, double foot) const;
  // As find_foot where the foot lies between two others; false where the line does not pass between them.
  bool find_foot_between(BladePlace& place, double from, double to) const;

 private:
  Vec2 chord(std::size_t i) const;
  bool has_both(std::size_t i) const { return edge_.closed || (i > 0 && i + 1 < points()); }
  Vec2 direction(double from, double to) const;
  bool is_corner(std::size_t i) const;
  std::optional<Vec2> smooth_tangent(std::size_t i) const;
  Vec2 end_tangent(std::size_t i, bool ahead) const;
  double refined(const BladePlace& place, const LowerNode& from, const LowerNode& to) const;

  const BladeEdge& edge_;
  std::vector<LowerNode> nodes_;
  std::vector<double> lower_corners_;  // the points there
};

}  // namespace linerwright
