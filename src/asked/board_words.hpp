// What was asked of a job's boards against what they were planned with.
#pragma once

#include "made_boards.hpp"
#include "worst.hpp"

namespace linerwright::asked {

// Zero, turn, order, gap, knife table, and of each board its stock's size, trim, thickness and price. Nothing
// where the list does not hold the words.
void prove_board_words(const MadeBoards& made, std::vector<Finding>& findings);

// Of a board of this density, kg/m3, or what its stock says of an area, kg; none where the list does not hold
// the words, or it is an offcut of an earlier job.
std::optional<double> mass_asked(const MadeBoards& made, const MadeBoard& board, double density);

}  // namespace linerwright::asked
