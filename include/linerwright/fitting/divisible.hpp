// Pieces whose division into rings and panels is free, so that a whole job's boards may decide it.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "linerwright/job/job.hpp"

namespace linerwright {

// One ring of a division: its height along the wall, mm, and how many equal panels it comes in.
struct StatedRing {
  double height = 0.0;
  int panels = 1;
  bool operator==(const StatedRing& other) const { return height == other.height && panels == other.panels; }
};
// By piece, from its first end on.
using StatedDivisions = std::map<std::string, std::vector<StatedRing>>;

// The value of a fitting's key `division`, lengths in millimetres.
std::string division_text(const StatedDivisions& divisions);

// What a hole takes of a piece: no cut comes between these heights, counted from the piece's first end on,
// and where its ring comes in equal panels, they are at least so wide. Lengths are millimetres.
struct StretchOfHole {
  double low = 0.0, high = 0.0, panel = 0.0;
};

// A piece of a straight wall between ends square to its axis. Lengths are millimetres.
struct DivisiblePiece {
  std::string piece;
  double length = 0.0;      // of all rings together
  double around = 0.0;      // on the board, of all panels together
  double least = 0.0;       // no ring is lower and no panel narrower
  double end_extra = 0.0;   // board beyond either end
  double butt_extra = 0.0;  // board beyond each side of a joint between rings
  bool fits_whole = true;
  std::vector<StatedRing> today;  // as the request's board divides it where nothing is stated
  std::vector<StretchOfHole> holes{};
};

// Such pieces of a fitting. Empty where the request states its division or has a second layer. Throws as
// make_fitting() does.
std::vector<DivisiblePiece> divisible_pieces(const FittingRequest& request);

// Another way to cut a piece that is none of those: in more panels, or a ring more.
struct OtherDivision {
  std::string piece;
  std::vector<StatedRing> rings;
  double seams = 0.0;      // metres more than today
  bool fits_whole = true;  // the piece, undivided
  bool in_blank = false;   // it comes in one, which would come apart
};

// Such ways that the pieces of a fitting allow. Empty as divisible_pieces() is. Throws as make_fitting()
// does.
std::vector<OtherDivision> other_divisions(const FittingRequest& request);

// Whether a piece with this id, as it is cut, is the whole piece or a ring or panel of it.
bool is_cut_of(const std::string& id, const std::string& whole);

}  // namespace linerwright
