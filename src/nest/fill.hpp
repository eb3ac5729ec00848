// The first nest: each piece as far left, then as far down, as it will go.
#pragma once

#include "layout.hpp"

namespace linerwright::nesting {

// Places the unplaced items of `order`, one after the other, on the one sheet, without overlap. What does not
// fit stays unplaced.
void fill_sheet(Layout& layout, std::size_t sheet, const std::vector<std::size_t>& order);

// All items of the layout, the largest first.
std::vector<std::size_t> largest_first(const Layout& layout);

}  // namespace linerwright::nesting
