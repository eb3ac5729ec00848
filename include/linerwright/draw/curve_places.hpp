// Places along curves on the board, closer together where they bend.
#pragma once

#include <array>
#include <functional>
#include <vector>

#include "linerwright/units/vector.hpp"

namespace linerwright {

// Two curves of one parameter: an edge on both faces of a board.
using CurvePair = std::function<std::array<Vec2, 2>(double)>;

struct CurvePlace {
  double parameter;
  std::array<Vec2, 2> at;
};

// The curves' places at these parameters, in their order, and at others half way between those where either
// curve may stray from its chord by more than `most` mm, and again between these.
std::vector<CurvePlace> curve_places(const CurvePair& curves, const std::vector<double>& parameters,
                                     double most);

}  // namespace linerwright
