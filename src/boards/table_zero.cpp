// Where a board's drawing lies on the table: its corner is moved to the table's zero, then it is turned.
#include <fmt/format.h>

#include <array>

#include "linerwright/boards/boards.hpp"

namespace linerwright {

namespace {

Vec2 corner_of(const TableZero& zero, double length, double width) {
  return {zero.right ? length : 0.0, zero.upper ? width : 0.0};
}

Vec2 turned(Vec2 p, int quarter_turns) {
  for (int i = 0; i < (quarter_turns % 4 + 4) % 4; ++i) p = {0.0 - p.y, p.x};
  return p;
}

}  // namespace

Vec2 TableZero::on_table(Vec2 p, double length, double width) const {
  return turned(p - corner_of(*this, length, width), quarter_turns);
}

Vec2 TableZero::on_board(Vec2 p, double length, double width) const {
  return turned(p, -quarter_turns) + corner_of(*this, length, width);
}

std::string zero_words(const TableZero& zero) {
  constexpr std::array<const char*, 4> k_ways{
      "along its length, from left to right", "across it, from top to bottom",
      "along its length, from right to left", "across it, from bottom to top"};
  return fmt::format("zero is the board's {} {} corner, x runs {}", zero.upper ? "upper" : "lower",
                     zero.right ? "right" : "left",
                     k_ways.at(static_cast<std::size_t>((zero.quarter_turns % 4 + 4) % 4)));
}

}  // namespace linerwright
