#include "row_order.hpp"

#include <algorithm>

namespace linerwright {

namespace {

constexpr double k_same = 1e-6;  // mm

// Whether a piece passes through its own end and all metal on that side, +1 the high one.
bool passes(const std::vector<RowRadii>& radii, int piece, int step) {
  const RowRadii& own = radii[static_cast<std::size_t>(piece)];
  const double widest = std::max(own.low, own.high) - k_same;
  bool free = (step > 0 ? own.high : own.low) >= widest;
  for (int i = piece + step; i >= 0 && i < static_cast<int>(radii.size()); i += step) {
    const RowRadii& there = radii[static_cast<std::size_t>(i)];
    free = free && std::min(there.low, there.high) >= widest;
  }
  return free;
}

int first_of(const std::vector<RowRadii>& radii) {
  const int n = static_cast<int>(radii.size());
  const int middle = (n - 1) / 2;
  for (int away = 0; away < n; ++away)
    for (const int first : {middle + away, middle - away}) {
      if (first < 0 || first >= n || !(passes(radii, first, 1) || passes(radii, first, -1))) continue;
      bool all = true;
      for (int i = 0; i < n; ++i)
        if (i != first) all = all && passes(radii, i, i > first ? 1 : -1);
      if (all) return first;
    }
  return middle;
}

}  // namespace

std::vector<int> row_order(const std::vector<RowRadii>& radii) {
  const int n = static_cast<int>(radii.size());
  const int first = first_of(radii);
  std::vector<int> order{first};
  for (int step = 1; step < n; ++step) {
    if (first + step < n) order.push_back(first + step);
    if (first - step >= 0) order.push_back(first - step);
  }
  return order;
}

}  // namespace linerwright
