// Panels of different widths, where a hole leaves no room for the seams of equal ones.
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
