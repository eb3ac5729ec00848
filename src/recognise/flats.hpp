// The flat places of a mesh: facets of one plane beside each other, as the strips between a wall's rulings
// are.
#pragma once

#include <optional>
#include <vector>

#include "linerwright/solid/solid.hpp"

namespace linerwright {

struct Flat {
  Vec3 normal{};
  Vec3 middle{};
  double area = 0.0;
  std::vector<int> corners;  // of the mesh, each once
  std::vector<std::size_t> facets;
  std::vector<std::size_t> beside;  // flats that share an edge
};

// Every facet that is not too thin to have a normal lies on one of them; `of_facet` says on which.
struct Flats {
  std::vector<Flat> flats;
  std::vector<std::optional<std::size_t>> of_facet;  // none: too thin
};
Flats flats_of(const Mesh& mesh, double within);

// The facets at each edge of the mesh: smaller corner, larger corner, facets.
struct MeshEdge {
  int from = 0, to = 0;
  std::vector<std::size_t> facets;
};
std::vector<MeshEdge> edges_of(const Mesh& mesh);

}  // namespace linerwright
