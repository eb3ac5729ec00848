// Random numbers, how many cases to try, and lengths as they are written.
#pragma once

#include <string>

#include "linerwright/units/units.hpp"
#include "support/chance.hpp"

namespace linerwright::testing {

using support::cases;
using support::Chance;

inline std::string mm(double value) {
  return fixed(value, 3) + "mm";
}

}  // namespace linerwright::testing
