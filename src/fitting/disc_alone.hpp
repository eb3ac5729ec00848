// A cap's disc without a ring: what it holds.
#pragma once

#include "linerwright/fitting/fitting.hpp"

namespace linerwright {

// Volume of its layers from depth w on, openings filled.
double disc_volume(const Fitting& fitting, double w);
// Area of its metal before openings are cut.
double disc_area(const Fitting& fitting);

}  // namespace linerwright
