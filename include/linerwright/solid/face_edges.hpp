// Whether the edges of a solid lie on its faces: told of solids that were read from a file.
#pragma once

#include "linerwright/solid/solid.hpp"

namespace linerwright {

// The largest distance, mm, of a solid's edges from the surfaces of the faces they bound, at places along
// each edge. Throws GeometryError where the kernel fails, or an edge has no curve on a face.
double edges_off_faces(const Solid& solid);

}  // namespace linerwright
