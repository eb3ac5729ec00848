// The straight rectangular collar below a square-to-round's rectangle: four flat panels, lined at equal
// depth.
#pragma once

#include "common.hpp"

namespace linerwright {

// Adds the reasons why the liner leaves no collar of the sheet's length, or no joint with it.
void require_square_collar(Reasons& reasons, const Fitting& fitting, const Sheet& sheet);

// Adds the four panels of the transition `wall` as walls and pieces behind the others.
void add_square_collar(Fitting& fitting, int wall);

// Adds the reason where a panel is larger than its board: around, along.
void require_panel_board(Reasons& reasons, const Fitting& fitting, const Piece& piece,
                         const PanelTarget& panel, Vec2 board);

// How far up the liner's joint with the collar reaches at a depth, from the rectangle's plane; at least 0
// high.
struct SquareCollarReach {
  double least, most;
};
SquareCollarReach square_collar_reach(const Sheet& sheet, double w);

}  // namespace linerwright
