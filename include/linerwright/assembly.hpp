// Models placed in space: an assembly in which each part is written once and placed as often as it occurs.
#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <ostream>
#include <string>
#include <vector>

#include "linerwright/solid.hpp"

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
// The bodies of the model with this index: asked for one after the other, each once, and let go before the
// next one.
using AssemblyModel = std::function<std::shared_ptr<const Model>(std::size_t)>;

// The solid moved into a frame; its faces are shared.
Solid placed(const Solid& solid, const Frame& frame);
Mesh placed(const Mesh& mesh, const Frame& frame);
// Volume of any solid, mm3.
double volume_in_place(const Solid& solid);

// A STEP file of the assembly, with named, coloured parts and a fixed time stamp; one writer at a time.
// Throws WriteError, GeometryError.
void write_assembly(const std::filesystem::path& file, const Assembly& assembly, const AssemblyModel& model);

// The solid that these make up together, touching ones fused where they touch; how many solids are left, and
// their volume. Throws GeometryError where the kernel reports any doubt.
struct Fused {
  std::size_t solids;
  double volume;  // mm3
};
Fused fused(const std::vector<Solid>& solids);
// A box around a solid, a little larger than it.
struct SolidBox {
  Vec3 low, high;
};
SolidBox box_around(const Solid& solid);

// ---- Meshes in many places

// A mesh of a body of one of an assembly's models.
struct BodyMesh {
  PartRole role;
  int piece = -1;
  const Mesh* mesh;
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
