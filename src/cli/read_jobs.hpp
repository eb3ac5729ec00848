// Several job files as one job.
#pragma once

#include <string>
#include <vector>

#include "linerwright/job/job.hpp"

namespace linerwright {

// Each file stands by itself: its [job] and [liner] are those of its own fittings. Tables for the whole job
// ([air], [totals] ...) may stand in one of them, or alike in several; stock adds up. Throws InputError.
Job read_jobs(const std::vector<std::string>& files, const JobDefaults& defaults);

}  // namespace linerwright
