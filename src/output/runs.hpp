// The runs of a job: a folder below `runs` for each.
#pragma once

#include <string>
#include <vector>

#include "linerwright/output/job_list.hpp"
#include "linerwright/output/write_job.hpp"

namespace linerwright {

// Makes the runs of the whole job whose fittings the list says are made as they are asked for now; what a
// person should know of joints, and why a run was not made, goes to the result. Returns those that were made.
std::vector<PageRun> add_runs(const Job& whole, JobList& list, const WriteOptions& options,
                              const OutFolder& out, JobResult& result);

}  // namespace linerwright
