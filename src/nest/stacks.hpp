// Another start: pieces that are nearly rectangles in columns, beside the rest or on boards of their own.
#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "layout.hpp"

namespace linerwright::nesting {

// `nest_rest` places all items of the layout that it is given, which are those that are no rectangles.
// Nothing where fewer than two items are rectangles.
std::optional<Layout> stacked(const NestJob& job, const Shapes& shapes, const PairTable& table,
                              const std::vector<Item>& items, const std::function<void(Layout&)>& nest_rest);

// Cost of all boards that carry a piece.
double layout_cost(const NestJob& job, const Layout& layout);
// Items on no board.
std::size_t left_over(const Layout& layout);

}  // namespace linerwright::nesting
