// The offcuts of a plan, named and labelled.
#pragma once

#include <string>

#include "linerwright/boards/boards.hpp"

namespace linerwright {

// Names the offcuts of all boards, the same ones for the same boards of the same job, and has the pen write
// the names on them, after the pieces' own lines.
void label_remnants(BoardPlan& plan, const std::string& job);

}  // namespace linerwright
