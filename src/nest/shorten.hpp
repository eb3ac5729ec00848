// Strip packing: the same pieces on a shorter sheet.
#pragma once

#include "layout.hpp"

namespace linerwright::nesting {

// How a search is run.
struct Search {
  std::uint64_t seed = 1;
  int threads = 2;
  std::uint64_t steps = 0;  // Layout::steps() that each of the two lanes may spend
};

// Makes the used length of `sheet` as short as the search can; the other sheets keep theirs and may take
// pieces over. The layout must be free of overlaps and stays so. Returns the steps spent by both lanes.
std::uint64_t shorten(Layout& layout, std::size_t sheet, const Search& search);

}  // namespace linerwright::nesting
