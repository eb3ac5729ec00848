// Searches along an interval.
#pragma once

#include <algorithm>
#include <cmath>
#include <functional>

namespace linerwright {

struct Best {
  double at, value;
};

// The largest value of f on an interval: places crowded toward its start, then a golden section about the
// best of them; both ends are tried.
template <class Function>
Best largest(const Function& f, double from, double to) {
  constexpr int k_places = 24;
  constexpr double k_golden = 0.6180339887498949;
  const auto place = [&](int i) {
    const double share = static_cast<double>(std::clamp(i, 0, k_places)) / k_places;
    return i >= k_places ? to : from + (to - from) * share * share;
  };
  Best best{from, f(from)};
  int index = 0;
  for (int i = 1; i <= k_places; ++i)
    if (const double value = f(place(i)); value > best.value) {
      best = {place(i), value};
      index = i;
    }
  // an end that the function falls away from is the place itself
  constexpr double k_beside = 1e-7;
  const double inward = index == 0 ? k_beside : -k_beside;
  if ((index == 0 || index == k_places) && f(best.at + inward * (to - from)) < best.value) return best;
  double a = place(index - 1);
  double b = place(index + 1);
  const auto tried = [&](double at) {
    const Best here{at, f(at)};
    if (here.value > best.value) best = here;
    return here;
  };
  Best c = tried(b - k_golden * (b - a));
  Best d = tried(a + k_golden * (b - a));
  for (int step = 0; step < 60 && b - a > 1e-15 * (1.0 + std::fabs(b)); ++step) {
    if (c.value > d.value) {  // what is left holds one of the two places again
      b = d.at;
      d = c;
      c = tried(b - k_golden * (b - a));
    } else {
      a = c.at;
      c = d;
      d = tried(a + k_golden * (b - a));
    }
  }
  return best;
}

// Between a place where f is negative and one where it is not: false position, the weight of an end that
// stays halved (the Illinois rule), and halves where that does not close in.
inline double root(const std::function<double(double)>& f, double negative, double positive) {
  double below = f(negative);
  double above = f(positive);
  for (int step = 0; step < 200; ++step) {
    const double middle = 0.5 * (negative + positive);
    if (middle == negative || middle == positive || above == 0.0) break;
    const double share = below / (below - above);
    const bool halve = step % 4 == 3 || !(share > 0.0 && share < 1.0);
    double at = halve ? middle : negative + share * (positive - negative);
    if (at == negative || at == positive) at = middle;  // the one value is nothing beside the other
    const double value = f(at);
    if (value < 0.0) {
      negative = at;
      below = value;
      above *= 0.5;
    } else {
      positive = at;
      above = value;
      below *= 0.5;
    }
  }
  return positive;
}

}  // namespace linerwright
