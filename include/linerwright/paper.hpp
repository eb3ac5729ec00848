// Pictures of fittings and patterns as files, and paper at full size.
#pragma once

#include <string>

#include "linerwright/draw.hpp"
#include "linerwright/fitting.hpp"
#include "linerwright/solid.hpp"

namespace linerwright {

// The duct and, beside it, its liner pieces drawn apart, in isometric projection with hidden lines removed;
// 160 mm wide at most, inks `duct` and `liner`. Throws GeometryError.
Picture isometric_picture(const Model& model, const Fitting& fitting);

}  // namespace linerwright
