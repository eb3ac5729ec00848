// Searches around a joint.
#pragma once

#include <algorithm>

#include "linerwright/units/vector.hpp"

namespace linerwright {

// The greatest value of f no farther than `step` from a place that is greater than those at that distance, by
// thirds.
template <class F>
double greatest_near(const F& f, double at, double step) {
  double low = at - step;
  double high = at + step;
  while (high - low > 1e-8) {
    const double first = low + (high - low) / 3.0;
    const double second = high - (high - low) / 3.0;
    if (f(first) < f(second))
      low = first;
    else
      high = second;
  }
  return std::max(f(at), f(0.5 * (low + high)));
}

// The greatest value all around, from the highest of `samples` places on.
template <class F>
double greatest_around(const F& f, int samples) {
  const double step = k_two_pi / samples;
  double at = 0.0;
  double best = f(at);
  for (int s = 1; s < samples; ++s)
    if (const double value = f(step * s); value > best) {
      at = step * s;
      best = value;
    }
  return greatest_near(f, at, step);
}

}  // namespace linerwright
