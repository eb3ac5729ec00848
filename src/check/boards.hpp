// Boards as boards.json lists them, and the proof of one board's drawing.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "linerwright/boards/boards.hpp"
#include "linerwright/check/check_job.hpp"

namespace linerwright {

struct ListedPiece {
  std::string tag;
  std::string piece;  // pattern id
  long copy = 1;      // from 1
  bool turned = false;
  Box box;  // on the board, mm
};
// What pieces keep to: mm.
struct BoardSpace {
  Box usable;  // the board without its trim
  double gap;  // between pieces
};
struct ListedBoard {
  std::string stock;
  double thickness = 0.0;
  std::string face_up;  // "duct", "air"
  double width = 0.0, length = 0.0;
  double yield = 0.0;
  std::vector<ListedPiece> pieces;
  std::vector<BoardRemnant> remnants;
  std::vector<Box> offcuts;
  std::optional<BoardSpace> space;  // none: of a version that did not state it
  double past = 0.0;                // how far the knife runs on past corners
  TableZero zero;                   // of its drawing
};

// The drawing of board `number`, against the patterns of the pieces that lie on it.
std::vector<CheckResult> prove_board(const std::filesystem::path& file, std::size_t number,
                                     const ListedBoard& board, const MakeAgain& again);

}  // namespace linerwright
