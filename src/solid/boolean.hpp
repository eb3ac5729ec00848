// The kernel's boolean operations are believed only where they report no doubt.
#pragma once

#include <fmt/format.h>

#include "kernel_operations.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

// The shape that came out. Throws GeometryError where the kernel has any doubt of it.
inline const TopoDS_Shape& sure(const Operated& operated, const char* what) {
  if (operated.failed) throw GeometryError(fmt::format("{}: the boolean operation failed", what));
  if (operated.in_doubt) throw GeometryError(fmt::format("{}: the boolean operation is in doubt", what));
  return operated.shape;
}

}  // namespace linerwright
