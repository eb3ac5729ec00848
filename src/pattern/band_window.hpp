// Guide bands around a body, with a window that the hole of a branch is cut along.
#pragma once

#include <vector>

#include "linerwright/pattern/guide_band.hpp"

namespace linerwright {

// A band for each branch's hole, holes of one size and shape on one band. The window is the first hole of its
// cut. Throws InputError where the band's sizes leave no band.
std::vector<GuideBand> window_bands(const std::vector<Fitting>& fittings, const BandSheet& sheet);

// Largest distance, mm, of the window, rolled around the liner, from the edge that the hole is to be cut to.
double window_error(const GuideBand& band, const std::vector<Fitting>& fittings);

// Bolt holes in a band's two ends, one on the other where it is clamped; `at` gives the flat place of a share
// of the lap's height, once around or not. `bolt` is their diameter.
template <class At>
void add_bolt_holes(Pattern& pattern, double bolt, const At& at) {
  constexpr int k_corners = 36;
  for (const double turn : {0.0, k_two_pi})
    for (const double share : {0.25, 0.75}) {
      const Vec2 middle = at(turn, share);
      Ring hole;
      for (int i = 0; i < k_corners; ++i) {
        const double angle = -k_two_pi * i / k_corners;
        hole.push_back(middle + 0.5 * bolt * Vec2{std::cos(angle), std::sin(angle)});
      }
      pattern.cut.holes.push_back(std::move(hole));
    }
}

// Lays the band's cut with its lowest point at y = 0 and its first at x = 0.
inline void lay_band(Pattern& pattern) {
  const Box box = bounding_box(pattern.cut.outer).value();
  pattern.placement.shift = -1.0 * box.low;
  pattern.board = box.high - box.low;
  for (Vec2& p : pattern.cut.outer) p = pattern.placement.board(p);
  for (Ring& hole : pattern.cut.holes)
    for (Vec2& p : hole) p = pattern.placement.board(p);
  pattern.board_area = area(pattern.cut);
}

// The band's words beside its cut.
void add_band_label(GuideBand& band, const Fitting& fitting);

}  // namespace linerwright
