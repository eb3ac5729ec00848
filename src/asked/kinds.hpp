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
Wanted wanted_wye(const Request& request);
Wanted wanted_path(const Request& request);
Wanted wanted(const Request& request);

}  // namespace linerwright::asked
