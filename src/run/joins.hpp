// Runs from what fittings say of themselves: joins and turn.
#pragma once

#include <vector>

#include "names.hpp"

namespace linerwright {

// Chains of fittings that say which port their start is joined to. A chain is named after its first fitting
// and goes on where a fitting joins another one's end; what joins any other port starts a run of its own.
std::vector<Run> runs_of_joins(const Job& job, const Counts& counts, std::vector<Problem>& problems);

}  // namespace linerwright
