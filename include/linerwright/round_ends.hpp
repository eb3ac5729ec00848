// Where a solid is flat and round: open ends, as they are measured on its faces.
#pragma once

#include <vector>

#include "linerwright/solid.hpp"

namespace linerwright {

// A flat face with circles, or arcs of them, around one centre on its edge. Lengths mm.
struct FlatEnd {
  Vec3 centre;
  Vec3 outward;               // unit normal, out of the material
  std::vector<double> radii;  // ascending; curves that lie within 1e-4 mm of a circle count
};

// All of a solid's, in the order of its faces. Throws GeometryError where the kernel fails.
std::vector<FlatEnd> flat_ends(const Solid& solid);

}  // namespace linerwright
