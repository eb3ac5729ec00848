// A QR code (ISO/IEC 18004) as lines for a pen.
#pragma once

#include <string>
#include <vector>

#include "linerwright/units/vector.hpp"

namespace linerwright {

// A side of the code in squares, its white border of four included.
struct CodeSquares {
  std::vector<std::vector<bool>> dark;  // row by row from above, without the border
  std::size_t side() const { return dark.size() + 8; }
};

// Throws std::invalid_argument where the text is too long for any code.
CodeSquares code_squares(const std::string& text);
// Lines that a pen of this width fills the dark squares with; `middle` of the code, `square` mm a side, which
// is no less than the pen's width.
std::vector<std::vector<Vec2>> code_lines(const CodeSquares& code, Vec2 middle, double square, double pen);

}  // namespace linerwright
