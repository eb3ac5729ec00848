// Slices of bodies made of our faces.
#pragma once

#include <optional>
#include <vector>

#include "shape.hpp"

namespace linerwright {

// One closed line in which a plane cuts a body's boundary, in the plane's own coordinates about its point.
struct SliceLoop {
  double area;                // enclosed, mm2
  std::vector<Vec2> outline;  // points along it
};

// All of them. The plane is met by the edges at the roots of their curves, and by a face along one line
// between two edges: on straight rulings a closed form of its first coordinate, integrated by Gauss's rule.
// Nothing where a face or an edge is of another form. Throws GeometryError where the lines do not close.
std::optional<std::vector<SliceLoop>> slice_loops(const TopoDS_Shape& body, const PlaneTarget& plane);

}  // namespace linerwright
