#include "linerwright/page/page_boards.hpp"

#include <fmt/format.h>

#include <cmath>

namespace linerwright {

namespace {

// The board's pieces as whoever stands at the table wants them.
PageTable order_of(const BoardPlan& plan, const PlannedBoard& board) {
  const auto length = [&](double value) { return format_quantity(Quantity::length, value, plan.units, 1); };
  PageTable table{"", {"piece", "next", "turned", "order", "around", "along"}, 3, {}};
  for (std::size_t i = 0; i < board.pieces.size(); ++i) {
    const PlacedPiece& piece = board.pieces[i];
    const BoardPart& part = plan.parts[piece.part];
    const Vec2 size = piece.box.high - piece.box.low;
    std::string name = part.tag + "/" + part.piece;
    if (part.count > 1) name += fmt::format(" ({} of {})", piece.copy + 1, part.count);
    table.rows.push_back({std::move(name), next_pieces(part), piece.turned ? "yes" : "no",
                          std::to_string(i + 1), length(size.x), length(size.y)});
  }
  return table;
}

}  // namespace

std::vector<PageBoard> page_boards(const BoardPlan& plan) {
  std::vector<PageBoard> boards;
  for (std::size_t i = 0; i < plan.boards.size(); ++i) {
    const PlannedBoard& on = plan.boards[i];
    PageBoard board{board_title(plan, i),
                    fixed(100.0 * on.yield, 1) + " % used",
                    {},
                    board_lying(plan, i, TextStyle::entities),
                    {}};
    for (std::size_t k = 0; k < on.pieces.size(); ++k) {
      const BoardPart& part = plan.parts[on.pieces[k].part];
      board.pieces.push_back({fmt::format("{}  {}/{}", k + 1, part.tag, part.piece), on.pieces[k].box});
    }
    const long seconds = std::lround(on.time);
    board.words = fmt::format("Knife {}, about {}:{:02} min; {}.",
                              format_quantity(Quantity::length, on.knife_length, plan.units, 0), seconds / 60,
                              seconds % 60, zero_words(plan.zero));
    board.order.push_back(order_of(plan, on));
    boards.push_back(std::move(board));
  }
  return boards;
}

}  // namespace linerwright
