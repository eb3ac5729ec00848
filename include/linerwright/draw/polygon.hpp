// Polygons on the flat board: measures, thinning, and union, difference and offset.
// Coordinates are millimetres, y up. A ring does not repeat its first point.
#pragma once

#include <optional>
#include <vector>

#include "linerwright/units/vector.hpp"

namespace linerwright {

using Ring = std::vector<Vec2>;

// A piece of board: an outline and the holes in it. Results run counter-clockwise outside and clockwise in
// the holes.
struct Region {
  Ring outer;
  std::vector<Ring> holes;
};

// An upright rectangle from its lower left to its upper right corner.
struct Box {
  Vec2 low{};
  Vec2 high{};
};

// Area of a ring, mm2: positive when it runs counter-clockwise.
double signed_area(const Ring& ring);
// Area of the outline less its holes, mm2, whichever way they run.
double area(const Region& region);
// The smallest box around the points; nothing when there are none.
std::optional<Box> bounding_box(const std::vector<Vec2>& points);
// The smallest box around both.
Box joined(const Box& a, const Box& b);
// Length along the points, mm, and back to the first when `closed`.
double polyline_length(const std::vector<Vec2>& points, bool closed);
// True when p lies inside the ring; on the edge itself the answer may be either.
bool point_in_polygon(Vec2 p, const Ring& ring);
// True when some of the straight piece from a to b lies in the box.
bool meets_box(const Box& box, Vec2 a, Vec2 b);
// True when the line crosses, overlaps or touches itself to within `tolerance` mm other than where neighbours
// join.
bool self_intersects(const std::vector<Vec2>& points, bool closed, double tolerance = 1e-6);

// How far thinning may go.
struct ThinOptions {
  double chord_error = 0.05;             // mm: every dropped vertex stays this close to the result
  double max_turn = 5.0 * k_pi / 180.0;  // rad: the most that the result turns at a vertex on a smooth run
};
// The line with needless vertices dropped. The ends of an open line, the first point of a closed one and
// every vertex where the line turns by more than half of max_turn (a corner) stay. Throws
// std::invalid_argument for options that are not above zero.
std::vector<Vec2> thinned(const std::vector<Vec2>& points, bool closed, const ThinOptions& options = {});

// All board covered by any of the regions. Rings may run either way but not cross themselves. Throws
// GeometryError for coordinates that are not finite or lie beyond a million mm.
std::vector<Region> united(const std::vector<Region>& regions);
// What is left of `from` where none of `cut` covers it. Throws like united().
std::vector<Region> subtracted(const std::vector<Region>& from, const std::vector<Region>& cut);
// What `a` and `b` both cover. Throws like united().
std::vector<Region> intersected(const std::vector<Region>& a, const std::vector<Region>& b);

enum class OffsetCorners { round, mitre, square };
// The regions grown by `distance` mm (shrunk when negative). Rounded corners stay within `chord_error` mm of
// the arc; mitred ones are cut off where they would reach further than twice the distance. Throws like
// united().
std::vector<Region> offset(const std::vector<Region>& regions, double distance,
                           OffsetCorners corners = OffsetCorners::round, double chord_error = 0.01);

}  // namespace linerwright
