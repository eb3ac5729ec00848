#include "groups.hpp"

#include <algorithm>

#include "linerwright/stock.hpp"

namespace linerwright {

std::vector<NestBoard> boards_for(const std::vector<FloorStock>& stock, double thickness,
                                  const std::vector<std::optional<int>>& left,
                                  std::vector<std::size_t>& stocks) {
  std::vector<NestBoard> boards;
  for (std::size_t s = 0; s < stock.size(); ++s) {
    if (!stock_fits(stock[s].thickness, thickness)) continue;
    stocks.push_back(s);
    boards.push_back({stock[s].name, stock[s].width, stock[s].length, left[s], stock[s].trim, stock[s].cost,
                      stock[s].roll});
  }
  if (std::any_of(boards.begin(), boards.end(), [](const NestBoard& board) { return !board.cost; }))
    for (NestBoard& board : boards) board.cost.reset();
  return boards;
}

Vec2 size_of(const FloorPart& part) {
  const Box box = bounding_box(part.pattern.cut.outer).value();
  return box.high - box.low;
}

NestPart nest_part(const FloorPart& part) {
  const Pattern& pattern = part.pattern;
  return {part.tag + " " + part.piece,
          pattern.cut.outer,
          pattern.cut.holes,
          {},
          static_cast<int>(part.count),
          true,
          pattern.open_cuts};
}

double gap_of(const std::vector<FloorStock>& stock, const FloorOptions& options) {
  double gap = 0.0;
  for (const FloorStock& each : stock) gap = std::max(gap, each.gap);
  return options.gap.value_or(gap);
}

}  // namespace linerwright
