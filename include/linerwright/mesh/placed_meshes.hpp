// An assembly: models placed in space, each as often as it occurs; and the files of their meshes.
#pragma once

#include <cstddef>
#include <optional>
#include <ostream>
#include <string>
#include <vector>

#include "linerwright/mesh/mesh.hpp"

namespace linerwright {

struct AssemblyPlace {
  std::string name;       // "E-1#2"
  std::size_t model = 0;  // index
  Frame frame;            // of the model's coordinates, in space
  std::size_t group = 0;  // index, where there are groups
};
struct Assembly {
  std::string name;
  std::vector<std::string> models;  // of the fittings they are made of
  std::vector<AssemblyPlace> places;
  std::vector<std::string>
      groups{};  // assemblies of their own, in the whole: runs of a tree; none: all in one
};
// A mesh moved into a frame.
Mesh placed(const Mesh& mesh, const Frame& frame);

// A mesh of a body of one of an assembly's models.
struct BodyMesh {
  PartRole role;
  std::optional<int> piece{};
  const Mesh* mesh;
  std::string name{};  // behind its place's; empty: "metal" or "liner"
};
// The bodies of each model.
using ModelMeshes = std::vector<std::vector<BodyMesh>>;

// One binary STL with the bodies of this role in all their places, into a stream that can be sought in.
void write_stl(std::ostream& out, const Assembly& assembly, const ModelMeshes& models, PartRole role,
               const std::string& title);

// A binary glTF 2.0 file: metres, y up (z of the meshes), one node for each place, meshes shared. The metal
// is translucent; bores are left out. Throws GeometryError for more than such a file holds.
void write_glb(std::ostream& out, const Assembly& assembly, const ModelMeshes& models);

}  // namespace linerwright
