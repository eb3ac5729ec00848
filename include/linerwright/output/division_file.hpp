// boards/division.toml read back by whoever makes the pieces of boards that were planned earlier.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "linerwright/boards/planned_boards.hpp"
#include "linerwright/job/job.hpp"

namespace linerwright {

// Gives each request the division that the boards below `out` were planned with. One that was planned for
// another state of its fitting, or whose fitting states its own, is left out with a note, which is
// returned. Throws InputError where the file cannot be read.
std::vector<std::string> apply_division_file(Job& job, const std::filesystem::path& out);

}  // namespace linerwright
