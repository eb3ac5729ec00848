// What no nest of given pieces can better.
#pragma once

#include <cstddef>
#include <vector>

#include "shape.hpp"

namespace linerwright::nesting {

struct Bound {
  std::size_t boards = 0;   // fewest; 0 where a roll may carry everything
  double stock_area = 0.0;  // mm2, least that could be used
};

// Of the pieces that lie on boards, `counts` of each part. Pieces' areas on whole boards, and rectangles of
// which some can never lie beside or above each other.
Bound bound_of(const NestJob& job, const Shapes& shapes, const std::vector<int>& counts);

}  // namespace linerwright::nesting
