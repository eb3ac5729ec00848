// The metal of a pressed bend: tori and cylinders on shared circles.
#pragma once

#include <TopoDS_Shape.hxx>
#include <vector>

#include "linerwright/fitting/fitting.hpp"

namespace linerwright {

// Its faces, turned outward.
std::vector<TopoDS_Shape> pressed_faces(const PressedBend& bend, double gauge);

}  // namespace linerwright
