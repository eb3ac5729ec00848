#include "dxf_lines.hpp"

#include <algorithm>
#include <limits>
#include <stdexcept>

namespace linerwright {

BoardLines lines_on(const DxfFile& file, const std::string& layer) {
  BoardLines lines;
  for (const bool closed : {true, false})
    for (const DxfPolyline& line : file.lines)
      if (line.layer == layer && line.closed == closed) lines.push_back({line.points, closed});
  return lines;
}

double distance_to_lines(Vec2 p, const BoardLines& lines) {
  double nearest = std::numeric_limits<double>::infinity();
  for (const BoardLine& line : lines) {
    const std::size_t n = line.points.size();
    for (std::size_t i = 0; i + (line.closed ? 0 : 1) < n; ++i)
      nearest = std::min(nearest, distance_to_segment(p, line.points[i], line.points[(i + 1) % n]));
  }
  return nearest;
}

std::vector<BoardLines> lines_by_part(const BoardLines& lines, const Pattern& pattern,
                                      double butt_allowance) {
  if (!pattern.is_blank) {
    if (lines.empty()) throw std::invalid_argument("no contour in the file");
    return {lines};
  }
  const std::size_t parts = pattern.pieces.size();
  if (lines.size() != parts || !lines.front().closed || lines.front().points.size() != 4)
    throw std::invalid_argument("the file has not one rectangle with a cut between each two pieces");
  std::vector<BoardLines> all(parts);
  std::vector<Vec2> corners = lines.front().points;
  std::sort(corners.begin(), corners.end(), [](Vec2 a, Vec2 b) { return a.y < b.y; });
  all.front().push_back({{corners[0], corners[1]}, false});
  for (std::size_t k = 0; k + 1 < parts; ++k)
    for (const std::size_t part : {k, k + 1}) {
      BoardLine line = lines[k + 1];
      for (Vec2& p : line.points) p.y += part == k ? -butt_allowance : butt_allowance;
      all[part].push_back(std::move(line));
    }
  all.back().push_back({{corners[2], corners[3]}, false});
  return all;
}

}  // namespace linerwright
