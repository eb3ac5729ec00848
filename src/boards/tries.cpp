// Boards that pass their own audit, if need be by another nest.
#include <fmt/format.h>

#include "groups.hpp"
#include "linerwright/boards/boards.hpp"
#include "linerwright/units/error.hpp"
#include "linerwright/units/parallel.hpp"

namespace linerwright {

namespace {

constexpr int k_seeds = 3;
constexpr double k_little_gap = 0.5;  // mm: edges that are nearly in line then keep apart

DrawnBoards drawn(const std::vector<BoardPart>& parts, const std::vector<BoardStock>& stock,
                  const Knife& knife, const BoardOptions& options, Units units, const DxfOptions& dxf) {
  DrawnBoards boards{board_plan(parts, stock, knife, options, units), {}, {}};
  boards.files.resize(boards.plan.boards.size());
  in_parallel(boards.files.size(), options.threads,
              [&](std::size_t i) { boards.files[i] = board_dxf(boards.plan, i, dxf); });
  return boards;
}

}  // namespace

DrawnBoards draw_boards(const std::vector<BoardPart>& parts, const std::vector<BoardStock>& stock,
                        const Knife& knife, const BoardOptions& options, Units units, const DxfOptions& dxf) {
  std::vector<std::string> notes;
  BoardOptions tried = options;
  tried.layers = dxf.layers;
  for (int attempt = 0;; ++attempt) {
    try {
      DrawnBoards boards = drawn(parts, stock, knife, tried, units, dxf);
      boards.notes = std::move(notes);
      return boards;
    } catch (const GeometryError& error) {
      if (attempt == k_seeds) throw;
      if (attempt < k_seeds - 1) {
        ++tried.seed;
        notes.push_back(fmt::format("a nest did not pass its audit ({}): tried again with seed {}",
                                    error.what(), tried.seed));
      } else {
        tried.seed = options.seed;
        tried.gap = gap_of(stock, options) + k_little_gap;
        notes.push_back(
            fmt::format("a nest did not pass its audit ({}): tried again with {} between the pieces",
                        error.what(), format_quantity(Quantity::length, *tried.gap, units, 2)));
      }
    }
  }
}

}  // namespace linerwright
