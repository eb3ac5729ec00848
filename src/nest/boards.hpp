// Which boards to take: a first greedy choice, then fewer or cheaper ones.
#pragma once

#include "layout.hpp"
#include "shorten.hpp"

namespace linerwright::nesting {

// The sheet that a board or roll offers.
Sheet fresh_sheet(const NestJob& job, std::size_t stock);
// What the sheet costs with the pieces it carries: a roll by its used length.
double sheet_cost(const NestJob& job, const Layout& layout, std::size_t sheet);
// Index of the sheet whose use should be as short as possible: the least filled roll, or board if there is no
// roll.
std::size_t last_sheet(const NestJob& job, const Layout& layout);

// Takes boards, each time the one that carries most for its cost, until all items lie on one or stock is used
// up. `told` hears of each.
void open_boards(const NestJob& job, Layout& layout, const Told& told = {});

// Tries, within search.steps for each lane, to bring left-over items onto the boards, to do without a board,
// and to take cheaper ones. Returns the steps spent by both lanes; `left` becomes the steps of each lane not
// spent.
std::uint64_t improve_boards(const NestJob& job, Layout& layout, const Search& search, std::uint64_t& left);

}  // namespace linerwright::nesting
