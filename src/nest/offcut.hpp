// What is left of a board.
#pragma once

#include <vector>

#include "linerwright/draw/polygon.hpp"

namespace linerwright::nesting {

// Rectangles of `board` outside all `taken` boxes with no side under `least` mm: the largest first, then the
// largest of what is left beside it, and so on.
std::vector<Box> offcuts(const Box& board, std::vector<Box> taken, double least);

}  // namespace linerwright::nesting
