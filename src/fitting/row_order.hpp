// In which order the pieces of a row go in.
#pragma once

#include <vector>

namespace linerwright {

// Of the metal at a piece's low and high end, mm.
struct RowRadii {
  double low, high;
};

// The piece nearest the middle from which on the others go in from both ends, none through metal that is
// narrower than it is, then its neighbours outward in turn; from the middle itself where there is no such
// piece.
std::vector<int> row_order(const std::vector<RowRadii>& radii);

}  // namespace linerwright
