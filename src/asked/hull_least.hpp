// The least of something over all planes of a square-to-round.
#pragma once

#include <algorithm>

#include "hull.hpp"

namespace linerwright::asked {

constexpr int k_samples = 90;  // planes of a quarter

// The least of f about the sample where it is least, within that sample's quarter, by the golden section.
template <class Function>
double least_about(const Hull& hull, const Function& f, std::size_t sample) {
  const std::size_t each = k_samples + 1;
  const double step = k_quarter / k_samples;
  const double phi = hull.planes[sample].phi;
  double a = sample % each == 0 ? phi : phi - step;
  double b = sample % each == k_samples ? phi : phi + step;
  const double golden = 0.5 * (std::sqrt(5.0) - 1.0);
  double c = b - golden * (b - a);
  double d = a + golden * (b - a);
  double at_c = f(hull.plane(c));
  double at_d = f(hull.plane(d));
  for (int i = 0; i < 24; ++i) {  // the least is flat: its place is off by a millionth, its value by nothing
    if (at_c < at_d) {
      b = d;
      d = c;
      at_d = at_c;
      c = b - golden * (b - a);
      at_c = f(hull.plane(c));
    } else {
      a = c;
      c = d;
      at_c = at_d;
      d = a + golden * (b - a);
      at_d = f(hull.plane(d));
    }
  }
  return std::min({f(hull.planes[sample]), at_c, at_d});
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
  for (std::size_t i = from + 1; i < from + k_each; ++i)
    if (f(hull.planes[i]) < f(hull.planes[best])) best = i;
  return least_about(hull, f, best);
}

}  // namespace linerwright::asked
