// Where a solid is flat: open ends, as they are measured on its faces.
#pragma once

#include <vector>

#include "linerwright/solid/solid.hpp"

namespace linerwright {

// A flat face with circles, or arcs of them, around one centre on its edge. Lengths mm.
struct FlatEnd {
  Vec3 centre;
  Vec3 outward;               // unit normal, out of the material
  std::vector<double> radii;  // ascending; curves that lie within 1e-4 mm of a circle count
};

// All of a solid's, in the order of its faces. Throws GeometryError where the kernel fails.
std::vector<FlatEnd> flat_ends(const Solid& solid);

// A flat face by the ends of its edges, in no order, each once.
struct FlatFace {
  Vec3 outward;
  std::vector<Vec3> corners;
};
std::vector<FlatFace> flat_faces(const Solid& solid);

}  // namespace linerwright
