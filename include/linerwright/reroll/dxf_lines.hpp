// The lines of one layer of a DXF file, and distances between lines on the board.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "linerwright/draw/draw.hpp"
#include "linerwright/fitting/fitting.hpp"
#include "linerwright/pattern/pattern.hpp"

namespace linerwright {

struct BoardLine {
  std::vector<Vec2> points;
  bool closed = false;
};
using BoardLines = std::vector<BoardLine>;

// Closed lines first.
BoardLines lines_on(const DxfFile& file, const std::string& layer);
// Distance from p to the nearest line, mm; infinite where there is none.
double distance_to_lines(Vec2 p, const BoardLines& lines);

// True where both run through the same points in the same order, each within `tolerance`.
bool in_same_order(const BoardLine& a, const BoardLine& b, double tolerance);

// Lines of one set without a partner in the other: equal in shape and place within `tolerance`, whatever
// their order and whichever end they begin at.
struct Unpaired {
  std::size_t missing = 0;      // expected, not found
  std::size_t added = 0;        // found, not expected
  std::optional<Vec2> where{};  // of one of them
};
Unpaired unpaired(const BoardLines& expected, const BoardLines& found, double tolerance);

// The lines that bound each piece of the pattern, by its part. On a blank, the shared cuts bound two pieces,
// each of which has the butt allowance to itself; throws std::invalid_argument where lines are missing.
std::vector<BoardLines> lines_by_part(const BoardLines& lines, const Pattern& pattern, double butt_allowance);

}  // namespace linerwright
