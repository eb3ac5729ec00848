// Pressed bends one by one.
#pragma once

#include <vector>

#include "linerwright/fitting/fitting.hpp"

namespace linerwright {

// The metal's bends in their order, each with one bend's own frame, the straight way between two as the first
// one's far collar.
std::vector<PressedBend> bends_of(const PressedBend& pressed);
// The frame at a single bend's far end, behind its collar: z leads on out of it, x to the bend's inside.
Frame far_end(const PressedBend& bend);
// Length of the centreline, collars included.
double centreline_of(const PressedBend& pressed);

}  // namespace linerwright
