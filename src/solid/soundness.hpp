// Whether the kernel holds a shape for sound.
#pragma once

#include <TopoDS_Shape.hxx>

namespace linerwright {

// All that its analyzer asks, geometry included: edges' curves agree, wires close on their faces and cross
// neither themselves nor each other, what is inside lies inside, shells are closed and look one way.
bool is_sound(const TopoDS_Shape& shape);

}  // namespace linerwright
