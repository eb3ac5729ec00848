#include "chains.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

namespace linerwright {

namespace {

constexpr double k_fine = 0.05;   // mm on the page: a line's own deviation
constexpr double k_apart = 0.22;  // mm on the page: closer lines print as one

using Line = std::vector<Vec2>;

// Joins short lines where exactly two ends meet, and drops every second one of equals.
class Chains {
 public:
  void add(const SeenLines& lines) {
    for (const auto& [from, to] : lines) {
      const Key a = key(from);
      const Key b = key(to);
      if (a == b || !known_.emplace(std::minmax(a, b), links_.size()).second) continue;
      at_[a].push_back(links_.size());
      at_[b].push_back(links_.size());
      links_.push_back({a, b, from, to, false});
    }
  }

  std::vector<InkedLine> lines() {
    std::vector<InkedLine> all;
    // from the open ends first, then what is closed
    for (const bool closed : {false, true})
      for (std::size_t i = 0; i < links_.size(); ++i)
        for (const bool turned : {false, true}) {
          const Link& link = links_[i];
          if (link.used || (!closed && at_[turned ? link.b : link.a].size() == 2)) continue;
          Line line = follow(i, turned);
          const bool ring = closed && line.size() > 2 && key(line.front()) == key(line.back());
          if (ring) line.pop_back();
          all.push_back({ring, thinned(line, ring, {k_fine, 5.0 / 180.0 * k_pi})});
        }
    return all;
  }

 private:
  using Key = std::pair<long, long>;
  struct Link {
    Key a, b;
    Vec2 from, to;
    bool used;
  };

  Key key(Vec2 p) const { return {std::lround(p.x / (0.2 * k_fine)), std::lround(p.y / (0.2 * k_fine))}; }

  Line follow(std::size_t start, bool turned) {
    Line line{turned ? links_[start].to : links_[start].from};
    for (std::size_t i = start;;) {
      Link& link = links_[i];
      link.used = true;
      line.push_back(turned ? link.from : link.to);
      const Key end = turned ? link.a : link.b;
      const std::vector<std::size_t>& here = at_[end];
      if (here.size() != 2) return line;
      i = here[0] == i ? here[1] : here[0];
      if (links_[i].used) return line;
      turned = links_[i].a != end;
    }
  }

  std::vector<Link> links_;
  std::map<std::pair<Key, Key>, std::size_t> known_;
  std::map<Key, std::vector<std::size_t>> at_;
};

// The pieces of the lines drawn so far, by the squares of the page they lie in.
class Drawn {
 public:
  void add(const InkedLine& line) {
    const auto& p = line.points;
    for (std::size_t i = 0; i + (line.closed ? 0 : 1) < p.size(); ++i) {
      const Vec2 a = p[i];
      const Vec2 b = p[(i + 1) % p.size()];
      for (long x = square(std::min(a.x, b.x) - k_apart); x <= square(std::max(a.x, b.x) + k_apart); ++x)
        for (long y = square(std::min(a.y, b.y) - k_apart); y <= square(std::max(a.y, b.y) + k_apart); ++y)
          pieces_[{x, y}].emplace_back(a, b);
    }
  }
  bool holds(Vec2 p) const {
    const auto found = pieces_.find({square(p.x), square(p.y)});
    return found != pieces_.end() &&
           std::any_of(found->second.begin(), found->second.end(), [&](const auto& piece) {
             return distance_to_segment(p, piece.first, piece.second) < k_apart;
           });
  }

 private:
  static long square(double x) {
    constexpr double k_side = 4.0;
    return static_cast<long>(std::floor(x / k_side));
  }
  std::map<std::pair<long, long>, std::vector<std::pair<Vec2, Vec2>>> pieces_;
};

// The line in steps short enough to see where it leaves another.
Line in_steps(const InkedLine& line) {
  constexpr double k_step = 1.0;
  Line points = line.points;
  if (line.closed) points.push_back(points.front());
  Line steps{points.front()};
  for (std::size_t i = 1; i < points.size(); ++i) {
    const Vec2 from = points[i - 1];
    const int n = std::max(1, static_cast<int>(std::ceil(distance(from, points[i]) / k_step)));
    for (int k = 1; k <= n; ++k) steps.push_back(from + (static_cast<double>(k) / n) * (points[i] - from));
  }
  return steps;
}

}  // namespace

std::vector<InkedLine> joined_lines(const SeenLines& lines) {
  Chains chains;
  chains.add(lines);
  return chains.lines();
}

std::vector<InkedLine> without_twins(std::vector<InkedLine> lines) {
  std::stable_sort(lines.begin(), lines.end(), [](const InkedLine& a, const InkedLine& b) {
    return polyline_length(a.points, a.closed) > polyline_length(b.points, b.closed);
  });
  constexpr double k_speck = 0.6;  // mm: what is left of a twin and shorter than this goes, too
  std::vector<InkedLine> kept;
  Drawn drawn;
  for (InkedLine& line : lines) {
    const Line steps = in_steps(line);
    std::vector<bool> twin;
    for (const Vec2 p : steps) twin.push_back(drawn.holds(p));
    // ends touch other lines where they meet them: a stretch is hidden only if its middle is
    const auto hidden = [&](std::size_t i) { return twin[i] && twin[i + 1]; };
    std::vector<InkedLine> rest;
    bool whole = true;
    for (std::size_t i = 0; i + 1 < steps.size(); ++i) {
      if (hidden(i)) {
        whole = false;
        continue;
      }
      if (rest.empty() || i == 0 || hidden(i - 1)) rest.push_back({false, {steps[i]}});
      rest.back().points.push_back(steps[i + 1]);
    }
    if (whole) {
      rest = {line};
    } else {
      for (InkedLine& stretch : rest)
        stretch.points = thinned(stretch.points, false, {k_fine, 5.0 / 180.0 * k_pi});
    }
    for (InkedLine& stretch : rest) {
      if (!whole && polyline_length(stretch.points, false) < k_speck) continue;
      drawn.add(stretch);
      kept.push_back(std::move(stretch));
    }
  }
  return kept;
}

}  // namespace linerwright
