// Runs among what is checked.
#pragma once

#include <filesystem>
#include <string>
#include <utility>
#include <vector>

#include "linerwright/check/check.hpp"
#include "linerwright/job/job.hpp"

namespace linerwright {

// The folders of runs in an out folder.
std::vector<std::filesystem::path> runs_below(const std::filesystem::path& out);
// The out folder of a run's folder, where its fittings lie.
std::filesystem::path out_of_run(const std::filesystem::path& run);
// What was made of a job's runs against what it asks for now, by the name of their folders; a run that was
// not made, or that the job has wrong, fails.
using RunResults = std::vector<std::pair<std::string, std::vector<CheckResult>>>;
RunResults runs_as_in_job(const Job& job, const std::filesystem::path& out);

}  // namespace linerwright
