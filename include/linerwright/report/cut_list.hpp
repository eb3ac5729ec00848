// What the cutting floor reads beside the boards' drawings: the cut list, the boards with their yield, and
// what they add to a job's totals. Tables and comma-separated values are in the job's units, JSON in mm, mm2,
// kg and s.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "linerwright/boards/boards.hpp"
#include "linerwright/report/totals.hpp"
#include "linerwright/units/json.hpp"

namespace linerwright {

// A line for each piece in the order it comes free: board, order, tag, piece, copy, the lower left corner and
// size of its box on the board, turned end for end or not.
std::string cut_list_csv(const BoardPlan& plan);
// A line for each board: stock, size, pieces, yield, waste, ways of the tools, time, mass, cost, offcuts; and
// one for all with the bound on the yield.
std::string boards_csv(const BoardPlan& plan);
// The boards for a terminal, at most 100 columns.
std::string boards_table(const BoardPlan& plan);
// Everything: boards, pieces, offcuts, problems; `more` adds keys at the end.
std::string boards_json(const BoardPlan& plan, const std::function<void(JsonWriter&)>& more = {});
// The boards by stock, as totals hold them.
std::vector<TotalsStock> stock_totals(const BoardPlan& plan);

}  // namespace linerwright
