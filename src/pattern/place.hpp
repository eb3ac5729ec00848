// From flat contours to the board: the knife's contour, and laying everything down in the positive quadrant.
#pragma once

#include <vector>

#include "linerwright/pattern/pattern.hpp"
#include "sampling.hpp"

namespace linerwright {

// The knife's contours under the cut policy from paired edges: the outline first, then the holes.
Region cut_region(const std::vector<std::vector<FacePair>>& contours, const LinerSpec& liner);

// Mirrors (air face up), turns the ruling that leans by `lean` upright, and moves the pattern so that its
// lower left corner is the origin. Fills in the placement and the sizes. Contours keep their sense.
void lay_down(Pattern& pattern, Face face_up, double lean);

}  // namespace linerwright
