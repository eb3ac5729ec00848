// Ways of a ruling that leans from +y toward +x on the board.
#pragma once

#include <cmath>

#include "linerwright/units/vector.hpp"

namespace linerwright {

inline Vec2 along_board(double lean) {
  return {std::sin(lean), std::cos(lean)};
}
inline Vec2 around_board(double lean) {
  return {std::cos(lean), -std::sin(lean)};
}

}  // namespace linerwright
