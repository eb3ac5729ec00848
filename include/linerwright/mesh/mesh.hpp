// Triangle meshes of bodies, and STL files of them. Nothing here needs the geometry kernel.
#pragma once

#include <array>
#include <istream>
#include <ostream>
#include <string>
#include <vector>

#include "linerwright/units/vector.hpp"

namespace linerwright {

enum class PartRole { metal, liner, bore };

// Triangles over shared corners; closed and outward where it comes from a solid.
struct Mesh {
  std::vector<Vec3> points;
  std::vector<std::array<int, 3>> triangles;
};

struct MeshOptions {
  double deflection = 0.1;  // largest distance of a facet from the surface, mm
  double angle = 0.2;       // largest turn between neighbouring facets, radians
};

double mesh_volume(const Mesh& mesh);
// Edges that are not shared by exactly two facets running in opposite directions.
int open_edges(const Mesh& mesh);

// One binary STL with all meshes in it, millimetres.
void write_stl(std::ostream& out, const std::vector<Mesh>& meshes, const std::string& title);
// The facets as read back, corners welded where equal. Throws InputError on a broken file.
Mesh read_stl(std::istream& in, const std::string& name);
// The bodies of a mesh: facets connected across their edges, each with its own corners. Bodies that touch
// along an edge are told apart by their facets standing together, as write_stl writes them.
std::vector<Mesh> split_bodies(const Mesh& mesh);

}  // namespace linerwright
