// Going on with a board on which the table has stopped.
#pragma once

#include <cstddef>
#include <filesystem>
#include <string>

#include "linerwright/draw/draw.hpp"

namespace linerwright {

// Which board is gone on with, and from which of its pieces, both counted from 1 as the job sheet has them.
struct BoardStop {
  std::size_t board = 1;
  std::size_t piece = 1;
};
// "3/7". Throws InputError naming `flag`.
BoardStop board_stop(const std::string& written, const std::string& flag);

// The cuts of the board from this piece on, in their order, with the board's edge and title: its own file in
// the folder of boards without what the pen draws and the knife has cut. Version and units are those of that
// file, layers' names those of `options`. Throws InputError for a board or a piece that is not there.
std::string board_rest(const std::filesystem::path& boards, BoardStop stop, const DxfOptions& options);

}  // namespace linerwright
