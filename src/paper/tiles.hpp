// How a pattern is divided over sheets of paper.
#pragma once

#include <string>
#include <vector>

#include "linerwright/paper/paper.hpp"

namespace linerwright {

constexpr double k_printer_margin = 10.0;  // mm that no printer has to reach
constexpr double k_head = 22.0;            // mm of each sheet above the pattern, for words
constexpr double k_overlap = 10.0;         // mm that neighbouring sheets share
constexpr double k_longest_roll = 5000.0;  // mm of one sheet: PDF ends at 14400 points (ISO 32000-1, annex C)

struct Tile {
  int column, row;   // from the left and from the top, from 0
  Box cell;          // of the pattern; the sheet shows half of the overlap more on every side
  std::string name;  // "B3"
};

struct Tiling {
  Vec2 sheet{};         // mm, as the printer gets it
  bool turned = false;  // the pattern, a quarter turn counter-clockwise
  Vec2 cell{};
  int columns = 0, rows = 0;
  std::vector<Tile>
      tiles;  // those with a line in them (or, where they would fall apart, with board), row by row
};

// What is to be laid on paper: the board that is cut out, and the lines that are drawn.
struct Laid {
  Region board;
  std::vector<InkedLine> lines;
};

// The pattern (turned where the tiling says so) on as few sheets as portrait or landscape allow; on a roll as
// few strips, then as little paper.
Tiling tiling_of(const Laid& pattern, const Paper& paper);
// A quarter turn counter-clockwise about the origin.
Vec2 quarter_turned(Vec2 p);
Laid quarter_turned(const Laid& laid);

}  // namespace linerwright
