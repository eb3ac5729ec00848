// Taking overlapping pieces apart.
#pragma once

#include "layout.hpp"

namespace linerwright::nesting {

struct Patience {
  int quiet_sweeps = 100;   // sweeps without improvement until the search goes back to its best state
  int returns = 3;          // how often it may go back in vain
  std::uint64_t steps = 0;  // Layout::steps() at which to stop
};

// Moves overlapping items until none overlap: true. False when patience ran out; the layout is then the state
// of least overlap that was met.
bool separate(Layout& layout, Random& random, const Patience& patience);

}  // namespace linerwright::nesting
