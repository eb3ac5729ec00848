#include "linerwright/reroll/near_lines.hpp"

namespace linerwright {

namespace {

std::vector<std::array<Vec2, 2>> segments_of(const BoardLines& lines) {
  std::vector<std::array<Vec2, 2>> segments;
  for (const BoardLine& line : lines) {
    const std::size_t n = line.points.size();
    for (std::size_t i = 0; i + (line.closed ? 0 : 1) < n; ++i)
      segments.push_back({line.points[i], line.points[(i + 1) % n]});
  }
  return segments;
}

}  // namespace

NearLines::NearLines(const BoardLines& lines) : segments_(segments_of(lines)) {}

}  // namespace linerwright
