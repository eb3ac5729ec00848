// Seams between the panels of a collar beside an oblique taper, or a square-to-round. A ruling of the collar
// meets another ruling of the taper at each depth, so the joints' split there moves with the depth, and keeps
// clear of all that do not.
#pragma once

#include "division.hpp"

namespace linerwright {

// The joint, if any, of this wall with an oblique taper that it is the collar of.
const Joint* joint_with_oblique_taper(const Fitting& fitting, const Wall& wall);

// Adds a split of the oblique taper's joints on this ruling of its collar, which follows `joint`.
void add_collar_seam(Fitting& fitting, const Joint& joint, double theta);

// The first of even rulings of the collar that follows the joint, from one on, at which its seam keeps clear
// of the joint's splits; the clearest where none does.
double clear_ruling(const Fitting& fitting, const Joint& joint, double from);

// The division of a collar, its seams turned as far as they must be to keep clear, at every depth, of the
// splits of its joint with an oblique taper and of the taper's own seams; of any other piece, the division as
// it is. Nothing where no turn leaves k_seams_apart.
std::optional<Division> clear_of_taper(const Fitting& fitting, const Piece& piece, const Divider& divider,
                                       const Division& division, const std::vector<double>& taper_seams);
constexpr double k_seams_apart = 1.0;  // mm

}  // namespace linerwright
