// Linings that stop short of the metal.
#pragma once

#include "request.hpp"
#include "wall.hpp"

namespace linerwright::asked {

// What was asked for with the lining's ends held back, from what it would be if it reached all ends of the
// metal.
Wanted with_held_lining(const Request& request, Wanted whole);
// The shells of that: metal as far as it goes, the bore as wide as the metal beyond the lining.
Wanted with_bare_ends(const Request& request, const Wanted& whole_shells);

}  // namespace linerwright::asked
