// The bodies of a fitting as meshes, made straight from its sheets and joints.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "linerwright/fitting/fitting.hpp"
#include "linerwright/mesh/mesh.hpp"

namespace linerwright {

struct BodyPart {
  std::string name;  // as Part's in solid.hpp
  PartRole role;
  std::optional<int> piece{};
  Mesh mesh;
};

// How far facets of a pressed bend's metal may lie off it along the bend, mm: the deflection, or 3e-5 of the
// radius of its heel where that is more. Both faces have the same sections, so that thins no metal.
double deflection_along(const PressedBend& bend, double gauge, double deflection);

// Metal, liner pieces and bore, in the order of a Model's parts. Every mesh is closed, outward and within the
// deflection of the true surfaces, or deflection_along(); bodies that touch share the points of their joints.
// Throws GeometryError where that does not come about.
std::vector<BodyPart> fitting_meshes(const Fitting& fitting, const MeshOptions& options);
// The same where chords must not thin a layer of this thickness, mm: an eighth of it at most.
std::vector<BodyPart> fitting_meshes(const Fitting& fitting, MeshOptions options, double thinnest);

// The files metal, liner and bore: name and binary STL, mm.
std::vector<std::pair<std::string, std::string>> stl_files(const std::vector<BodyPart>& bodies);

}  // namespace linerwright
