#include "nofit.hpp"

#include <algorithm>
#include <cstddef>
#include <vector>

// The outer part of the no-fit polygon is the Minkowski sum A + (-B), found by the convolution of the two
// tracings (Guibas, Ramshaw and Stolfi, "A kinetic framework for computational geometry", 1983): every edge
// of one outline is paired with the corners of the other whose turn sweeps over its direction, run backwards
// where the corner is hollow. The winding number of that closed chain at q counts the pieces of the
// intersection of A and B + q for outlines without holes, so the sum is where it is positive; that holds for
// hollow outlines too, without any case left out. Holes are added as inner-fit regions: (H - b0) less the
// sweep of H's edge by -B.

namespace linerwright::nesting {
namespace {

using ClipperLib::IntPoint;
using ClipperLib::Path;
using ClipperLib::Paths;

struct Direction {
  long double x, y;  // 64 bit mantissa: products of grid differences are exact
};
Direction direction(const IntPoint& from, const IntPoint& to) {
  return {static_cast<long double>(to.X - from.X), static_cast<long double>(to.Y - from.Y)};
}
long double cross(Direction a, Direction b) {
  return a.x * b.y - a.y * b.x;
}
bool same(Direction a, Direction b) {
  return cross(a, b) == 0 && a.x * b.x + a.y * b.y > 0;
}

// Whether d lies in the arc of less than half a turn counter-clockwise from `from` to `to`, with one end
// included.
bool in_arc(Direction d, Direction from, Direction to, bool include_from) {
  if (same(d, from)) return include_from && !same(from, to);
  if (same(d, to)) return !include_from && !same(from, to);
  return cross(from, d) > 0 && cross(d, to) > 0;
}

// +1 when the corner's turn sweeps over d to the left, -1 to the right, 0 not at all. Which end of the arc
// belongs to it is chosen so that parallel edges of the two outlines are met in one fixed order (`first`: d
// is the earlier one's edge).
int sweep(Direction d, Direction in, Direction out, bool first) {
  const long double turn = cross(in, out);
  if (turn > 0) return in_arc(d, in, out, first) ? 1 : 0;
  if (turn < 0) return in_arc(d, out, in, first) ? -1 : 0;
  return 0;
}

std::vector<Direction> edges_of(const Path& path) {
  std::vector<Direction> edges;
  for (std::size_t i = 0; i < path.size(); ++i)
    edges.push_back(direction(path[i], path[(i + 1) % path.size()]));
  return edges;
}

// The convolution as closed walks over pairs (corner of a, corner of b).
Paths convolution(const Path& a, const Path& b) {
  const std::size_t n = a.size();
  const std::size_t m = b.size();
  const auto edges_a = edges_of(a);
  const auto edges_b = edges_of(b);
  std::vector<std::vector<std::size_t>> next(n * m);
  const auto add = [&](int sign, std::size_t from, std::size_t to) {
    if (sign > 0) next[from].push_back(to);
    if (sign < 0) next[to].push_back(from);
  };
  for (std::size_t i = 0; i < n; ++i) {
    const std::size_t i1 = (i + 1) % n;
    for (std::size_t j = 0; j < m; ++j) {
      const std::size_t j1 = (j + 1) % m;
      add(sweep(edges_a[i], edges_b[(j + m - 1) % m], edges_b[j], true), i * m + j, i1 * m + j);
      add(sweep(edges_b[j], edges_a[(i + n - 1) % n], edges_a[i], false), i * m + j, i * m + j1);
    }
  }
  Paths walks;
  for (std::size_t start = 0; start < next.size(); ++start) {
    while (!next[start].empty()) {
      Path walk;
      std::size_t state = start;
      while (!next[state].empty()) {
        const std::size_t to = next[state].back();
        next[state].pop_back();
        walk.emplace_back(a[state / m].X + b[state % m].X, a[state / m].Y + b[state % m].Y);
        state = to;
      }
      walks.push_back(std::move(walk));
    }
  }
  return walks;
}

Paths combine(ClipperLib::ClipType operation, const Paths& subject, const Paths& clip,
              ClipperLib::PolyFillType fill) {
  ClipperLib::Clipper clipper;
  clipper.AddPaths(subject, ClipperLib::ptSubject, true);
  if (!clip.empty()) clipper.AddPaths(clip, ClipperLib::ptClip, true);
  Paths result;
  clipper.Execute(operation, result, fill, fill);
  return result;
}

struct Extent {
  ClipperLib::cInt x, y;
};
Extent extent(const Path& path) {
  const auto xs = std::minmax_element(path.begin(), path.end(), [](auto& p, auto& q) { return p.X < q.X; });
  const auto ys = std::minmax_element(path.begin(), path.end(), [](auto& p, auto& q) { return p.Y < q.Y; });
  return {xs.second->X - xs.first->X, ys.second->Y - ys.first->Y};
}

// All shifts at which `piece` lies wholly inside the hole.
Paths inner_fit(const Path& hole, const Path& piece) {
  const Extent room = extent(hole);
  const Extent need = extent(piece);
  if (need.x > room.x || need.y > room.y) return {};
  Path inside = hole;
  if (!ClipperLib::Orientation(inside)) ClipperLib::ReversePath(inside);
  Path mirrored;
  for (const IntPoint& p : piece) mirrored.emplace_back(-p.X, -p.Y);
  Paths sweep_of_edge;
  ClipperLib::MinkowskiSum(mirrored, inside, sweep_of_edge, true);
  for (IntPoint& p : inside) p = IntPoint(p.X - piece[0].X, p.Y - piece[0].Y);
  return combine(ClipperLib::ctDifference, {inside}, sweep_of_edge, ClipperLib::pftNonZero);
}

}  // namespace

Paths turned(const Paths& paths) {
  Paths result = paths;
  for (Path& path : result) {
    for (IntPoint& p : path) p = IntPoint(-p.X, -p.Y);
  }
  return result;
}

Paths no_fit(const Paths& a, const Paths& b) {
  const Path mirrored = turned({b.front()}).front();
  Paths result = combine(ClipperLib::ctUnion, convolution(a.front(), mirrored), {}, ClipperLib::pftPositive);
  Paths room;
  for (std::size_t i = 1; i < a.size(); ++i) {
    for (Path& path : inner_fit(a[i], b.front())) room.push_back(std::move(path));
  }
  for (std::size_t i = 1; i < b.size(); ++i) {
    for (Path& path : turned(inner_fit(b[i], a.front()))) room.push_back(std::move(path));
  }
  if (!room.empty()) result = combine(ClipperLib::ctDifference, result, room, ClipperLib::pftNonZero);
  ClipperLib::CleanPolygons(result, 1.0);
  result.erase(std::remove_if(result.begin(), result.end(), [](const Path& path) { return path.size() < 3; }),
               result.end());
  return result;
}

}  // namespace linerwright::nesting
