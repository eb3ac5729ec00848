// The division that a request states itself, piece by piece, as a nest of a whole job writes it.
#pragma once

#include "common.hpp"
#include "linerwright/fitting/divisible.hpp"

namespace linerwright {

// The key `division`: "1: 44in + 4in / 2; 3: 20in + 10in", by piece. Empty where nothing is stated. What
// cannot be read lands in `reasons`.
StatedDivisions stated_divisions(const FittingRequest& request, Reasons& reasons);

}  // namespace linerwright
