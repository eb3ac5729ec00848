// Models placed in space: an assembly in which each part is written once and placed as often as it occurs.
#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "linerwright/mesh/placed_meshes.hpp"
#include "linerwright/solid/solid.hpp"

namespace linerwright {

// The bodies of the model with this index: asked for one after the other, each once, and let go before the
// next one.
using AssemblyModel = std::function<std::shared_ptr<const Model>(std::size_t)>;

// The solid moved into a frame; its faces are shared.
Solid placed(const Solid& solid, const Frame& frame);
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

}  // namespace linerwright
