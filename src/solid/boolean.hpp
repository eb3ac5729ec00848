// The kernel's boolean operations are believed only where they report no doubt.
#pragma once

#include <fmt/format.h>

#include "linerwright/units/error.hpp"

namespace linerwright {

template <class Operation>
void require_clean(const Operation& operation, const char* what) {
  if (operation.HasErrors()) throw GeometryError(fmt::format("{}: the boolean operation failed", what));
  if (operation.HasWarnings())
    throw GeometryError(fmt::format("{}: the boolean operation is in doubt", what));
}

}  // namespace linerwright
