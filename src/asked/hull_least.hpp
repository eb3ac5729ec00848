// The least of something over all planes of a square-to-round.
#pragma once

#include <algorithm>

#include "hull.hpp"

namespace linerwright::asked {

constexpr int k_samples = 90;  // planes of a quarter

// The least of f about the sample where it is least, within that sample's quarter: parabolas through three
// places, the golden section where they do not close in (R. P. Brent, Algorithms for minimization without
// derivatives, 1973).
template <class Function>
double least_about(const Hull& hull, const Function& f, std::size_t sample) {
  const std::size_t each = k_samples + 1;
  const double step = k_quarter / k_samples;
  const double phi = hull.planes[sample].phi;
  double a = sample % each == 0 ? phi : phi - step;
  double b = sample % each == k_samples ? phi : phi + step;
  constexpr double k_golden = 0.3819660112501051;
  struct At {
    double phi, value;
  };
  // the sample itself first: it is the least of three, or an end of its quarter
  At best{phi, f(hull.planes[sample])};
  At second = best;
  At third = best;
  double moved = 0.0;
  double before = 0.0;
  // the least is flat: where its place is off by a millionth, its value is off by nothing
  constexpr double k_close = 2e-8;
  for (int i = 0; i < 40 && b - a > 4.0 * k_close; ++i) {
    const double middle = 0.5 * (a + b);
    if (std::abs(best.phi - middle) <= 2.0 * k_close - 0.5 * (b - a)) break;
    double p = 0.0;
    double q = 0.0;
    if (std::abs(before) > k_close) {
      const double r = (best.phi - second.phi) * (best.value - third.value);
      q = (best.phi - third.phi) * (best.value - second.value);
      p = (best.phi - third.phi) * q - (best.phi - second.phi) * r;
      q = 2.0 * (q - r);
      if (q > 0.0) p = -p;
      q = std::abs(q);
    }
    if (q > 0.0 && std::abs(p) < std::abs(0.5 * q * before) && p > q * (a - best.phi) &&
        p < q * (b - best.phi)) {
      before = moved;
      moved = p / q;
    } else {
      before = (best.phi < middle ? b : a) - best.phi;
      moved = k_golden * before;
    }
    if (std::abs(moved) < k_close) moved = std::copysign(k_close, best.phi < middle ? 1.0 : -1.0);
    const double at = best.phi + moved;
    const At here{at, f(hull.plane(at))};
    if (here.value <= best.value) {
      (here.phi < best.phi ? b : a) = best.phi;
      third = second;
      second = best;
      best = here;
      continue;
    }
    (here.phi < best.phi ? a : b) = here.phi;
    if (here.value <= second.value || second.phi == best.phi) {
      third = second;
      second = here;
    } else if (here.value <= third.value || third.phi == best.phi || third.phi == second.phi) {
      third = here;
    }
  }
  return best.value;
}

// Over all planes.
template <class Function>
double least_of(const Hull& hull, const Function& f) {
  std::size_t best = 0;
  double least = f(hull.planes[0]);
  for (std::size_t i = 1; i < hull.planes.size(); ++i) {
    const double value = f(hull.planes[i]);
    if (value >= least) continue;
    least = value;
    best = i;
  }
  return least_about(hull, f, best);
}

// The same over those of one quarter.
template <class Function>
double least_in_quarter(const Hull& hull, const Function& f, int quarter) {
  constexpr std::size_t k_each = k_samples + 1;
  const std::size_t from = k_each * static_cast<std::size_t>(quarter);
  std::size_t best = from;
  double least = f(hull.planes[from]);
  for (std::size_t i = from + 1; i < from + k_each; ++i) {
    const double value = f(hull.planes[i]);
    if (!(value < least)) continue;
    least = value;
    best = i;
  }
  return least_about(hull, f, best);
}

}  // namespace linerwright::asked
