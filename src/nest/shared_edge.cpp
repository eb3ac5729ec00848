#include "shared_edge.hpp"

#include <algorithm>
#include <cmath>

#include "linerwright/nest/nest.hpp"

namespace linerwright::nesting {
namespace {

// Shorter than this, edges in line count as touching; whatever is longer is cut once.
constexpr double k_shortest_run = 2.0 * k_nest_rounding;
constexpr double k_straight_sine = 1e-6;  // of the turn at a corner that is none

Vec2 corner(const Ring& ring, std::size_t i) {
  return ring[i % ring.size()];
}
double edge_length(const Ring& ring, std::size_t i) {
  return distance(corner(ring, i), corner(ring, i + 1));
}

bool straight_on(const Ring& ring, std::size_t i) {
  const Vec2 in = corner(ring, i) - corner(ring, i + ring.size() - 1);
  const Vec2 out = corner(ring, i + 1) - corner(ring, i);
  return std::fabs(cross(in, out)) <= k_straight_sine * norm(in) * norm(out) && dot(in, out) > 0.0;
}

// The longest straight run: its first edge, how many edges it has, its length.
struct Straight {
  std::size_t first = 0;
  std::size_t edges = 1;
  double length = 0.0;
};

Straight longest_straight(const Ring& ring) {
  const std::size_t n = ring.size();
  Straight best;
  for (std::size_t i = 0; i < n; ++i) {
    if (straight_on(ring, i)) continue;  // starts before this edge
    Straight run{i, 1, edge_length(ring, i)};
    while (run.edges < n && straight_on(ring, i + run.edges))
      run.length += edge_length(ring, i + run.edges++);
    if (run.length > best.length) best = run;
  }
  return best;
}

}  // namespace

std::vector<SharedRun> shared_runs(const Ring& own, const Ring& other) {
  std::vector<SharedRun> runs;
  for (std::size_t i = 0; i < own.size(); ++i) {
    const Vec2 a = own[i];
    const double length = edge_length(own, i);
    if (length < k_shortest_run) continue;
    const Vec2 along = (1.0 / length) * (corner(own, i + 1) - a);
    for (std::size_t j = 0; j < other.size(); ++j) {
      const Vec2 c = other[j] - a;
      const Vec2 d = corner(other, j + 1) - a;
      const double start = dot(c, along);
      const double end = dot(d, along);
      const double from = std::max(0.0, std::min(start, end));
      const double to = std::min(length, std::max(start, end));
      if (to - from < k_shortest_run) continue;
      const double off_start = cross(along, c);
      const double slope = (cross(along, d) - off_start) / (end - start);
      const auto off = [&](double s) { return std::fabs(off_start + slope * (s - start)); };
      if (off(from) <= k_nest_rounding && off(to) <= k_nest_rounding) runs.push_back({i, from, to});
    }
  }
  return runs;
}

std::vector<std::vector<Vec2>> without_runs(const Ring& ring, std::vector<SharedRun> runs) {
  std::sort(runs.begin(), runs.end(), [](const SharedRun& a, const SharedRun& b) {
    return a.edge != b.edge ? a.edge < b.edge : a.from < b.from;
  });
  std::vector<std::vector<Vec2>> lines;
  std::vector<Vec2> line{ring.front()};
  const auto finish = [&] {
    if (line.size() > 1) lines.push_back(line);
    line.clear();
  };
  const auto go_to = [&](Vec2 p) {
    if (line.empty() || distance(line.back(), p) > k_nest_rounding) line.push_back(p);
  };
  auto run = runs.begin();
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const double length = edge_length(ring, i);
    const auto at = [&](double s) { return ring[i] + (s / length) * (corner(ring, i + 1) - ring[i]); };
    double done = 0.0;
    for (; run != runs.end() && run->edge == i; ++run) {
      if (run->to <= done) continue;
      if (run->from > done) go_to(at(run->from));
      finish();
      done = run->to;
      line.push_back(at(done));
    }
    if (done < length) go_to(corner(ring, i + 1));
  }
  const bool joins = !lines.empty() && !line.empty() && lines.front().front() == ring.front() &&
                     line.size() > 1 && distance(line.back(), ring.front()) <= k_nest_rounding;
  if (joins) {
    line.pop_back();
    line.insert(line.end(), lines.front().begin(), lines.front().end());
    lines.front() = line;
  } else {
    finish();
  }
  return lines;
}

std::vector<Vec2> entered_on_the_straight(const Ring& ring) {
  const Straight run = longest_straight(ring);
  double rest = 0.5 * run.length;
  std::size_t edge = run.first;
  while (rest > edge_length(ring, edge) && edge < run.first + run.edges - 1)
    rest -= edge_length(ring, edge++);
  constexpr double k_parted = 1.0;  // mm: a segment is not parted into shorter ones
  if (edge_length(ring, edge) - rest < k_parted && edge_length(ring, edge) - rest < rest) {
    ++edge;
    rest = 0.0;
  } else if (rest < k_parted) {
    rest = 0.0;
  }
  const Vec2 entry =
      corner(ring, edge) + (rest / edge_length(ring, edge)) * (corner(ring, edge + 1) - corner(ring, edge));
  std::vector<Vec2> line{entry};
  for (std::size_t i = 1; i <= ring.size(); ++i) {
    if (!(corner(ring, edge + i) == line.back())) line.push_back(corner(ring, edge + i));
  }
  if (!(line.back() == entry)) line.push_back(entry);
  return line;
}

}  // namespace linerwright::nesting
