// The straight collar on a square-to-round's round end, whose lining meets the transition's at equal depth.
#pragma once

#include "common.hpp"

namespace linerwright {

// Adds the collar on the transition `wall`, its joint, and its piece behind the others, with which it is told
// to meet; the reasons where the transition's layers leave nothing of it.
void add_round_collar(Reasons& reasons, Fitting& fitting, int wall, double length);

// Least and greatest height of the joint at a depth, from the circle's plane up the collar.
struct CollarReach {
  double least, most;
};
CollarReach collar_reach(const Sheet& sheet, double w);

}  // namespace linerwright
