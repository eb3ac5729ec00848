// The ends of a square-to-round as joints: open ones lie in its own planes, the round one may stand on a
// collar. The mitres of its layers belong to them.
#pragma once

#include <vector>

#include "linerwright/joint/joint.hpp"
#include "linerwright/sheet/folds.hpp"

namespace linerwright {

// Of a square-to-round's two ends the round one lies in this plane.
bool is_round_end(const Sheet& sheet, const PlaneTarget& plane);
bool is_round_end(const Joint& joint);
// Whether it is the lower end of one with a rectangular collar: that one's open end.
bool on_square_collar(const Joint& joint);
// What a joint says of the round end.
RoundEnd round_end_of(const Joint& joint);

// Parameters at which an end of a square-to-round has corners at depth w, its joint's splits among them.
std::vector<double> folded_corners(const Joint& joint, double w);

// The arcs between them; of a round end with a collar those that lie on the collar, without what the mitres
// at the tips of flats take off.
std::vector<Arc> folded_arcs(const Joint& joint, double w);

// The corners as rulings of one of the joint's walls: on the collar's side those of its arcs.
std::vector<double> folded_rulings(const Joint& joint, Side side, double w);

// Rulings of a square-to-round's low end about each corner where no knife square to the duct face's edge
// reaches the end of the air face at depth w: nearer to the corner than the foot of the mitre.
std::vector<Arc> carved_ranges(const Sheet& sheet, double w);
// Whether a ruling lies in one of them.
bool in_ranges(const std::vector<Arc>& ranges, double theta);

}  // namespace linerwright
