// Round walls told from the flat places of a mesh.
#pragma once

#include <vector>

#include "fit.hpp"
#include "flats.hpp"

namespace linerwright {

struct MeshWall {
  FittedSurface fit;
  std::vector<std::size_t> facets;
};

// Cylinders, cones, tori and ruled walls that corners of the mesh lie on to `within`; flats on none of them
// belong to no wall.
std::vector<MeshWall> mesh_walls(const Mesh& mesh, const std::vector<Flat>& flats, double within);

}  // namespace linerwright
