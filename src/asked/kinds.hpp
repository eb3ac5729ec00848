// From the request to walls, open ends and the bore, one source file for each kind.
#pragma once

#include "request.hpp"
#include "wall.hpp"

namespace linerwright::asked {

Wanted wanted_straight(const Request& request);
Wanted wanted_elbow(const Request& request);
Wanted wanted_offset(const Request& request);
Wanted wanted_reducer(const Request& request);
Wanted wanted_tee(const Request& request);
Wanted wanted_tap(const Request& request);
Wanted wanted_wye(const Request& request);
Wanted wanted_cap(const Request& request);
Wanted wanted_square_to_round(const Request& request);  // of which walls say nothing: see hull.hpp
Wanted wanted_path(const Request& request);
Wanted wanted(const Request& request);

// The same as metal and bore have it: a tee's always mitred, a tap's metal on the outside of its duct's.
Wanted shells_of(const Request& request);
// The same as far as the lining covers it.
Wanted covered_of(const Request& request);
Wanted tap_shells(const Request& request, const Wanted& as_written);

// The centreline radius of an elbow's or offset's bends, as written or by its ratio to the diameter.
double centreline_of(const Request& request);

}  // namespace linerwright::asked
