// Is what an earlier run left still what this one would make?
#pragma once

#include "linerwright/produce.hpp"

namespace linerwright {

// True if the folder holds a whole, passing result made from the same; then fills in what was made.
bool earlier_result(const std::filesystem::path& folder, const std::string& from, Made* made);

}  // namespace linerwright
