// Diagonals that two faces of a mesh have in common.
#pragma once

#include <cstddef>
#include <vector>

#include "linerwright/mesh/mesh.hpp"

namespace linerwright {

// Where two faces meet at a sharp turn of their common edge, both may cut the same corner off it, and the
// diagonal is then shared by four facets. In all faces but one it gets a point in its middle. `face_of` names
// the face of each triangle and grows with the mesh.
void split_shared_diagonals(Mesh& mesh, std::vector<std::size_t>& face_of);

}  // namespace linerwright
