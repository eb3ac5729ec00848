// Models placed in space: an assembly in which each part is written once and placed as often as it occurs.
#pragma once

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "linerwright/solid.hpp"

namespace linerwright {

struct AssemblyModel {
  std::string name;  // of the fitting it was made of
  std::shared_ptr<const Model> model;
};
struct AssemblyPlace {
  std::string name;       // "E-1#2"
  std::size_t model = 0;  // index
  Frame frame;            // of the model's coordinates, in space
};
struct Assembly {
  std::string name;
  std::vector<AssemblyModel> models;
  std::vector<AssemblyPlace> places;
};

// The solid moved into a frame; its faces are shared.
Solid placed(const Solid& solid, const Frame& frame);
Mesh placed(const Mesh& mesh, const Frame& frame);
// Volume of any solid, mm3.
double volume_in_place(const Solid& solid);

// A STEP file of the assembly, with named, coloured parts and a fixed time stamp; one writer at a time.
// Throws WriteError, GeometryError.
void write_assembly(const std::filesystem::path& file, const Assembly& assembly);

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

// ---- glTF 2.0

struct GlbPart {
  PartRole role;
  int piece = -1;
  const Mesh* mesh;
};
struct GlbModel {
  std::vector<GlbPart> parts;
};
// The bytes of a binary glTF file: metres, y up (z of the meshes), one node for each place, meshes shared.
// The metal is translucent.
std::string glb_of(const Assembly& assembly, const std::vector<GlbModel>& models);

}  // namespace linerwright
