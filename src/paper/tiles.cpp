#include "tiles.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

namespace linerwright {

namespace {

constexpr double k_slack = 1e-6;  // mm

std::string column_name(int column) {
  std::string name;
  for (int rest = column + 1; rest > 0; rest = (rest - 1) / 26)
    name.insert(name.begin(), static_cast<char>('A' + (rest - 1) % 26));
  return name;
}

int needed(double length, double step) {
  return std::max(1, static_cast<int>(std::ceil((length - k_slack) / step)));
}

// What of a sheet one cell of the pattern takes.
Vec2 cell_on(Vec2 sheet) {
  return sheet - Vec2{2.0 * k_printer_margin + k_overlap, 2.0 * k_printer_margin + k_head + k_overlap};
}

bool has_line(const std::vector<InkedLine>& lines, const Box& cell) {
  for (const InkedLine& line : lines)
    for (std::size_t i = 0; i < line.points.size(); ++i) {
      const bool last = i + 1 == line.points.size();
      if (last && !line.closed) break;
      if (meets_box(cell, line.points[i], line.points[last ? 0 : i + 1])) return true;
    }
  return false;
}

// Whether each can be reached from each over common edges.
bool hold_together(const std::vector<Tile>& tiles) {
  if (tiles.empty()) return false;
  std::set<std::pair<int, int>> left;
  for (const Tile& tile : tiles) left.insert({tile.column, tile.row});
  std::vector<std::pair<int, int>> reached{*left.begin()};
  left.erase(left.begin());
  for (std::size_t i = 0; i < reached.size(); ++i) {
    const auto [column, row] = reached[i];
    for (const auto& next :
         {std::pair{column + 1, row}, {column - 1, row}, {column, row + 1}, {column, row - 1}})
      if (left.erase(next) > 0) reached.push_back(next);
  }
  return left.empty();
}

Tiling laid_on(const Laid& pattern, Vec2 sheet, bool turned) {
  const Box box = bounding_box(pattern.board.outer).value();
  const Vec2 size = box.high - box.low;
  Tiling tiling;
  tiling.sheet = sheet;
  tiling.turned = turned;
  tiling.cell = cell_on(sheet);
  tiling.columns = needed(size.x, tiling.cell.x);
  tiling.rows = needed(size.y, tiling.cell.y);
  // what is over is shared by both sides
  const Vec2 start{0.5 * (box.low.x + box.high.x - tiling.columns * tiling.cell.x),
                   0.5 * (box.low.y + box.high.y + tiling.rows * tiling.cell.y)};
  std::vector<Tile> with_lines;
  for (int row = 0; row < tiling.rows; ++row)
    for (int column = 0; column < tiling.columns; ++column) {
      const Vec2 low = start + Vec2{column * tiling.cell.x, -(row + 1) * tiling.cell.y};
      const Box cell{low, low + tiling.cell};
      const Region frame{{cell.low, {cell.high.x, cell.low.y}, cell.high, {cell.low.x, cell.high.y}}, {}};
      if (intersected({frame}, {pattern.board}).empty()) continue;
      tiling.tiles.push_back({column, row, cell, column_name(column) + std::to_string(row + 1)});
      if (has_line(pattern.lines, cell)) with_lines.push_back(tiling.tiles.back());
    }
  if (hold_together(with_lines)) tiling.tiles = std::move(with_lines);
  return tiling;
}

}  // namespace

Vec2 quarter_turned(Vec2 p) {
  return {-p.y, p.x};
}

Laid quarter_turned(const Laid& laid) {
  Laid turned = laid;
  const auto turn = [](std::vector<Vec2>& points) {
    for (Vec2& p : points) p = quarter_turned(p);
  };
  turn(turned.board.outer);
  for (Ring& hole : turned.board.holes) turn(hole);
  for (InkedLine& line : turned.lines) turn(line.points);
  return turned;
}

Tiling tiling_of(const Laid& pattern, const Paper& paper) {
  if (!paper.roll) {
    Tiling upright = laid_on(pattern, paper.size, false);
    Tiling lying = laid_on(pattern, {paper.size.y, paper.size.x}, false);
    return lying.tiles.size() < upright.tiles.size() ? lying : upright;
  }
  // strips run along the roll, each as long as the pattern or an even share of it
  const auto along_roll = [&](bool turned) {
    const Laid laid = turned ? quarter_turned(pattern) : pattern;
    const Box box = bounding_box(laid.board.outer).value();
    const double around_cell = -cell_on({0.0, 0.0}).y;
    const double length = box.high.y - box.low.y;
    const int shares = needed(length, k_longest_roll - around_cell);
    return laid_on(laid, {paper.size.x, length / shares + around_cell + 1e-3}, turned);
  };
  Tiling straight = along_roll(false);
  Tiling turned = along_roll(true);
  const auto paper_used = [](const Tiling& tiling) {
    return std::pair{tiling.columns, static_cast<double>(tiling.tiles.size()) * tiling.sheet.y};
  };
  return paper_used(turned) < paper_used(straight) ? turned : straight;
}

}  // namespace linerwright
