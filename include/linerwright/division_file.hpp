// boards/division.toml: how a nest of the whole job divides its pieces, for whoever makes them later.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "linerwright/job.hpp"

namespace linerwright {

constexpr const char* k_division_file = "division.toml";

// The file's text, of the requests whose division was planned. Empty where there are none.
std::string division_file(const std::vector<FittingRequest>& requests);

// Gives each request the division that the boards below `out` were planned with. One that was planned for
// another state of its fitting, or whose fitting states its own, is left out with a note, which is
// returned. Throws InputError where the file cannot be read.
std::vector<std::string> apply_division_file(Job& job, const std::filesystem::path& out);

}  // namespace linerwright
