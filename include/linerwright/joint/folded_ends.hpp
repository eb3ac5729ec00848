// The open ends of a square-to-round as joints: they lie in its own planes, and the mitres of its layers
// belong to them.
#pragma once

#include <vector>

#include "linerwright/joint/joint.hpp"

namespace linerwright {

// Of a square-to-round's two ends the round one lies in this plane.
bool is_round_end(const Sheet& sheet, const PlaneTarget& plane);

// Parameters at which an end of a square-to-round has corners at depth w, its joint's splits among them.
std::vector<double> folded_corners(const Joint& joint, double w);

// The arcs between them.
std::vector<Arc> folded_arcs(const Joint& joint, double w);

// Rulings of a square-to-round's low end about each corner where no knife square to the duct face's edge
// reaches the end of the air face at depth w: nearer to the corner than the foot of the mitre.
std::vector<Arc> carved_ranges(const Sheet& sheet, double w);
// Whether a ruling lies in one of them.
bool in_ranges(const std::vector<Arc>& ranges, double theta);

}  // namespace linerwright
