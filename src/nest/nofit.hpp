// No-fit polygons: where one outline may not stand relative to another.
#pragma once

#include <polyclipping/clipper.hpp>

namespace linerwright::nesting {

// The region of all shifts q (grid units) at which b + q overlaps a; touching does not count. `a` and `b` are
// an outer contour counter-clockwise followed by holes clockwise. Room for one outline inside a hole of the
// other is left out of the region. Result: outer contours counter-clockwise, holes clockwise.
ClipperLib::Paths no_fit(const ClipperLib::Paths& a, const ClipperLib::Paths& b);

// The paths turned by 180 degrees about the origin.
ClipperLib::Paths turned(const ClipperLib::Paths& paths);

}  // namespace linerwright::nesting
