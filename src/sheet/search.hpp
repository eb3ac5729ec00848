// Searches along an interval.
#pragma once

#include <algorithm>
#include <cmath>

namespace linerwright {

struct Best {
  double at, value;
};

// From the best of three places to the top of the parabola through them; nothing where it has none.
inline double step_to_top(const Best& best, const Best& second, const Best& third) {
  const double r = (best.at - second.at) * (best.value - third.value);
  const double q = (best.at - third.at) * (best.value - second.value);
  return -0.5 * ((best.at - third.at) * q - (best.at - second.at) * r) / (q - r);
}

// The largest value of f on an interval: places crowded toward its start, then parabolas about the best of
// them, or the golden section where they do not close in (R. P. Brent, Algorithms for minimization without
// derivatives, 1973); both ends are tried.
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
  Best second = best;
  Best third = best;
  double moved = 0.0;
  double before = 0.0;
  for (int step = 0; step < 100; ++step) {
    // nearer to it than this all values are the largest; a place beside the start is told as exactly
    const double close = 1e-9 * std::fabs(best.at - from) + 1e-16 * std::fabs(to - from);
    if (!(b - a > 4.0 * close)) break;
    const double middle = 0.5 * (a + b);
    if (std::fabs(best.at - middle) <= 2.0 * close - 0.5 * (b - a)) break;
    const double top = step_to_top(best, second, third);
    // no farther than half of the step before the last, and within
    if (std::fabs(before) > close && std::fabs(top) < std::fabs(0.5 * before) && best.at + top > a &&
        best.at + top < b) {
      before = moved;
      moved = top;
    } else {
      before = (best.at < middle ? b : a) - best.at;
      moved = (1.0 - k_golden) * before;
    }
    if (std::fabs(moved) < close) moved = best.at < middle ? close : -close;
    const Best here{best.at + moved, f(best.at + moved)};
    if (here.value >= best.value) {
      (here.at < best.at ? b : a) = best.at;
      third = second;
      second = best;
      best = here;
      continue;
    }
    (here.at < best.at ? a : b) = here.at;
    if (here.value >= second.value || second.at == best.at) {
      third = second;
      second = here;
    } else if (here.value >= third.value || third.at == best.at || third.at == second.at) {
      third = here;
    }
  }
  return best;
}

// Between a place where f is negative and one where it is not, to the last bits: an inverse parabola through
// three places where that is sure to close in, else halves (T. R. Chandrupatla, Advances in Engineering
// Software 28, 1997).
template <class Function>
double root(const Function& f, double negative, double positive) {
  struct At {
    double at, value;
    bool below() const { return value < 0.0; }
  };
  At here{negative, f(negative)};
  At across{positive, f(positive)};
  constexpr double k_bits = 4.5e-16;
  bool here_below = true;
  double share = 0.5;
  for (int step = 0; step < 200; ++step) {
    const double at = here.at + share * (across.at - here.at);
    const At next{at, f(at)};
    At left = across;  // the place that is given up
    if (next.below() == here_below) {
      left = here;
    } else {
      across = here;
      here_below = !here_below;
    }
    here = next;
    const At& nearer = std::fabs(here.value) < std::fabs(across.value) ? here : across;
    const double least = k_bits * std::fabs(nearer.at) / std::fabs(across.at - here.at);
    if (!(least <= 0.5) || here.at == across.at || nearer.value == 0.0) break;
    const double way = (here.at - across.at) / (left.at - across.at);
    const double rise = (here.value - across.value) / (left.value - across.value);
    share = 0.5;
    if (rise * rise < way && (1.0 - rise) * (1.0 - rise) < 1.0 - way)
      share = here.value / (across.value - here.value) * left.value / (across.value - left.value) +
              (left.at - here.at) / (across.at - here.at) * here.value / (left.value - here.value) *
                  across.value / (left.value - across.value);
    share = std::min(1.0 - least, std::max(least, share));
  }
  return here_below ? across.at : here.at;
}

}  // namespace linerwright
