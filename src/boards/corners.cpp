#include "corners.hpp"

#include <algorithm>
#include <cmath>

namespace linerwright {

namespace {

constexpr double k_sharp = 20.0 * k_pi / 180.0;

bool turns_sharply(Vec2 before, Vec2 at, Vec2 after) {
  const Vec2 in = at - before;
  const Vec2 out = after - at;
  return std::fabs(std::atan2(cross(in, out), dot(in, out))) > k_sharp;
}

bool in_material(Vec2 p, const Region& piece) {
  return point_in_polygon(p, piece.outer) &&
         std::none_of(piece.holes.begin(), piece.holes.end(),
                      [&](const Ring& hole) { return point_in_polygon(p, hole); });
}

// How far the knife may run on from `end` in this direction.
double room_past(Vec2 end, Vec2 way, double past, const Region& piece, const Box& board) {
  constexpr int k_steps = 16;
  double room = 0.0;
  for (int i = 1; i <= k_steps; ++i) {
    const double there = past * i / k_steps;
    const Vec2 p = end + there * way;
    const bool on_board =
        p.x >= board.low.x && p.y >= board.low.y && p.x <= board.high.x && p.y <= board.high.y;
    if (!on_board || in_material(p, piece)) break;
    room = there;
  }
  return room;
}

}  // namespace

std::vector<CutStretch> parted_at_corners(const std::vector<Vec2>& way, const Region& piece,
                                          const Knife& knife, const Box& board) {
  const bool around = way.size() > 3 && way.front() == way.back();
  const std::size_t count = around ? way.size() - 1 : way.size();
  std::vector<std::size_t> corners;
  for (std::size_t i = 0; i < count; ++i) {
    if (!around && (i == 0 || i + 1 == count)) continue;
    if (turns_sharply(way[(i + count - 1) % count], way[i], way[(i + 1) % count])) corners.push_back(i);
  }
  std::vector<CutStretch> stretches;
  if (corners.empty()) return stretches;
  const auto add = [&](std::size_t from, std::size_t to, bool corner_at_end) {
    CutStretch stretch{{Layer::cut, false, {way[from % count]}}, 0.0};
    for (std::size_t i = from + 1; i <= to; ++i) stretch.line.points.push_back(way[i % count]);
    std::vector<Vec2>& points = stretch.line.points;
    if (corner_at_end && knife.corner == Corner::run_past) {
      const Vec2 last = points.back() - points[points.size() - 2];
      const Vec2 direction = 1.0 / norm(last) * last;
      stretch.past = room_past(points.back(), direction, knife.past, piece, board);
      if (stretch.past > 0.0) points.push_back(points.back() + stretch.past * direction);
    }
    stretches.push_back(std::move(stretch));
  };
  if (around) {
    for (std::size_t k = 0; k < corners.size(); ++k)
      add(corners[k], k + 1 < corners.size() ? corners[k + 1] : corners.front() + count, true);
    return stretches;
  }
  std::size_t from = 0;
  for (const std::size_t corner : corners) {
    add(from, corner, true);
    from = corner;
  }
  add(from, count - 1, false);
  return stretches;
}

}  // namespace linerwright
