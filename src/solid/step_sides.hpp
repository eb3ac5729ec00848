// Sides of ruled faces that come out of a STEP file without curves on them.
#pragma once

#include <TopoDS_Shape.hxx>

namespace linerwright {

// Lays the edges that run along the sides of ruled B-spline faces on them, where a row of the surface's poles
// is the edge's own curve, or one end of its rows its ends: there the curve on the face is known, and the
// kernel's reader need not search for it point by point. All other edges are left to the reader.
void lay_sides(const TopoDS_Shape& shape);

// Has the kernel's STEP reader do so with every shape that it makes, before its own repairs. Call under the
// translator's lock.
void lay_sides_when_read();

}  // namespace linerwright
