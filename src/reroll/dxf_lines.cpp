#include "linerwright/reroll/dxf_lines.hpp"

#include <algorithm>
#include <array>
#include <limits>
#include <stdexcept>

#include "linerwright/pattern/blank_edges.hpp"

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

namespace {

// Without points that a file writes once because they print alike.
std::vector<Vec2> apart(const BoardLine& line, double tolerance) {
  std::vector<Vec2> points;
  for (const Vec2 p : line.points)
    if (points.empty() || distance(points.back(), p) > tolerance) points.push_back(p);
  while (line.closed && points.size() > 1 && distance(points.front(), points.back()) <= tolerance)
    points.pop_back();
  return points;
}

}  // namespace

bool in_same_order(const BoardLine& a, const BoardLine& b, double tolerance) {
  const std::vector<Vec2> one = apart(a, tolerance);
  const std::vector<Vec2> other = apart(b, tolerance);
  return a.closed == b.closed && one.size() == other.size() &&
         std::equal(one.begin(), one.end(), other.begin(),
                    [&](Vec2 p, Vec2 q) { return distance(p, q) <= tolerance; });
}

namespace {

struct Framed {
  const BoardLine* line;
  Box box;
  bool taken = false;
};

std::vector<Framed> framed(const BoardLines& lines) {
  std::vector<Framed> all;
  for (const BoardLine& line : lines)
    if (!line.points.empty()) all.push_back({&line, bounding_box(line.points).value()});
  return all;
}

bool covers(const BoardLine& line, const BoardLine& points, double tolerance) {
  return std::all_of(points.points.begin(), points.points.end(),
                     [&](Vec2 p) { return distance_to_lines(p, {line}) <= tolerance; });
}

// A closed line may begin anywhere; an open one at either end, for it may run along itself.
bool same_line(const BoardLine& a, const BoardLine& b, double tolerance) {
  if (a.closed) return covers(a, b, tolerance) && covers(b, a, tolerance);
  const BoardLine back{{b.points.rbegin(), b.points.rend()}, false};
  return in_same_order(a, b, tolerance) || in_same_order(a, back, tolerance);
}

}  // namespace

Unpaired unpaired(const BoardLines& expected, const BoardLines& found, double tolerance) {
  std::vector<Framed> have = framed(found);
  std::sort(have.begin(), have.end(),
            [](const Framed& a, const Framed& b) { return a.box.low.x < b.box.low.x; });
  Unpaired result;
  for (const Framed& wanted : framed(expected)) {
    auto near = std::lower_bound(have.begin(), have.end(), wanted.box.low.x - tolerance,
                                 [](const Framed& each, double x) { return each.box.low.x < x; });
    const auto alike = [&](const Framed& each) {
      return !each.taken && each.line->closed == wanted.line->closed &&
             distance(each.box.low, wanted.box.low) <= 2.0 * tolerance &&
             distance(each.box.high, wanted.box.high) <= 2.0 * tolerance &&
             same_line(*each.line, *wanted.line, tolerance);
    };
    while (near != have.end() && near->box.low.x <= wanted.box.low.x + tolerance && !alike(*near)) ++near;
    if (near != have.end() && near->box.low.x <= wanted.box.low.x + tolerance) {
      near->taken = true;
      continue;
    }
    ++result.missing;
    if (!result.where) result.where = wanted.line->points.front();
  }
  for (const Framed& each : have) {
    if (each.taken) continue;
    ++result.added;
    if (!result.where) result.where = each.line->points.front();
  }
  return result;
}

std::vector<BoardLines> lines_by_part(const BoardLines& lines, const Pattern& pattern,
                                      double butt_allowance) {
  if (!pattern.is_blank) {
    if (lines.empty()) throw std::invalid_argument("no contour in the file");
    return {lines};
  }
  const std::size_t parts = pattern.pieces.size();
  if (lines.size() != parts || !lines.front().closed || (parts > 1 && lines[1].closed))
    throw std::invalid_argument("the file has not one outline with a cut between each two pieces");
  // the cuts from bottom to top, whatever order a program wrote them in
  BoardLines cuts(lines.begin() + 1, lines.end());
  const auto height = [](const BoardLine& line) {
    double sum = 0.0;
    for (const Vec2 p : line.points) sum += p.y;
    return sum / static_cast<double>(line.points.size());
  };
  std::stable_sort(cuts.begin(), cuts.end(),
                   [&](const BoardLine& a, const BoardLine& b) { return height(a) < height(b); });
  std::vector<BoardLines> all(parts);
  std::array<std::vector<Vec2>, 2> edges = blank_edges(lines.front().points);
  all.front().push_back({std::move(edges[0]), false});
  for (std::size_t k = 0; k + 1 < parts; ++k)
    for (const std::size_t part : {k, k + 1}) {
      BoardLine line = cuts[k];
      for (Vec2& p : line.points) p.y += part == k ? -butt_allowance : butt_allowance;
      all[part].push_back(std::move(line));
    }
  all.back().push_back({std::move(edges[1]), false});
  return all;
}

}  // namespace linerwright
