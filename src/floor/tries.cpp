// Boards that pass their own audit, if need be by another nest.
#include <fmt/format.h>

#include "groups.hpp"
#include "linerwright/floor/floor.hpp"
#include "linerwright/units/error.hpp"
#include "linerwright/units/parallel.hpp"

namespace linerwright {

namespace {

constexpr int k_seeds = 3;
constexpr double k_little_gap = 0.5;  // mm: edges that are nearly in line then keep apart

DrawnFloor drawn(const std::vector<FloorPart>& parts, const std::vector<FloorStock>& stock,
                 const Knife& knife, const FloorOptions& options, Units units, const DxfOptions& dxf) {
  DrawnFloor floor{plan_floor(parts, stock, knife, options, units), {}, {}};
  floor.files.resize(floor.plan.boards.size());
  in_parallel(floor.files.size(), options.threads,
              [&](std::size_t i) { floor.files[i] = board_dxf(floor.plan, i, dxf); });
  return floor;
}

}  // namespace

DrawnFloor draw_floor(const std::vector<FloorPart>& parts, const std::vector<FloorStock>& stock,
                      const Knife& knife, const FloorOptions& options, Units units, const DxfOptions& dxf) {
  std::vector<std::string> notes;
  FloorOptions tried = options;
  tried.layers = dxf.layers;
  for (int attempt = 0;; ++attempt) {
    try {
      DrawnFloor floor = drawn(parts, stock, knife, tried, units, dxf);
      floor.notes = std::move(notes);
      return floor;
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
