// Ears are cut off the outline (G. H. Meisters, "Polygons have ears", Amer. Math. Monthly 82, 1975), holes
// being joined to it by bridges; then diagonals are turned as long as that shortens them.
#include "linerwright/mesh/triangulate.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <utility>

namespace linerwright {

namespace {

class Region {
 public:
  Region(const std::vector<Vec2>& points, Vec2 weight, double flattest)
      : points_(points), weight_(weight), flattest_(flattest) {}

  bool join_holes(std::vector<int>& outline, std::vector<std::vector<int>>& holes) const {
    // from the right: a bridge then never has to cross a hole that is not yet joined
    const auto rightmost = [&](const std::vector<int>& hole) {
      return std::max_element(hole.begin(), hole.end(), [&](int a, int b) { return at(a).x < at(b).x; });
    };
    std::sort(holes.begin(), holes.end(), [&](const std::vector<int>& a, const std::vector<int>& b) {
      return at(*rightmost(a)).x > at(*rightmost(b)).x;
    });
    for (std::size_t h = 0; h < holes.size(); ++h) {
      std::vector<int> hole = holes[h];
      std::rotate(hole.begin(), hole.begin() + (rightmost(holes[h]) - holes[h].begin()), hole.end());
      double nearest = std::numeric_limits<double>::infinity();
      std::size_t where = outline.size();
      for (std::size_t i = 0; i < outline.size(); ++i) {
        const double length = distance(at(outline[i]), at(hole[0]));
        if (length >= nearest || !opens_to(outline, i, hole[0])) continue;
        bool blocked = crosses(outline, outline[i], hole[0]);
        for (std::size_t k = h; k < holes.size() && !blocked; ++k)
          blocked = crosses(holes[k], outline[i], hole[0]);
        if (blocked) continue;
        nearest = length;
        where = i;
      }
      if (where == outline.size()) return false;
      std::vector<int> bridge(hole);
      bridge.push_back(hole[0]);
      bridge.push_back(outline[where]);
      outline.insert(outline.begin() + static_cast<std::ptrdiff_t>(where) + 1, bridge.begin(), bridge.end());
    }
    return true;
  }

  bool cut_ears(const std::vector<int>& outline) {
    const std::size_t n = outline.size();
    std::vector<std::size_t> next(n);
    std::vector<std::size_t> before(n);
    for (std::size_t i = 0; i < n; ++i) {
      next[i] = (i + 1) % n;
      before[i] = (i + n - 1) % n;
    }
    left_ = outline;
    std::sort(left_.begin(), left_.end(), [&](int a, int b) { return at(a).x < at(b).x; });
    std::size_t left = n;
    std::size_t i = 0;
    std::size_t tried = 0;
    double flattest = flattest_;
    while (left > 3) {
      if (tried > left) {
        if (flattest == 0.0) return false;
        flattest = 0.0;  // none but flat ones are left
        tried = 0;
      }
      if (is_ear(outline[before[i]], outline[i], outline[next[i]], flattest)) {
        triangles_.push_back({outline[before[i]], outline[i], outline[next[i]]});
        forget(outline[i]);
        next[before[i]] = next[i];
        before[next[i]] = before[i];
        i = next[next[i]];
        --left;
        tried = 0;
      } else {
        i = next[i];
        ++tried;
      }
    }
    if (!(turn(outline[before[i]], outline[i], outline[next[i]]) > 0.0)) return false;
    triangles_.push_back({outline[before[i]], outline[i], outline[next[i]]});
    return true;
  }

  // Turns diagonals until none gets shorter by it; the sum of their squares falls with each turn, so this
  // ends.
  void shorten_diagonals() {
    find_neighbours();
    std::vector<std::size_t> open(triangles_.size());
    for (std::size_t t = 0; t < open.size(); ++t) open[t] = t;
    while (!open.empty()) {
      const std::size_t t = open.back();
      open.pop_back();
      for (std::size_t k = 0; k < 3; ++k)
        if (const std::size_t other = try_turn(t, k); other != k_none) {
          open.push_back(t);
          open.push_back(other);
          break;
        }
    }
  }

  std::vector<std::array<int, 3>> take() { return std::move(triangles_); }

 private:
  static constexpr std::size_t k_none = std::numeric_limits<std::size_t>::max();

  Vec2 at(int i) const { return points_[static_cast<std::size_t>(i)]; }
  double turn(int a, int b, int c) const { return cross(at(b) - at(a), at(c) - at(a)); }
  // Squared length of a diagonal, weighted.
  double cost(int a, int b) const {
    const Vec2 d = at(b) - at(a);
    const Vec2 weighted{weight_.x * d.x, weight_.y * d.y};
    return dot(weighted, weighted);
  }

  static std::uint64_t edge_key(int a, int b) {
    return (static_cast<std::uint64_t>(static_cast<std::uint32_t>(a)) << 32U) | static_cast<std::uint32_t>(b);
  }

  // Which triangle has the same side the other way round.
  void find_neighbours() {
    std::vector<std::pair<std::uint64_t, std::size_t>> sides;
    for (std::size_t t = 0; t < triangles_.size(); ++t)
      for (std::size_t k = 0; k < 3; ++k)
        sides.push_back({edge_key(triangles_[t][k], triangles_[t][(k + 1) % 3]), t});
    std::sort(sides.begin(), sides.end());
    beside_.assign(triangles_.size(), {k_none, k_none, k_none});
    for (std::size_t t = 0; t < triangles_.size(); ++t)
      for (std::size_t k = 0; k < 3; ++k) {
        const std::uint64_t back = edge_key(triangles_[t][(k + 1) % 3], triangles_[t][k]);
        const auto found = std::lower_bound(sides.begin(), sides.end(), std::make_pair(back, std::size_t{0}));
        if (found != sides.end() && found->first == back) beside_[t][k] = found->second;
      }
  }

  // The place among a triangle's corners.
  std::size_t corner(std::size_t t, int point) const {
    const auto& corners = triangles_[t];
    return corners[0] == point ? 0 : corners[1] == point ? 1 : 2;
  }

  // Does the region lie on the way from corner i of the outline to the point p?
  bool opens_to(const std::vector<int>& outline, std::size_t i, int p) const {
    const int before = outline[(i + outline.size() - 1) % outline.size()];
    const int here = outline[i];
    const int next = outline[(i + 1) % outline.size()];
    if (turn(before, here, next) > 0.0) return turn(before, here, p) > 0.0 && turn(here, next, p) > 0.0;
    return turn(before, here, p) > 0.0 || turn(here, next, p) > 0.0;
  }

  bool crosses(const std::vector<int>& loop, int a, int b) const {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const int c = loop[i];
      const int d = loop[(i + 1) % loop.size()];
      if (c == a || c == b || d == a || d == b) continue;
      if ((turn(a, b, c) >= 0.0) != (turn(a, b, d) >= 0.0) &&
          (turn(c, d, a) >= 0.0) != (turn(c, d, b) >= 0.0))
        return true;
    }
    return false;
  }

  // The first of the corners that are left whose x is no less.
  std::vector<int>::iterator first_from(double x) {
    return std::lower_bound(left_.begin(), left_.end(), x, [&](int p, double to) { return at(p).x < to; });
  }

  void forget(int point) { left_.erase(std::find(first_from(at(point).x), left_.end(), point)); }

  bool is_ear(int a, int b, int c, double flattest) {
    const Vec2 base = at(c) - at(a);
    if (!(turn(a, b, c) > flattest * dot(base, base))) return false;
    const auto [left, right] = std::minmax({at(a).x, at(b).x, at(c).x});
    for (auto p = first_from(left); p != left_.end() && at(*p).x <= right; ++p) {
      if (*p == a || *p == b || *p == c) continue;  // its own corners, or the other side of a bridge
      if (turn(a, b, *p) >= 0.0 && turn(b, c, *p) >= 0.0 && turn(c, a, *p) >= 0.0) return false;
    }
    return true;
  }

  // Turns the diagonal at side k of triangle t if the other one is shorter; the neighbour, or k_none.
  std::size_t try_turn(std::size_t t, std::size_t k) {
    const int a = triangles_[t][k];
    const int b = triangles_[t][(k + 1) % 3];
    const int c = triangles_[t][(k + 2) % 3];
    const std::size_t other = beside_[t][k];
    if (other == k_none) return k_none;
    const std::size_t from_b = corner(other, b);
    const int d = triangles_[other][(from_b + 2) % 3];
    constexpr double k_gain = 1e-9;
    if (!(cost(c, d) < (1.0 - k_gain) * cost(a, b))) return k_none;
    // the four corners have to form a convex quadrangle, and not a sliver
    const double least = k_gain * std::fabs(turn(a, b, c) + turn(b, a, d));
    if (!(turn(d, b, c) > least) || !(turn(c, a, d) > least)) return k_none;
    const std::size_t bc = beside_[t][(k + 1) % 3];
    const std::size_t ca = beside_[t][(k + 2) % 3];
    const std::size_t ad = beside_[other][(from_b + 1) % 3];
    const std::size_t db = beside_[other][(from_b + 2) % 3];
    if (db != k_none) beside_[db][corner(db, b)] = t;
    if (ca != k_none) beside_[ca][corner(ca, a)] = other;
    triangles_[t] = {c, d, b};
    triangles_[other] = {d, c, a};
    beside_[t] = {other, db, bc};
    beside_[other] = {t, ca, ad};
    return other;
  }

  const std::vector<Vec2>& points_;
  Vec2 weight_;
  double flattest_;  // height by base of an ear
  std::vector<std::array<int, 3>> triangles_;
  std::vector<int> left_;                           // corners that no ear has taken, by x
  std::vector<std::array<std::size_t, 3>> beside_;  // across sides 0 to 1, 1 to 2, 2 to 0
};

}  // namespace

std::vector<std::array<int, 3>> triangulate(const std::vector<Vec2>& points, std::vector<int> outline,
                                            std::vector<std::vector<int>> holes, Vec2 weight,
                                            double flattest) {
  Region region(points, weight, flattest);
  if (outline.size() < 3 || !region.join_holes(outline, holes) || !region.cut_ears(outline)) return {};
  region.shorten_diagonals();
  return region.take();
}

std::vector<std::array<int, 3>> triangulate_wall(const std::vector<Vec2>& places,
                                                 const std::vector<std::vector<int>>& loops, double step) {
  const auto triangles = [&](double along_ruling, double flattest) {
    return triangulate(places, loops.front(), {loops.begin() + 1, loops.end()}, {1.0, along_ruling},
                       flattest);
  };
  const auto within = [&](const std::array<int, 3>& triangle) {
    const auto x = [&](std::size_t k) { return places[static_cast<std::size_t>(triangle[k])].x; };
    const auto [low, high] = std::minmax({x(0), x(1), x(2)});
    return high - low <= (1.0 + 1e-9) * step;
  };
  constexpr double k_along_ruling = 1e-3;
  auto made = triangles(k_along_ruling, 0.0);
  if (std::all_of(made.begin(), made.end(), within)) return made;
  // Walls that are long beside their steps: the length of a diagonal must not outweigh how far it reaches
  // around, and corners that stand off a level edge by rounding must not make slivers.
  const auto [low, high] =
      std::minmax_element(places.begin(), places.end(), [](Vec2 a, Vec2 b) { return a.y < b.y; });
  made = triangles(std::min(k_along_ruling, 0.01 * step / (high->y - low->y)), 1e-6);
  if (std::all_of(made.begin(), made.end(), within)) return made;
  return {};
}

}  // namespace linerwright
