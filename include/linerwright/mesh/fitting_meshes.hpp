// The bodies of a fitting as meshes, made straight from its sheets and joints.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "linerwright/fitting/fitting.hpp"
#include "linerwright/mesh/mesh.hpp"

namespace linerwright {

struct BodyPart {
  std::string name;  // as Part's in solid.hpp
  PartRole role;
  int piece = -1;
  Mesh mesh;
};

// Metal, liner pieces and bore, in the order of a Model's parts. Every mesh is closed, outward and within the
// deflection of the true surfaces; bodies that touch share the points of their joints. Throws GeometryError
// where that does not come about.
std::vector<BodyPart> fitting_meshes(const Fitting& fitting, const MeshOptions& options);
// The same where chords must not thin a layer of this thickness, mm: an eighth of it at most.
std::vector<BodyPart> fitting_meshes(const Fitting& fitting, MeshOptions options, double thinnest);

// The files metal, liner and bore: name and binary STL, mm.
std::vector<std::pair<std::string, std::string>> stl_files(const std::vector<BodyPart>& bodies);

}  // namespace linerwright
