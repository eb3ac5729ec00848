// Holes of a piece that comes in rings.
#pragma once

#include "linerwright/nest/division_search.hpp"
#include "random.hpp"

namespace linerwright::nesting {

// Whether the rings leave the item's holes whole: none ends in one, and panels beside it are wide enough.
bool clears_holes(const DivisibleItem& item, const DivisionChoice& rings);

// The end of some ring moved to where a hole begins or ends, a new ring that ends there, or the rings in the
// other order. The item has a hole.
DivisionChoice moved_to_hole(const DivisibleItem& item, DivisionChoice rings, Random& random);

}  // namespace linerwright::nesting
