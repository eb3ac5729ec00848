// Points in a solid: a second opinion where the kernel's booleans are in doubt.
#pragma once

#include <cstddef>
#include <vector>

#include "linerwright/solid/solid.hpp"

namespace linerwright {

// Those of the points that lie in the solid, not on its faces (within 1e-4 mm). Throws GeometryError where
// the kernel fails.
std::vector<Vec3> inside(const Solid& solid, const std::vector<Vec3>& points);

// Those of the points that lie in a closed mesh: around them its facets' solid angles add up to a whole turn
// (van Oosterom and Strackee 1983, the solid angle of a plane triangle). Much faster than asking the kernel
// of a solid; what lies nearer to a face than the mesh does may come out on its other side.
std::vector<Vec3> inside(const Mesh& mesh, const std::vector<Vec3>& points);

// How many points of a solid lie in another one, too: where the other's mesh already has them outside, the
// kernel is not asked. Throws GeometryError where the kernel fails.
std::size_t count_in_both(const Solid& own, const Solid& other, const Mesh& mesh_of_other,
                          const std::vector<Vec3>& points);

// At most `most` points just inside a solid: facets' middles, moved inward by `depth` mm.
std::vector<Vec3> points_under_facets(const Mesh& mesh, double depth, std::size_t most);

}  // namespace linerwright
