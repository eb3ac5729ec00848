// Boards as pen and knife go over them: from a nest to the lines of each board.
#pragma once

#include "sequence.hpp"

namespace linerwright {

// Adds the nest's boards to the plan. `sequence` may be empty.
void cut_boards(BoardPlan& plan, const Nested& nested, const Sequence& sequence, const BoardOptions& options);
// Lengths of the tools' ways and the time they take, once all lines of the board are there.
void finish_board(const BoardPlan& plan, PlannedBoard& board);

}  // namespace linerwright
