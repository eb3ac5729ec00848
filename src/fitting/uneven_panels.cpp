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

std::vector<std::vector<double>> Divider::uneven_cuts() const {
  const LinerSpec& liner = fitting_.liner;
  const double shortest = std::max(room_.least, k_shortest_piece);
  // the whole wall's ends, as far as they reach
  double low = low_most_;
  double high = high_least_;
  constexpr int k_steps = 72;
  for (int i = 0; i < k_steps; ++i)
    for (const double w : liner.faces()) {
      low = std::min(low, end(End::low, k_two_pi * i / k_steps, w));
      high = std::max(high, end(End::high, k_two_pi * i / k_steps, w));
    }
  const double inner = room_.along - 2.0 * liner.butt_allowance;
  const double outer = room_.along - liner.butt_allowance - liner.end_allowance;
  if (!std::isfinite(inner) || inner < shortest) return {};
  const std::vector<double> places = places_of_cuts(low + outer, high - outer, inner, shortest);
  // of each place and number of rings up to it, the lowest ring, as high as may be
  std::vector<std::vector<Way>> ways;
  std::vector<std::vector<double>> found;
  for (int rings = 2; rings <= k_most_rings; ++rings) {
    const std::size_t last = ways.size();
    ways.emplace_back(places.size(), Way{-1.0, 0});
    Way best{-1.0, 0};
    for (std::size_t i = 0; i < places.size(); ++i) {
      Way& way = ways.back()[i];
      if (last == 0 && places[i] - low <= outer) way.score = places[i] - low_most_;
      for (std::size_t before = i; last > 0 && before-- > 0 && places[i] - places[before] <= inner;) {
        const double height = places[i] - places[before];
        const double lowest = std::min(ways[last - 1][before].score, height);
        if (height >= shortest - 1e-9 && lowest > way.score) way = {lowest, before};
      }
      const double lowest = std::min(way.score, high_least_ - places[i]);
      if (high - places[i] <= outer && lowest > best.score) best = {lowest, i};
    }
    if (best.score < 0.0) continue;
    std::vector<double> cuts(ways.size());
    std::size_t at = best.before;
    for (std::size_t ring = ways.size(); ring-- > 0;) {
      cuts[ring] = places[at];
      at = ways[ring][at].before;
    }
    found.push_back(std::move(cuts));
  }
  return found;
}

// Cuts that a hole, an end or the board's length allows no further, how they follow on from one another, and
// some between.
std::vector<double> Divider::places_of_cuts(double furthest, double nearest, double longest,
                                            double shortest) const {
  std::vector<double> places{low_most_ + shortest, high_least_ - shortest, furthest, nearest};
  for (const HoleExtent& hole : holes_)
    places.insert(places.end(), {hole.low - k_cut_clear, hole.high + k_cut_clear});
  const std::size_t given = places.size();
  for (std::size_t i = 0; i < given; ++i)
    for (int k = 1; k < k_most_rings; ++k)
      for (const double step : {longest, shortest})
        places.insert(places.end(), {places[i] + step * k, places[i] - step * k});
  constexpr int k_between = 100;
  for (int i = 1; i < k_between; ++i) places.push_back(low_most_ + (high_least_ - low_most_) * i / k_between);
  places.erase(std::remove_if(places.begin(), places.end(),
                              [&](double at) {
                                return at < low_most_ + shortest - 1e-9 ||
                                       at > high_least_ - shortest + 1e-9 || !cut_is_clear(at) ||
                                       !is_clear_of_joints(at);
                              }),
               places.end());
  std::sort(places.begin(), places.end());
  places.erase(std::unique(places.begin(), places.end(), [](double a, double b) { return b - a < 1e-6; }),
               places.end());
  return places;
}

std::optional<Division> Divider::find_uneven(std::optional<int> panels) const {
  // the wall's whole turn takes so many panels, of a cone and where holes are in the way some more
  const int fewest =
      std::isfinite(room_.around) ? static_cast<int>(std::ceil(size().x / room_.around - 1e-9)) : 1;
  constexpr int k_more = 4;
  for (const std::vector<double>& cuts : uneven_cuts()) {
    for (int around = panels.value_or(1); around <= panels.value_or(std::min(fewest + k_more, k_most_panels));
         ++around) {
      Division division;
      division.cuts = cuts;
      division.panels = around;
      if (place_seams(&division) && fits(division)) return division;
    }
    Division division;
    division.cuts = cuts;
    if (!panels && place_uneven(&division) && fits(division)) return division;
  }
  return std::nullopt;
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
    edges.reserve(best.size());
    for (const double begin : best) edges.push_back((begin - best.front()) / k_two_pi);
    division->seams.push_back(best.front());
    division->around.push_back(static_cast<int>(best.size()));
    division->edges.push_back(std::move(edges));
    before = std::move(best);
  }
  return true;
}

}  // namespace linerwright
