// How far cuts lean, and what a cut square to the board leaves instead.
#pragma once

#include <vector>

#include "linerwright/pattern.hpp"
#include "sampling.hpp"

namespace linerwright {

struct TiltPoint {
  FacePair true_edge;
  FacePair cut_edge;  // with the allowances added
  bool leans;         // the edge to the next point; seams and the sides of notches are square to the board
};

// Adds the rows of one contour (or of an open cut across a blank) and widens the pattern's gap, overlap and
// largest tilt by what the contour needs under the policy. Headings follow once the board is laid down.
void add_tilts(Pattern& pattern, int contour, const std::vector<TiltPoint>& points, bool closed,
               CutPolicy policy, const LinerSpec& liner);

}  // namespace linerwright
