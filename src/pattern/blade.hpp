// How a straight blade square to its path must lean to follow the contours of both faces at once: plane
// geometry of one edge, in its own coordinates.
#pragma once

#include <functional>
#include <vector>

#include "linerwright/units/vector.hpp"

namespace linerwright {

// An edge of a piece, in the sense the knife goes.
struct BladeEdge {
  std::vector<Vec2> upper;  // what the knife follows, on the face that is up
  std::vector<Vec2> lower;  // of the lower face, point by point
  bool closed = false;      // the last point leads to the first
  // Either contour at point k (0 to points - 1) and between points, where they are known exactly; an open
  // edge's run on beyond its ends. Both may be empty: then the points are joined, and the ends carried on
  // straight.
  std::function<Vec2(double)> upper_at{};
  std::function<Vec2(double)> lower_at{};
};

// One place of the blade. Between rows its place, direction and lean change evenly; at a corner of the edge
// two rows have the same place.
struct BladeRow {
  Vec2 at;
  Vec2 along;    // unit vector of the path
  double shift;  // mm by which the blade's lower end lies to the right of the path
  bool cuts;     // the lower end follows the lower contour
  double left;   // mm between the lower contour and the lower end's way, here; 0 within k_reached
};

// Nearer than this the lower end counts as on its contour: what both contours' chords may leave.
constexpr double k_reached = 0.1;  // mm

// Rows along an edge, as many as the lower end needs to stay on its contour between them. Where the path
// bends so tightly toward the lower end that it would run backwards, the blade leans no further than keeps it
// on the spot; where the line square to the path misses the lower contour, the lean goes evenly from the last
// that meets it to the next.
std::vector<BladeRow> blade_rows(const BladeEdge& edge, double thickness);

}  // namespace linerwright
