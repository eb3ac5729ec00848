// Boards into the folder of results.
#pragma once

#include <string>
#include <vector>

#include "linerwright/output/write_job.hpp"

namespace linerwright {

// Notes the remnants that the job's boards are in their lists, then writes the folder <out>/boards, whole or
// not at all, and the list of what they leave. What people put into an earlier folder stays, and it is left
// alone if it is the same. Returns what a person should know, a line each: what somebody had changed, and
// under which name it was kept. Throws InputError where another job has taken a remnant meanwhile,
// WriteError.
std::vector<std::string> write_all_boards(const Job& job, const JobResult& result,
                                          const WriteOptions& options, const OutFolder& out);

// Boards of a part of the job do not take the place of those of the whole, which the list of this name knows:
// throws InputError where they would.
void require_own_boards(const Job& job, const Job& whole, const WriteOptions& options,
                        const std::string& list_name);

}  // namespace linerwright
