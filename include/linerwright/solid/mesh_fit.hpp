// How a mesh lies on the solid that it stands for.
#pragma once

#include <cstddef>
#include <vector>

#include "linerwright/solid/solid.hpp"

namespace linerwright {

struct EdgeFit {
  double off;  // largest distance of a solid's edge from the mesh's edges that follow it, mm
  Vec3 axis;   // unit, of an edge that is a circle or a part of one; else zero
};

struct MeshFit {
  double points_off;  // largest distance of a corner of the mesh from the solid's faces and edges, mm
  std::size_t points;
  std::vector<EdgeFit> edges;
};

// Every edge of the solid has to be followed, from end to end and in order, by edges of the mesh whose
// corners lie on it within this distance, mm. Throws GeometryError where one is not.
MeshFit mesh_fit(const Mesh& mesh, const Solid& solid, double within);

}  // namespace linerwright
