// Triangles of a solid.
#include <algorithm>
#include <cmath>
#include <stdexcept>

#include <fmt/format.h>

#include "kernel_side.hpp"
#include "linerwright/units/error.hpp"
#include "mesh_parts.hpp"

namespace linerwright {

Mesh kernel::mesh_of(const Solid& solid, const MeshOptions& options, double thinnest) {
  // chords thin a wall: an eighth of it at most
  const double deflection = std::min(options.deflection, 0.125 * thinnest);
  if (!(deflection > 0.0) || !(options.angle > 0.0))
    throw std::invalid_argument("a mesh needs a deflection and an angle above zero");
  const TopoDS_Shape& shape = solid.shape().shape;
  if (auto mesh = ruled_mesh(shape, deflection, options.angle); mesh && mesh_volume(*mesh) > 0.0)
    return std::move(*mesh);
  Mesh mesh = kernel_mesh(shape, deflection, options.angle);
  if (const int open = open_edges(mesh); open > 0)
    throw GeometryError(fmt::format("mesh: {} open edges", open));
  if (!(mesh_volume(mesh) > 0.0)) throw GeometryError("mesh: it is turned inside out");
  return mesh;
}

}  // namespace linerwright
