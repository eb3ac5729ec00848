// What the lengths of a job say of its units.
#pragma once

#include "linerwright/job/job.hpp"

namespace linerwright {

// Whether every length that a person wrote names inches or feet.
bool all_in_inches(const Job& job);

}  // namespace linerwright
