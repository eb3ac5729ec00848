// A square-to-round's ends, and what is told of it in numbers and words.
#pragma once

#include "linerwright/fitting/fitting.hpp"
#include "linerwright/sheet/sheet.hpp"

namespace linerwright {

struct SquareEnd {
  double width, height, radius, length, collar;
  double square_collar;
  Vec2 centre;
  int pieces;
};

// By quarters, as rulings are counted.
constexpr const char* k_square_sides[] = {"right", "top", "left", "bottom"};

// How far out from the corners the board is kerfed, mm: where it bends to less than `radius` about a ruling.
double kerfed_length(const Sheet& sheet, double radius);

void add_square_facts(Fitting& fitting, const SquareEnd& ends, const Sheet& sheet, double kerfed);
// In the order of the work; after the facts, which say where the air face ends in arcs.
void add_square_steps(Fitting& fitting, const SquareEnd& ends, double kerfed);

}  // namespace linerwright
