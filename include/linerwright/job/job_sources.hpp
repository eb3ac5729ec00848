// A job whose files do not lie on a disk.
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "linerwright/job/job.hpp"

namespace linerwright {

// The text of the schedule of that path. Throws InputError where there is none.
using FileReader = std::function<std::string(const std::string& path)>;

// read_job_text() with schedules from `schedules`.
Job read_job_from(std::string_view text, const std::string& file, const JobSchema& schema,
                  const FileReader& schedules);

// The keys of [job], [[schedule]] and [[default]], which are the same for every job.
const std::vector<KeySpec>& job_keys();

}  // namespace linerwright
