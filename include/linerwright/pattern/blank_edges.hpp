// The outline of a blank of several pieces: its lower and its upper edge between two straight sides.
#pragma once

#include <array>
#include <vector>

#include "linerwright/draw/polygon.hpp"

namespace linerwright {

// Both edges from left to right, the lower one first. Throws std::invalid_argument where the outline has no
// two sides.
std::array<std::vector<Vec2>, 2> blank_edges(Ring outline);

}  // namespace linerwright
