// Where a piece's liner is pinned to the metal.
#pragma once

#include <string>

#include "flat.hpp"
#include "readers.hpp"
#include "worst.hpp"

namespace linerwright::asked {

// The crosses on a cylinder's pattern: none up to `pins_above`; else columns `pin_edge` off the seam, or a
// quarter of the way around where that is less, and no more than `pin_around` apart, in each column pins
// `pin_edge` off both ends and no more than `pin_along` apart. Where a hole is, or an end so near the other
// that none is left, nothing is asked for.
void prove_pins(const Drawn& drawn, const Part& part, const Request& request, const Flat& flat, double lift,
                const std::string& where, Worst& pins);

}  // namespace linerwright::asked
