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

// Facets that belong to no wall go to those beside them that they lie on, and walls that one surface does for
// become one.
void settle_facets(const Mesh& mesh, std::vector<MeshWall>& walls, double within);

// Whether a flat's corners lie on a surface and it faces as the surface does there; of a ruled one whether
// its plane holds the ruling.
bool flat_lies_on(const Mesh& mesh, const FittedSurface& surface, const Flat& flat, double within);

// The places of corners, each once.
std::vector<Vec3> corner_points(const Mesh& mesh, std::vector<int> corners);

}  // namespace linerwright
