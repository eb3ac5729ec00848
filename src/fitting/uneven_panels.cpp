// Rings of different heights and panels of different widths, where holes leave no room for equal ones.
#include <algorithm>
#include <cmath>

#include "division.hpp"

namespace linerwright {

namespace {

// A stretch of the way around in which no seam may lie; angles may be of any turn.
struct Closed {
  double from, to;
};

constexpr int k_starts = 144;
constexpr int k_narrower = 24;

// The place nearest behind `at` where a seam may lie.
double open_behind(double at, const std::vector<Closed>& closed) {
  for (bool moved = true; moved;) {
    moved = false;
    for (const Closed& stretch : closed) {
      const double turns = k_two_pi * std::floor((at - stretch.from) / k_two_pi);
      if (at - turns > stretch.from + 1e-9 && at - turns < stretch.to - 1e-9) {
        at = stretch.from + turns;
        moved = true;
      }
    }
  }
  return at;
}

// Where panels begin, from `start` on, each as wide as may be and none narrower than `least`; empty where the
// turn does not close so.
std::vector<double> begins_from(double start, const std::vector<Closed>& closed, double widest,
                                double least) {
  std::vector<double> begins{start};
  const double end = start + k_two_pi;
  while (end - begins.back() > widest + 1e-9) {
    double next = std::min(begins.back() + widest, end - least);
    next = open_behind(next, closed);
    if (next - begins.back() < least - 1e-9) return {};
    begins.push_back(next);
  }
  return begins;
}

// The most even of the panels that are as few.
std::vector<double> most_even(double start, const std::vector<Closed>& closed, double widest, double least) {
  std::vector<double> best = begins_from(start, closed, widest, least);
  if (best.empty()) return best;
  const double even = k_two_pi / static_cast<double>(best.size());
  for (int i = 0; i < k_narrower; ++i) {
    std::vector<double> begins = begins_from(start, closed, even + (widest - even) * i / k_narrower, least);
    if (begins.size() == best.size()) return begins;
  }
  return best;
}

double apart(const std::vector<double>& a, const std::vector<double>& b) {
  double least = k_two_pi;
  for (const double x : a)
    for (const double y : b) least = std::min(least, std::fabs(std::remainder(x - y, k_two_pi)));
  return least;
}

}  // namespace

bool Divider::place_uneven_cuts(int rings, Division* division) const {
  constexpr int k_most_uneven = 10;  // more are even ones, or none
  if (rings > k_most_uneven) return false;
  const LinerSpec& liner = fitting_.liner;
  const double shortest = std::max(room_.least, k_shortest_piece);
  // the whole wall's ends, as far as they reach
  double low = low_most_;
  double high = high_least_;
  constexpr int k_steps = 72;
  for (int i = 0; i < k_steps; ++i)
    for (const double w : liner.faces()) {
      low = std::min(low, end(false, k_two_pi * i / k_steps, w));
      high = std::max(high, end(true, k_two_pi * i / k_steps, w));
    }
  const double inner = room_.along - 2.0 * liner.butt_allowance;
  const double outer = room_.along - liner.butt_allowance - liner.end_allowance;
  // cuts that a hole, an end or the board's length allows no further, and how they follow on from one another
  std::vector<double> places{low_most_ + shortest, high_least_ - shortest, low + outer, high - outer};
  for (const HoleExtent& hole : holes_)
    places.insert(places.end(), {hole.low - k_cut_clear, hole.high + k_cut_clear});
  const std::size_t given = places.size();
  for (std::size_t i = 0; i < given; ++i)
    for (int k = 1; k < rings; ++k)
      for (const double step : {inner * k, -inner * k, shortest * k, -shortest * k})
        places.push_back(places[i] + step);
  constexpr int k_between = 50;
  for (int i = 1; i < k_between; ++i) places.push_back(low + (high - low) * i / k_between);
  places.erase(std::remove_if(places.begin(), places.end(),
                              [&](double at) {
                                return at < low_most_ + shortest - 1e-9 ||
                                       at > high_least_ - shortest + 1e-9 || !cut_is_clear(at);
                              }),
               places.end());
  std::sort(places.begin(), places.end());
  places.erase(std::unique(places.begin(), places.end(), [](double a, double b) { return b - a < 1e-6; }),
               places.end());
  // of each place and number of rings up to it, the lowest ring, as high as may be
  std::vector<std::vector<Way>> ways;
  for (int ring = 0; ring + 1 < rings; ++ring) {
    ways.emplace_back(places.size(), Way{-1.0, 0});
    for (std::size_t i = 0; i < places.size(); ++i) {
      if (ring == 0 && places[i] - low <= outer) ways[0][i].score = places[i] - low_most_;
      for (std::size_t before = 0; ring > 0 && before < i; ++before) {
        const double height = places[i] - places[before];
        const double lowest = std::min(ways[static_cast<std::size_t>(ring) - 1][before].score, height);
        if (height >= shortest - 1e-9 && height <= inner && lowest > ways.back()[i].score)
          ways.back()[i] = {lowest, before};
      }
    }
  }
  if (ways.empty()) return high - low <= room_.along - 2.0 * liner.end_allowance;
  Way best{-1.0, 0};
  for (std::size_t i = 0; i < places.size(); ++i) {
    const double lowest = std::min(ways.back()[i].score, high_least_ - places[i]);
    if (high - places[i] <= outer && lowest > best.score) best = {lowest, i};
  }
  if (best.score < 0.0) return false;
  division->cuts.assign(ways.size(), 0.0);
  std::size_t at = best.before;
  for (std::size_t ring = ways.size(); ring-- > 0;) {
    division->cuts[ring] = places[at];
    at = ways[ring][at].before;
  }
  return true;
}

bool Divider::place_uneven(Division* division) const {
  if (!wall_.sheet.is_cylinder()) return false;
  const double turn_width = size().x;
  const double widest = std::min(k_two_pi, room_.around / turn_width * k_two_pi);
  const double least = room_.least / turn_width * k_two_pi;
  const double clear = k_cut_clear / wall_.sheet.r1();
  division->seams.clear();
  std::vector<double> before;
  for (std::size_t ring = 0; ring < division->rings(); ++ring) {
    std::vector<Closed> closed;
    for (const std::size_t h : holes_in(*division, ring))
      closed.push_back(
          {holes_[h].middle - holes_[h].half_width - clear, holes_[h].middle + holes_[h].half_width + clear});
    std::vector<double> best;
    const double usual = piece_.seam + (ring % 2 == 1 ? k_pi : 0.0);
    for (int i = 0; i < k_starts; ++i) {
      const double start = open_behind(usual + k_two_pi * i / k_starts, closed);
      std::vector<double> begins = most_even(start, closed, widest, least);
      const bool fewer = best.empty() || begins.size() < best.size();
      if (begins.empty() || !fewer || (!before.empty() && apart(begins, before) < clear)) continue;
      best = std::move(begins);
    }
    if (best.empty()) return false;
    std::vector<double> edges;
    for (const double begin : best) edges.push_back((begin - best.front()) / k_two_pi);
    division->seams.push_back(best.front());
    division->around.push_back(static_cast<int>(best.size()));
    division->edges.push_back(std::move(edges));
    before = std::move(best);
  }
  return true;
}

}  // namespace linerwright
