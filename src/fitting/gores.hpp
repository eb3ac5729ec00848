// Gores in a row: equal cylinders, each mitred against the next, between two open ends.
#pragma once

#include <string>
#include <vector>

#include "common.hpp"

namespace linerwright {

// One gore: z of its frame runs along its axis, its ruling 0 lies toward x.
struct Gore {
  Frame frame;
  std::string role;                   // of its piece
  double below = 0.0, above = 0.0;    // of its axis, from the origin down and up to where it ends
  std::string at_zero, at_half_turn;  // what lies on rulings 0 and pi: "throat", "heel"
};

struct GoreRow {
  double radius;            // of the cylinders that the liner lies on
  double bare_diameter;     // of the metal
  std::vector<Gore> gores;  // from the low end to the high end
  // The plane between a gore and the next, one fewer than there are gores.
  std::vector<PlaneTarget> mitres;
  bool seam_at_zero =
      true;  // where the first gore's seam lies; the next ones alternate, so that cuts are shared
};

// A blank for each row of pieces, from piece `first` on as they follow one another, that meet in mitres of
// equal cylinders: turned half a turn each, they share these cuts.
void add_blanks(Fitting& fitting, std::size_t first);

// Adds walls, joints, pieces with alternating seams, the blank that holds them all, the order in which they
// go in (the middle one first, then outward), and the way of the air.
void add_gore_row(Fitting& fitting, const GoreRow& row);

}  // namespace linerwright
