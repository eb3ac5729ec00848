// One sheet of a pattern: its part of the lines, how it joins its neighbours, and a square to measure.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sheets.hpp"

namespace linerwright {

namespace {

constexpr double k_words = 2.5;  // mm, height of words
constexpr double k_match_radius = 3.0;

Box window_of(Vec2 sheet) {
  return {{k_printer_margin, k_printer_margin}, sheet - Vec2{k_printer_margin, k_printer_margin + k_head}};
}

const Tile* neighbour(const Tiling& tiling, const Tile& tile, int right, int down) {
  for (const Tile& other : tiling.tiles)
    if (other.column == tile.column + right && other.row == tile.row + down) return &other;
  return nullptr;
}

// Where the sheet meets its neighbours: a dashed line to cut along, crosses to lay upon each other.
void add_joins(Picture& frame, const Tiling& tiling, const Tile& tile, Vec2 low) {
  InkedGroup dashed{frame_ink(), {}, {}};
  InkedGroup solid{square_ink(), {}, {}};
  const Vec2 high = low + tiling.cell;
  const auto cross_at = [&](Vec2 p) {
    constexpr double k_arm = 0.5 * k_overlap;
    solid.lines.push_back({false, {p - Vec2{k_arm, 0.0}, p + Vec2{k_arm, 0.0}}});
    solid.lines.push_back({false, {p - Vec2{0.0, k_arm}, p + Vec2{0.0, k_arm}}});
    std::vector<Vec2> circle;
    for (int i = 0; i < 24; ++i)
      circle.push_back(p + k_match_radius * Vec2{std::cos(k_two_pi * i / 24), std::sin(k_two_pi * i / 24)});
    solid.lines.push_back({true, circle});
  };
  const auto join = [&](int right, int down, Vec2 from, Vec2 to) {
    const Tile* other = neighbour(tiling, tile, right, down);
    if (other == nullptr) return;
    dashed.lines.push_back({false, {from, to}});
    for (const double share : {0.2, 0.8}) cross_at(from + share * (to - from));
    // the neighbour's name in the strip that both have
    const Vec2 out{static_cast<double>(right), static_cast<double>(-down)};
    const Vec2 at = 0.5 * (from + to) + 0.25 * k_overlap * out;
    dashed.texts.push_back({Layer::label,
                            right != 0 ? at + Vec2{0.5 * k_words, 0.0} : at - Vec2{0.0, 0.5 * k_words},
                            k_words, right != 0 ? 0.5 * k_pi : 0.0, true, "to " + other->name});
  };
  join(1, 0, {high.x, low.y}, high);
  join(-1, 0, low, {low.x, high.y});
  join(0, 1, low, {high.x, low.y});
  join(0, -1, {low.x, high.y}, high);
  // crop marks at the corners
  for (const double x : {low.x, high.x})
    for (const double y : {low.y, high.y}) {
      const Vec2 out{x == low.x ? -1.0 : 1.0, y == low.y ? -1.0 : 1.0};
      solid.lines.push_back({false, {{x + 1.0 * out.x, y}, {x + 0.5 * k_overlap * out.x, y}}});
      solid.lines.push_back({false, {{x, y + 1.0 * out.y}, {x, y + 0.5 * k_overlap * out.y}}});
    }
  frame.push_back(std::move(dashed));
  frame.push_back(std::move(solid));
}

bool segments_cross(Vec2 a, Vec2 b, Vec2 c, Vec2 d) {
  return cross(b - a, c - a) * cross(b - a, d - a) < 0.0 && cross(d - c, a - c) * cross(d - c, b - c) < 0.0;
}

std::vector<std::array<Vec2, 2>> sides_of(const Picture& picture) {
  std::vector<std::array<Vec2, 2>> sides;
  const auto add = [&](const std::vector<Vec2>& points, bool closed) {
    for (std::size_t i = 0; i + 1 < points.size(); ++i) sides.push_back({points[i], points[i + 1]});
    if (closed && points.size() > 2) sides.push_back({points.back(), points.front()});
  };
  for (const InkedGroup& group : picture) {
    for (const InkedLine& line : group.lines) add(line.points, line.closed);
    for (const Text& text : group.texts) add(text_corners(text), true);
  }
  return sides;
}

// Where in the window the square and its words cross least of what the sheet shows.
Vec2 place_of_square(const PaperPattern& pattern, const SheetPlan& plan, Units units) {
  const Box room = square_room(units);
  const Vec2 first = plan.window.low + Vec2{k_overlap, k_overlap} - room.low;
  const Vec2 last = plan.window.high - Vec2{k_overlap, k_overlap} - room.high;
  std::vector<std::array<Vec2, 2>> near;
  for (auto side : sides_of(pattern.picture)) {
    for (Vec2& p : side) p = p + plan.shift;
    const auto outside = [&](double a, double b, double low, double high) {
      return std::max(a, b) < low || std::min(a, b) > high;
    };
    if (!outside(side[0].x, side[1].x, plan.window.low.x, plan.window.high.x) &&
        !outside(side[0].y, side[1].y, plan.window.low.y, plan.window.high.y))
      near.push_back(side);
  }
  Picture square;
  add_square(square, {0.0, 0.0}, units);
  const auto drawn = sides_of(square);
  Vec2 best = first;
  std::size_t fewest = near.size() * drawn.size() + 1;
  constexpr int k_steps = 6;
  for (int j = 0; j <= k_steps && fewest > 0; ++j)
    for (int i = 0; i <= k_steps && fewest > 0; ++i) {
      const Vec2 at{first.x + (last.x - first.x) * i / k_steps, first.y + (last.y - first.y) * j / k_steps};
      std::size_t crossings = 0;
      for (const auto& [a, b] : near)
        for (const auto& [c, d] : drawn) crossings += segments_cross(a, b, c + at, d + at) ? 1 : 0;
      if (crossings < fewest) {
        fewest = crossings;
        best = at;
      }
    }
  return best;
}

}  // namespace

SheetPlan tile_sheet(const Fitting& fitting, const PaperPattern& pattern, const Tile& tile, int number,
                     int of) {
  const Tiling& tiling = pattern.tiling;
  SheetPlan plan;
  plan.size = tiling.sheet;
  plan.window = window_of(tiling.sheet);
  const Vec2 low = plan.window.low + Vec2{0.5 * k_overlap, 0.5 * k_overlap};
  plan.shift = low - tile.cell.low;
  add_square(plan.frame, place_of_square(pattern, plan, fitting.units), fitting.units);
  add_joins(plan.frame, tiling, tile, low);

  const double width = tiling.sheet.x - 2.0 * k_printer_margin;
  Words words({k_printer_margin, tiling.sheet.y - k_printer_margin}, width, k_words);
  words.line(fmt::format("{}   sheet {}   ({} of {})", pattern.title, tile.name, number, of), 1.35);
  words.line(pattern.facts);
  words.line(pattern.edges);
  words.line("solid line: cut; thin line: mark; dashed line with crosses: lay sheets together");
  words.line(
      fmt::format("Print at 100 %, no scaling; measure the square: 100 mm{}. Gloves, eye protection, dust "
                  "mask; cut away from the body.",
                  fitting.units == Units::inch ? ", rulers 4 in" : ""));
  plan.frame.push_back({word_ink(), {}, std::move(words.texts)});
  return plan;
}

}  // namespace linerwright
