// What was asked of a job's boards against what they were planned with.
#pragma once

#include "made_boards.hpp"
#include "worst.hpp"

namespace linerwright::asked {

// Zero, turn, order, gap, knife table, and of each board its stock's size, trim, thickness and price. Nothing
// where the list does not hold the words.
void prove_board_words(const MadeBoards& made, std::vector<Finding>& findings);

}  // namespace linerwright::asked
