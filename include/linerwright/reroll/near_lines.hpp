// Many distances to the same lines of a board.
#pragma once

#include "linerwright/reroll/dxf_lines.hpp"
#include "linerwright/units/near_segments.hpp"

namespace linerwright {

class NearLines {
 public:
  explicit NearLines(const BoardLines& lines);
  // As distance_to_lines: mm; infinite where there is no line.
  double distance(Vec2 p) const { return segments_.distance(p); }

 private:
  NearSegments segments_;
};

}  // namespace linerwright
