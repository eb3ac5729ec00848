// Pieces whose division into rings and panels is free, so that a whole job's boards may decide it.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "linerwright/job.hpp"

namespace linerwright {

// One ring of a division: its height along the wall, mm, and how many equal panels it comes in.
struct StatedRing {
  double height = 0.0;
  int panels = 1;
};
// By piece, from its first end on.
using StatedDivisions = std::map<std::string, std::vector<StatedRing>>;

// The value of a fitting's key `division`, lengths in millimetres.
std::string division_text(const StatedDivisions& divisions);

// A piece between ends square to its axis, without holes or joints of other layers. Lengths are millimetres.
struct DivisiblePiece {
  std::string piece;
  double length = 0.0;      // of all rings together
  double around = 0.0;      // on the board, of all panels together
  double least = 0.0;       // no ring is lower and no panel narrower
  double end_extra = 0.0;   // board beyond either end
  double butt_extra = 0.0;  // board beyond each side of a joint between rings
  bool fits_whole = true;
  std::vector<StatedRing> today;  // as the request's board divides it where nothing is stated
};

// Of a fitting that is one such piece: the piece. Empty for all others, and where the request states its
// division. Throws as make_fitting() does.
std::vector<DivisiblePiece> divisible_pieces(const FittingRequest& request);

}  // namespace linerwright
