// Edges that two contours have in common.
#pragma once

#include <vector>

#include "linerwright/draw/polygon.hpp"

namespace linerwright::nesting {

// Part of an edge of one contour that lies on an edge of another, in mm along it from its first point.
struct SharedRun {
  std::size_t edge = 0;
  double from = 0.0;
  double to = 0.0;
};

// The runs of `own` that lie on `other` to within the rounding of nests; shorter ones than a millimetre do
// not count.
std::vector<SharedRun> shared_runs(const Ring& own, const Ring& other);

// What remains of the ring without the runs: open lines in the ring's direction; empty when nothing remains.
std::vector<std::vector<Vec2>> without_runs(const Ring& ring, std::vector<SharedRun> runs);

// The whole ring as one line that starts and ends in the middle of its longest straight run, or at the point
// of the ring beside it where the segment there is short.
std::vector<Vec2> entered_on_the_straight(const Ring& ring);

}  // namespace linerwright::nesting
