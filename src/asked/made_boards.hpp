// What boards.json and totals.json say.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "readers.hpp"
#include "space.hpp"

namespace linerwright::asked {

struct BoardPiece {
  std::string tag, piece;
  double copy = 0.0;
  bool turned = false;
  double box[4] = {0.0, 0.0, 0.0, 0.0};  // low x, low y, high x, high y
};

struct MadeBoard {
  std::string stock;
  double thickness = 0.0, width = 0.0, length = 0.0, used = 0.0, area = 0.0, yield = 0.0;
  double knife = 0.0, pen = 0.0, travel = 0.0;  // ways of the tools
  double time = 0.0, mass = 0.0;
  std::optional<double> cost;
  std::optional<std::array<double, 4>> usable;  // low x, low y, high x, high y
  std::vector<BoardPiece> pieces;
};

// What was asked of stock, knife table and boards, as it was written.
struct BoardWords {
  bool inches = false;  // of bare numbers
  std::vector<std::map<std::string, std::string>> stock;
  std::map<std::string, std::map<std::string, std::string>> tables;  // "knife", "boards", "flags"
};

struct MadeBoards {
  std::vector<MadeBoard> boards;
  double stock_area = 0.0, piece_area = 0.0, yield = 0.0;
  double bound = 0.0, least_boards = 0.0;      // what no nest of the pieces betters; 0: not said
  std::map<std::string, double> knife;         // what is said of the table
  std::multimap<std::string, std::string> of;  // tags of the fittings they were planned for, and their states
  bool homeless = false;                       // pieces that are on no board
  // The corner of a board that is the drawings' zero, and how many quarters of a turn its length is turned.
  bool zero_right = false, zero_upper = false;
  int quarters = 0;
  double gap = 0.0;
  std::string sequence;
  std::optional<BoardWords> words;  // none: by an earlier version
};

// A drawing of the board with its lower left corner at zero and its length along x.
Drawn straightened(Drawn drawn, const MadeBoards& all, const MadeBoard& board);

// Throws Unreadable.
MadeBoards read_boards(const std::string& json);

struct TotalsLine {
  std::string tag;
  double count = 0.0;
  std::map<std::string, double> each;
};
struct StockLine {
  std::string name;
  std::map<std::string, double> figures;
  bool priced = false;
};
struct MadeTotals {
  std::vector<TotalsLine> lines;
  std::vector<StockLine> stock;
  bool boards_older = false;
  std::map<std::string, double> sums;
  std::map<std::string, double> all_stock;  // figures of all boards; without a cost where a stock has none
  double metal_density = 0.0;
};
MadeTotals read_totals(const std::string& json);

}  // namespace linerwright::asked
