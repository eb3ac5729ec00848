// One piece as it lies on its board: turned where it is, its labels upright.
#pragma once

#include <optional>
#include <vector>

#include "linerwright/boards/boards.hpp"

namespace linerwright {

// The pattern moved to its place; labels are written anew, with the number of the copy where there are
// several and, where the width of the pen for it is given, a code.
struct LaidPiece {
  Pattern pattern;
  std::vector<std::vector<Vec2>> code;  // lines that fill the code's dark squares
};
LaidPiece laid(const BoardPart& part, const NestedPiece& place, std::optional<double> code_pen);

// The pen's lines of a laid piece: marks, arrows and codes, then the strokes of the text.
std::vector<PenLine> pen_lines(const LaidPiece& piece);

// A closed line that runs on over its beginning by `overcut` mm, from a line whose last point is its first.
std::vector<Vec2> run_on(std::vector<Vec2> line, double overcut);

}  // namespace linerwright
