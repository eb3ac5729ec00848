// Ways of a knife that must leave the material where a contour turns sharply.
#pragma once

#include <vector>

#include "linerwright/boards/boards.hpp"

namespace linerwright {

struct CutStretch {
  Polyline line;
  double past = 0.0;  // how much of it runs past its last corner
};

// The way of a cut (its last point is its first where it goes all around) as the knife goes it: parted at
// corners of more than 20 degrees where the knife lifts there. Past a corner it runs on into waste alone:
// not into `piece`, nor over the edge of the board.
std::vector<CutStretch> parted_at_corners(const std::vector<Vec2>& way, const Region& piece,
                                          const Knife& knife, const Box& board);

}  // namespace linerwright
