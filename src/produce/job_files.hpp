// The files beside the fittings' folders: list, totals and page of the whole job.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "linerwright/job_list.hpp"
#include "linerwright/make_job.hpp"

namespace linerwright {

// Writes the list, and after it the files (name and bytes) that it names. A file that the list does not know
// is left as it is. Returns a line for each of those, and for what cannot be written.
std::vector<std::string> write_beside(const OutFolder& out, const std::string& list_name, JobList& list,
                                      const std::vector<std::pair<std::string, std::string>>& files);

// Totals of what the list holds; the job gives name, units and rules.
JobTotals totals_of(const JobList& list, const Job& whole, const JobOptions& options);
// The page of what the list holds, with the boards of `plan` if there are any.
std::string page_of(const JobList& list, const Job& whole, const JobTotals& totals, const FloorPlan& plan,
                    std::vector<PageRun> runs);

}  // namespace linerwright
