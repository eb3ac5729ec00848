// Strip packing: the same pieces on a shorter sheet.
#pragma once

#include <functional>

#include "layout.hpp"

namespace linerwright::nesting {

// Hears of a layout free of overlaps, and how much of the search is done, 0 to 1.
using Told = std::function<void(const Layout&, double)>;

// How a search is run.
struct Search {
  std::uint64_t seed = 1;
  int threads = 2;
  std::uint64_t steps = 0;  // Layout::steps() that each of the two lanes may spend
  Told told{};              // none: nobody is
};

// Makes the used length of `sheet` as short as the search can; the other sheets keep theirs and may take
// pieces over. The layout must be free of overlaps and stays so. Returns the steps spent by both lanes.
std::uint64_t shorten(Layout& layout, std::size_t sheet, const Search& search);

}  // namespace linerwright::nesting
