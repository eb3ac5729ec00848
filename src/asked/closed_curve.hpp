// Sums around closed curves.
#pragma once

#include <array>

#include "space.hpp"

namespace linerwright::asked {

// The sum over the chords of a closed curve, `part(point, next)` each: what chords leave of it falls with the
// square of their length, and is taken off by the sum over chords twice as long (L. F. Richardson, 1911).
template <class Where, class Part>
double around_curve(const Where& where, const Part& part, int steps = 5760) {
  double fine = 0.0;
  double coarse = 0.0;
  auto before = where(0.0);
  auto long_before = before;
  for (int i = 1; i <= steps; ++i) {
    const auto now = where(k_turn * i / steps);
    fine += part(before, now);
    before = now;
    if (i % 2 == 1) continue;
    coarse += part(long_before, now);
    long_before = now;
  }
  return (4.0 * fine - coarse) / 3.0;
}

// Three times what the ruled face between two closed curves adds to a volume, from the first to the second:
// `curve(s, depth)` is a place as seen from the origin.
template <class Curve>
double flux_between(const Curve& curve, double from, double to, int steps = 5760) {
  using Rung = std::array<Place, 2>;
  return around_curve(
      [&](double s) {
        return Rung{curve(s, from), curve(s, to)};
      },
      [](const Rung& before, const Rung& now) {
        // the integrand of a bilinear patch is linear in each way: its middle is exact
        const Place middle = 0.25 * (before[0] + before[1] + now[0] + now[1]);
        const Place around = 0.5 * (now[0] - before[0] + now[1] - before[1]);
        const Place across = 0.5 * (before[1] - before[0] + now[1] - now[0]);
        return along(middle, square_to(around, across));
      },
      steps);
}

}  // namespace linerwright::asked
