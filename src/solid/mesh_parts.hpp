// The two ways to a mesh.
#pragma once

#include <TopoDS_Shape.hxx>
#include <optional>

#include "shape.hpp"

namespace linerwright {

// The mesh of a solid made of planes, cylinders, cones, ruled surfaces and tori, as ours are: corners on the
// edges only (and in rows on tori and twisted joint faces), triangles along the rulings, no open edge.
// Nothing where a face is of another form.
std::optional<Mesh> ruled_mesh(const TopoDS_Shape& shape, double deflection, double angle);
// Puts such triangles, open edges and all, on the faces and edges themselves, each shared one once. False
// where a face is of another form.
bool put_ruled_triangles_on(const TopoDS_Shape& shape, double deflection, double angle);
// The mesh of any solid by the kernel's mesher.
Mesh kernel_mesh(const TopoDS_Shape& shape, double deflection, double angle);

}  // namespace linerwright
