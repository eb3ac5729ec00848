// What a board's drawing holds beside its pieces, all of it on the board: a line to measure, the title, and
// where the table's zero is.
#pragma once

#include "linerwright/boards/boards.hpp"
#include "lines.hpp"

namespace linerwright {

// Rooms in a laid piece that are clear of its own lines, for a line to measure and for words.
std::vector<Box> rooms_in(const LaidPiece& piece);
// Adds the line to measure, its words, the title and the arrows from zero to the board's drawing. They lie on
// the trim or on an offcut where these have room, else in a piece.
void add_frame(const BoardPlan& plan, std::size_t board, Drawing& drawing);

}  // namespace linerwright
