// What a job's boards take: ways of the tools, times, stock and its sums.
#pragma once

#include "made.hpp"
#include "made_boards.hpp"
#include "worst.hpp"

namespace linerwright::asked {

// "board-07.dxf": numbered from 1, with as many digits as the last one has.
std::string board_file(std::size_t index, std::size_t digits);

// Knife, pen and way in the air of each board's drawing, in its order, and the time
// they take. `fitting` says how drawings were written; nothing where there is none.
void prove_ways(const MadeBoards& made, const Files& files, const MadeFitting* fitting,
                std::vector<Finding>& findings);
// Sums over boards in boards.json, totals.json and totals.csv.
void prove_stock(const MadeBoards& made, const Files& above, std::vector<Finding>& findings);

}  // namespace linerwright::asked
