// A job's boards as pages show them.
#pragma once

#include <vector>

#include "linerwright/boards/boards.hpp"
#include "linerwright/page/page.hpp"

namespace linerwright {

// Each board as it lies to read its labels, its pieces named and listed in the order they come free; without
// the files beside it.
std::vector<PageBoard> page_boards(const BoardPlan& plan);

}  // namespace linerwright
