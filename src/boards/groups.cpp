#include "groups.hpp"

#include <algorithm>
#include <cmath>

#include "linerwright/fitting/stock_fits.hpp"

namespace linerwright {

bool is_for(const BoardStock& stock, double thickness, double density) {
  constexpr double k_same_density = 1e-3;  // relative
  return stock_fits(stock.thickness, thickness) &&
         (!stock.density || std::fabs(*stock.density - density) <= k_same_density * density);
}

std::vector<NestBoard> boards_for(const std::vector<BoardStock>& stock, const Group& group,
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

double cost_of(const NestBoard& board) {
  return board.cost.value_or(board.width * board.length * 1e-6);
}

double board_cost(const std::vector<NestBoard>& boards) {
  double dearest = 0.0;
  for (const NestBoard& board : boards)
    if (!board.roll) dearest = std::max(dearest, cost_of(board));
  if (dearest > 0.0) return dearest;
  for (const NestBoard& board : boards)
    dearest = std::max(dearest, cost_of(board) * std::min(1.0, board.width / board.length));
  return dearest;
}

Vec2 size_of(const BoardPart& part) {
  const Box box = bounding_box(part.pattern.cut.outer).value();
  return box.high - box.low;
}

NestPart nest_part(const BoardPart& part) {
  const Pattern& pattern = part.pattern;
  return {part.tag + " " + part.piece,
          pattern.cut.outer,
          pattern.cut.holes,
          {},
          static_cast<int>(part.copies()),
          true,
          pattern.open_cuts};
}

NestJob nest_job(const std::vector<const BoardPart*>& parts, std::vector<NestBoard> boards, double gap,
                 const BoardOptions& options) {
  NestJob job;
  job.boards = std::move(boards);
  for (const BoardPart* part : parts) job.parts.push_back(nest_part(*part));
  job.options.gap = gap;
  job.options.effort = options.effort;
  job.options.seed = options.seed;
  job.options.use_holes = options.use_holes;
  job.options.min_offcut = options.min_offcut;
  job.options.threads = std::clamp(options.threads, 1, 2);
  return job;
}

double gap_of(const std::vector<BoardStock>& stock, const BoardOptions& options) {
  double gap = 0.0;
  for (const BoardStock& each : stock) gap = std::max(gap, each.gap);
  return options.gap.value_or(gap);
}

}  // namespace linerwright
