// Contours of both faces into a pattern: the rings, the knife's square cut and the blade's ways.
#pragma once

#include <vector>

#include "linerwright/pattern/pattern.hpp"
#include "outline.hpp"
#include "tilt.hpp"

namespace linerwright {

// Adds a contour, the outline or a hole, and its cut edges to `cut_pairs`.
void add_contour(Pattern& pattern, const FlatContour& contour, const std::vector<TiltRun>& runs, bool hole,
                 const LinerSpec& liner, std::vector<FacePair>& cut_pairs);
// The same of the outline of a flat panel that a straight blade cuts side by side (Outliner::panel_sides).
void add_panel_contour(Pattern& pattern, const FlatContour& contour, const std::vector<StraightSide>& sides,
                       const LinerSpec& liner, std::vector<FacePair>& cut_pairs);
// Adds the holes of an outliner's piece, each a list of pairs more.
void add_holes(Pattern& pattern, const Fitting& fitting, const Piece& piece, const Outliner& outliner,
               std::vector<std::vector<FacePair>>& pairs);

}  // namespace linerwright
