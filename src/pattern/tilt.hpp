// How far cuts lean, and what a cut square to the board leaves instead.
#pragma once

#include <array>
#include <functional>
#include <vector>

#include "linerwright/pattern/pattern.hpp"
#include "sampling.hpp"

namespace linerwright {

// The exact edge of a face of the board at a parameter.
using EdgeOfFace = std::function<Vec2(double, Face)>;

// A stretch of a contour, in its sense.
struct TiltRun {
  std::vector<FacePair> points;  // with the allowances added
  bool leans = true;             // seams and the sides of notches are square to the board
  bool closed = false;
  bool in_corners = false;  // an open one ends in corners of a hole, not at the board's edge
  // Beside points, and the exact edges, beyond both ends, too; may be empty.
  std::vector<double> parameters{};
  EdgeOfFace at{};
};

// A side that is straight on both faces, in the sense of its contour. Beside an end the contours may leave it
// by so much (mm), which no straight blade follows.
struct StraightSide {
  FacePair from, to;
  double beside_from = 0.0;
  double beside_to = 0.0;
};

struct TiltPoint {
  FacePair true_edge;
  bool leans;  // the edge to the next point; seams and the sides of notches are square to the board
};

// The runs of an outline whose first `low_points` lie on its low end: that end, a seam, the high end, a seam.
// `at` has the exact edge of either end.
std::vector<TiltRun> runs_around(const std::vector<FacePair>& points, const std::vector<double>& parameters,
                                 std::size_t low_points, const std::array<EdgeOfFace, 2>& at);

// Adds the rows of one contour (or of an open cut across a blank) on the flat development, and widens the
// pattern's largest tilt.
void add_tilts(Pattern& pattern, int contour, const std::vector<TiltRun>& runs, const LinerSpec& liner);

// The same of one straight side: the blade leans evenly from its one corner to the other.
void add_side_tilts(Pattern& pattern, const StraightSide& side, const LinerSpec& liner);

// Widens the pattern's gap and overlap by what a cut square to the board leaves along this contour under the
// policy.
void add_square_cut(Pattern& pattern, const std::vector<TiltPoint>& points, bool closed, CutPolicy policy,
                    const LinerSpec& liner);

}  // namespace linerwright
