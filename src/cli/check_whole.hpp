// Proof of all that a job's out folder holds beside the fittings.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "check_runs.hpp"
#include "linerwright/check/check_job.hpp"

namespace linerwright {

// Fittings made again by their tags, as their folders below `out` say; `as_nested`: divided as the boards
// there were planned with, whether that was made since or not. The last ones are kept.
MakeAgain made_again(const std::filesystem::path& out, bool as_nested = false);

std::string run_name(const std::filesystem::path& run);

// What is proved of boards, runs, totals and the documents beside them, by name. `tags` are the fittings that
// were made there.
RunResults check_whole(const std::filesystem::path& out, const std::vector<std::string>& tags);

}  // namespace linerwright
