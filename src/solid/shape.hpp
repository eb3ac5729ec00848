// Inside src/solid only: the kernel's types and the seams around its quirks.
#pragma once

#include <BRepBndLib.hxx>
#include <Bnd_Box.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Shape.hxx>
#include <filesystem>
#include <gp_Ax3.hxx>
#include <gp_Pnt.hxx>
#include <gp_Pnt2d.hxx>
#include <string>
#include <unordered_map>
#include <vector>

#include "linerwright/solid/solid.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

struct Solid::Shape {
  TopoDS_Shape shape;
};

inline gp_Pnt to_kernel(Vec3 p) {
  return {p.x, p.y, p.z};
}
inline Vec3 from_kernel(const gp_Pnt& p) {
  return {p.X(), p.Y(), p.Z()};
}
inline gp_Ax3 to_kernel(const Frame& frame) {
  return {to_kernel(frame.origin), gp_Dir(frame.z.x, frame.z.y, frame.z.z),
          gp_Dir(frame.x.x, frame.x.y, frame.x.z)};
}

// The upright box around a body, from its curves and surfaces; it may be a little wide.
inline Bnd_Box box_of(const TopoDS_Shape& body) {
  Bnd_Box box;
  BRepBndLib::Add(body, box, Standard_False);
  return box;
}
// The edges of a solid that have a curve, always in the same order.
std::vector<TopoDS_Edge> edges_of(const Solid& solid);
Solid make_solid(const TopoDS_Shape& shape);
// All that a STEP file draws, in millimetres, as one shape. Throws InputError on a broken file.
TopoDS_Shape read_step_shape(const std::filesystem::path& file);
// Volume of a body made of our faces, exact for the faces and boundary curves it has. `known` keeps what each
// face adds, for bodies that share faces.
using FaceFluxes = std::unordered_map<const void*, double>;
double volume_of(const TopoDS_Shape& shape, FaceFluxes& known);
double volume_of(const TopoDS_Shape& shape);
// The same of a small body far from the origin: two faces' curves along one edge lie some 1e-6 mm apart,
// which counts by the way to where volumes are counted from. Bodies that fill one another are counted from
// one place instead.
double volume_from_own_corner(const TopoDS_Shape& shape);
// Volume of any body by the kernel's adaptive integration, relative error 1e-9.
double kernel_volume(const TopoDS_Shape& shape);
// Volume of any body, by the first of the two ways where its faces are like ours.
double measured_volume(const TopoDS_Shape& shape);
struct NamedShape {
  std::string name;
  TopoDS_Shape shape;
};
// What finer curves may mend.
struct CurvesTooCoarse : GeometryError {
  using GeometryError::GeometryError;
};
// Throws GeometryError naming the shape unless each is one valid closed solid, CurvesTooCoarse where its
// tolerances are not small.
void pass_gate(const std::vector<NamedShape>& shapes, Gate gate);

}  // namespace linerwright
