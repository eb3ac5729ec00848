// Openings in the flats and rounded corners of a square-to-round, as the request lists them.
#pragma once

#include <functional>
#include <vector>

#include "hull_board.hpp"

namespace linerwright::asked {

// Where the normal through a point of an opening's edge stands on the duct face.
struct HullFoot {
  Place at{};
  double phi = 0.0;  // of the plane that touches there
  double v = 0.0;    // on a rounded corner, from the rectangle's
};

struct HullOpening {
  int corner = 0;     // of the rectangle, whose quarter its middle lies in
  bool flat = false;  // on the flat side before that corner, or, `after`, behind it; else on its cone
  bool after = false;
  Place origin{};  // a place that all its planes run through
  // Around the edge, counter-clockwise as seen from outside, at depth w.
  std::function<HullFoot(double psi, double w)> rim;
};

// Of the liner, or those that are cut in the metal, as they are there.
std::vector<HullOpening> hull_openings(const Hull& hull, const Request& request, bool in_metal);

// What an opening takes out between two depths, its edge straight from one to the other; and of the face at
// one depth.
double opening_volume(const Hull& hull, const HullOpening& opening, double from, double to);
double opening_area(const Hull& hull, const HullOpening& opening, double w);

// On a board that its corner is on.
Point on_board(const HullBoard& board, const HullOpening& opening, const HullFoot& foot);

}  // namespace linerwright::asked
