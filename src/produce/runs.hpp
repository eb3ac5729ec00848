// The runs of a job: a folder below `runs` for each.
#pragma once

#include <string>
#include <vector>

#include "linerwright/job_list.hpp"
#include "linerwright/make_job.hpp"

namespace linerwright {

// What became of the runs.
struct MadeRuns {
  std::vector<std::string> notes;     // what a person should know of joints, a line each
  std::vector<std::string> problems;  // why a run was not made, a line each
  int exit_code = 0;
  std::vector<PageRun> made;  // for the page of the job
};

// Makes the runs of the whole job whose fittings the list says are made as they are asked for now.
MadeRuns make_runs(const Job& whole, const JobList& list, const JobOptions& options, const OutFolder& out);

}  // namespace linerwright
