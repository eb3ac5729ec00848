#include "groups.hpp"

#include <algorithm>
#include <cmath>

#include "linerwright/stock.hpp"

namespace linerwright {

bool is_for(const FloorStock& stock, double thickness, double density) {
  constexpr double k_same_density = 1e-3;  // relative
  return stock_fits(stock.thickness, thickness) &&
         (!stock.density || std::fabs(*stock.density - density) <= k_same_density * density);
}

std::vector<NestBoard> boards_for(const std::vector<FloorStock>& stock, const Group& group,
                                  const std::vector<std::optional<int>>& left,
                                  std::vector<std::size_t>& stocks) {
  std::vector<NestBoard> boards;
  bool priced = true;
  for (std::size_t s = 0; s < stock.size(); ++s) {
    if (!is_for(stock[s], std::get<0>(group), std::get<1>(group))) continue;
    const bool remnant = !stock[s].remnant.empty();
    priced = priced && (remnant || stock[s].cost);
    stocks.push_back(s);
    boards.push_back({stock[s].name, stock[s].width, stock[s].length, left[s], stock[s].trim, stock[s].cost,
                      stock[s].roll, remnant});
  }
  for (NestBoard& board : boards) {
    if (board.first)
      board.cost = 0.0;
    else if (!priced)
      board.cost.reset();
  }
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
