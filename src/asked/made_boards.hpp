// What boards.json and totals.json say.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "space.hpp"

namespace linerwright::asked {

struct BoardPiece {
  std::string tag, piece;
  double copy = 0.0;
  bool turned = false;
  double box[4] = {0.0, 0.0, 0.0, 0.0};  // low x, low y, high x, high y
};

struct MadeBoard {
  double thickness = 0.0, width = 0.0, length = 0.0, used = 0.0, area = 0.0, yield = 0.0;
  std::vector<BoardPiece> pieces;
};

// Throws Unreadable.
std::vector<MadeBoard> read_boards(const std::string& json);
bool has_problems(const std::string& boards_json);  // pieces that are on no board

struct TotalsLine {
  std::string tag;
  double count = 0.0;
  std::map<std::string, double> each;
};
struct MadeTotals {
  std::vector<TotalsLine> lines;
  std::map<std::string, double> sums;
  double metal_density = 0.0;
};
MadeTotals read_totals(const std::string& json);

}  // namespace linerwright::asked
