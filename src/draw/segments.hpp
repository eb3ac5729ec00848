// Which straight pieces of a drawing meet, and how.
#pragma once

#include <functional>
#include <vector>

#include "linerwright/draw/polygon.hpp"

namespace linerwright {

// A straight piece: the `index`-th of line number `line`, which has `count` pieces.
struct Segment {
  Vec2 a;
  Vec2 b;
  int line = 0;
  int index = 0;
  int count = 0;
  bool closed = false;
};

// Appends the pieces of a line; points closer than `tolerance` to the one before are passed over.
void append_segments(std::vector<Segment>& segments, const std::vector<Vec2>& points, bool closed, int line,
                     double tolerance);

// True when both belong to one line and share an end there.
bool neighbours(const Segment& a, const Segment& b);

enum class Meeting {
  none,
  touch,    // an end of one lies on the other
  cross,    // they pass through each other
  overlap,  // they run along the same line for a stretch
};
// How two segments meet to within `tolerance`, mm. Neighbours only overlap or not: where they join does not
// count.
Meeting meeting(const Segment& a, const Segment& b, double tolerance);

// Calls `visit` once for every two segments whose boxes come within `tolerance`, until it returns false.
void for_near_pairs(const std::vector<Segment>& segments, double tolerance,
                    const std::function<bool(const Segment&, const Segment&)>& visit);

}  // namespace linerwright
