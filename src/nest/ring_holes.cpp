#include "ring_holes.hpp"

#include <algorithm>

namespace linerwright::nesting {

namespace {

constexpr double k_same = 1e-6;  // mm

}  // namespace

bool clears_holes(const DivisibleItem& item, const DivisionChoice& rings) {
  std::vector<int> holes(rings.size(), 0);
  for (const HeldStretch& held : item.held) {
    double top = 0.0;
    for (std::size_t r = 0; r < rings.size(); ++r) {
      const double foot = top;
      top += rings[r].height;
      if (r + 1 < rings.size() && top > held.low + k_same && top < held.high - k_same) return false;
      const double middle = 0.5 * (held.low + held.high);
      if (middle < foot || middle >= top || rings[r].panels == 1) continue;
      // where two holes stand side by side the search does not know which way around they lie
      if (++holes[r] > 1 || item.around / rings[r].panels < held.panel) return false;
    }
  }
  return true;
}

DivisionChoice moved_to_hole(const DivisibleItem& item, DivisionChoice rings, Random& random) {
  const HeldStretch& held = item.held[random.below(item.held.size())];
  const double cut = random.flip() ? held.low : held.high;
  const std::size_t way = random.below(3);
  if (way == 0) std::reverse(rings.begin(), rings.end());
  double foot = 0.0;
  for (std::size_t r = 0; r < rings.size() && way > 0; ++r) {
    const double top = foot + rings[r].height;
    if (cut > foot && cut < top) {
      if (way == 1 && r + 1 < rings.size()) {
        rings[r].height = cut - foot;
        rings[r + 1].height += top - cut;
      } else {
        rings[r].height = top - cut;
        rings.insert(rings.begin() + static_cast<std::ptrdiff_t>(r), {cut - foot, 1});
      }
      break;
    }
    foot = top;
  }
  return rings;
}

}  // namespace linerwright::nesting
