// The folder of boards: what lies in it, name and bytes, wherever it is written.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "linerwright/report/board_sheets.hpp"
#include "linerwright/units/seal.hpp"

namespace linerwright {

struct BoardFolder {
  // A DXF and a PDF of each board, cut list and table, job sheet, stickers, division.toml where pieces are
  // divided as planned; boards.json not among them.
  std::vector<std::pair<std::string, std::string>> files;
  Contents digests;  // of all of them
  std::string list;  // boards.json
};

constexpr const char* k_board_list = "boards.json";

// `of` are tag and state_of() of the fittings that were placed, `division` the text of division_file(). The
// same plan gives the same bytes.
BoardFolder board_folder(const DrawnBoards& drawn, const std::vector<std::pair<std::string, std::string>>& of,
                         const StickerSheet& stickers, const SheetHead& head, const std::string& division);

}  // namespace linerwright
