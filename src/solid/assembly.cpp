// Solids in their places.
#include <BRepBuilderAPI_Copy.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_ListOfShape.hxx>
#include <gp_Ax3.hxx>
#include <gp_Trsf.hxx>

#include "assembly_side.hpp"
#include "boolean.hpp"
#include "linerwright/units/error.hpp"
#include "shape.hpp"

namespace linerwright {

TopLoc_Location kernel::location_of(const Frame& frame) {
  const gp_Dir z(frame.z.x, frame.z.y, frame.z.z);
  const gp_Dir x(frame.x.x, frame.x.y, frame.x.z);
  gp_Trsf move;
  move.SetTransformation(gp_Ax3(to_kernel(frame.origin), z, x), gp_Ax3());
  return TopLoc_Location(move);
}

Solid kernel::placed(const Solid& solid, const Frame& frame) {
  return make_solid(solid.shape().shape.Moved(location_of(frame)));
}

double kernel::volume_in_place(const Solid& solid) {
  return measured_volume(solid.shape().shape);
}

SolidBox kernel::box_around(const Solid& solid) {
  const Bnd_Box box = box_of(solid.shape().shape);
  SolidBox out;
  box.Get(out.low.x, out.low.y, out.low.z, out.high.x, out.high.y, out.high.z);
  return out;
}

Fused kernel::fused(const std::vector<Solid>& solids) {
  if (solids.size() == 1) return {1, measured_volume(solids.front().shape().shape)};
  TopTools_ListOfShape first;
  TopTools_ListOfShape others;
  // copies: one shape in two places confuses the operation
  for (std::size_t i = 0; i < solids.size(); ++i)
    (i == 0 ? first : others).Append(BRepBuilderAPI_Copy(solids[i].shape().shape).Shape());
  const Operated fuse = kernel_operations().fused(first, others);
  Fused out{0, 0.0};
  for (TopExp_Explorer each(sure(fuse, "union"), TopAbs_SOLID); each.More(); each.Next()) {
    ++out.solids;
    out.volume += measured_volume(each.Current());
  }
  return out;
}

}  // namespace linerwright
