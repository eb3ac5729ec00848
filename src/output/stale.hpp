// Boards against the job as it is now.
#pragma once

#include <string>
#include <vector>

#include "linerwright/output/job_list.hpp"

namespace linerwright {

// In which fittings the boards differ from the job, in words; empty: in none.
std::string older_boards(const ListedBoards& boards, const std::vector<ListedFitting>& fittings);

}  // namespace linerwright
