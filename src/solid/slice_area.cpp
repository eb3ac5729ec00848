// Areas of slices: in closed form where a body's faces are like ours, else by boolean operation.
#include <BRepAdaptor_Surface.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeVertex.hxx>
#include <BRepExtrema_DistShapeShape.hxx>
#include <BRepGProp.hxx>
#include <GProp_GProps.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_ListOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Face.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Pln.hxx>
#include <limits>

#include "boolean.hpp"
#include "kernel_side.hpp"
#include "shape.hpp"
#include "slice.hpp"

namespace linerwright {

namespace {

double area_of(const TopoDS_Shape& shape) {
  GProp_GProps properties;
  BRepGProp::SurfaceProperties(shape, properties, 1e-9);
  return properties.Mass();
}

// The slice of a solid by a plane, as faces.
TopoDS_Shape slice_of(const TopoDS_Shape& body, const PlaneTarget& plane) {
  const gp_Pln at(to_kernel(plane.point), gp_Dir(plane.normal.x, plane.normal.y, plane.normal.z));
  const Bnd_Box box = box_of(body);
  // a disk of any shape that reaches past the body on all sides
  const gp_Pnt low = box.CornerMin();
  const gp_Pnt high = box.CornerMax();
  const double reach = low.Distance(high) + to_kernel(plane.point).Distance(low);
  const TopoDS_Face face = BRepBuilderAPI_MakeFace(at, -reach, reach, -reach, reach).Face();
  TopTools_ListOfShape faces;
  TopTools_ListOfShape bodies;
  faces.Append(face);
  bodies.Append(body);
  return sure(kernel_operations().common(faces, bodies), "slice");
}

bool encloses(const std::vector<Vec2>& outline, Vec2 p) {
  bool inside = false;
  for (std::size_t i = 0, k = outline.size() - 1; i < outline.size(); k = i++) {
    const Vec2 a = outline[i];
    const Vec2 b = outline[k];
    if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x)) inside = !inside;
  }
  return inside;
}

double away_from(const std::vector<Vec2>& outline, Vec2 p) {
  double nearest = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Vec2 a = outline[i];
    const Vec2 along = outline[(i + 1) % outline.size()] - a;
    const double squared = dot(along, along);
    const double share = squared > 0.0 ? std::clamp(dot(p - a, along) / squared, 0.0, 1.0) : 0.0;
    nearest = std::min(nearest, distance(p, a + share * along));
  }
  return nearest;
}

// A loop that bounds material from outside, with the loops of the holes in it.
struct Region {
  double area;
  double away;  // from the plane's point
};

std::vector<Region> regions_of(const std::vector<SliceLoop>& loops) {
  std::vector<std::size_t> depth(loops.size(), 0);  // how many loops lie around it
  const auto inside = [&](std::size_t inner, std::size_t outer) {
    return inner != outer && encloses(loops[outer].outline, loops[inner].outline.front());
  };
  for (std::size_t i = 0; i < loops.size(); ++i)
    for (std::size_t k = 0; k < loops.size(); ++k) depth[i] += inside(i, k) ? 1 : 0;
  std::vector<Region> regions;
  for (std::size_t i = 0; i < loops.size(); ++i) {
    if (depth[i] % 2 != 0) continue;
    Region region{loops[i].area,
                  encloses(loops[i].outline, {0.0, 0.0}) ? 0.0 : away_from(loops[i].outline, {0.0, 0.0})};
    for (std::size_t k = 0; k < loops.size(); ++k) {
      if (depth[k] != depth[i] + 1 || !inside(k, i)) continue;
      region.area -= loops[k].area;
      if (encloses(loops[k].outline, {0.0, 0.0})) region.away = away_from(loops[k].outline, {0.0, 0.0});
    }
    regions.push_back(region);
  }
  return regions;
}

double nearest_region(const std::vector<SliceLoop>& loops) {
  Region nearest{0.0, std::numeric_limits<double>::infinity()};
  for (const Region& region : regions_of(loops))
    if (region.away < nearest.away) nearest = region;
  return nearest.area;
}

double nearest_region(const TopoDS_Shape& slice, const PlaneTarget& plane) {
  const TopoDS_Shape point = BRepBuilderAPI_MakeVertex(to_kernel(plane.point)).Vertex();
  Region nearest{0.0, std::numeric_limits<double>::infinity()};
  for (TopExp_Explorer faces(slice, TopAbs_FACE); faces.More(); faces.Next()) {
    BRepExtrema_DistShapeShape distance(point, faces.Current());
    if (!distance.IsDone()) throw GeometryError("slice: the distance to a region could not be found");
    if (distance.Value() < nearest.away) nearest = {area_of(faces.Current()), distance.Value()};
  }
  return nearest.area;
}

bool lies_in_a_flat_face(const TopoDS_Shape& body, const PlaneTarget& plane) {
  constexpr double k_parallel = 1e-9;
  constexpr double k_same = 1e-6;  // mm
  const gp_Dir normal(plane.normal.x, plane.normal.y, plane.normal.z);
  for (TopExp_Explorer faces(body, TopAbs_FACE); faces.More(); faces.Next()) {
    const BRepAdaptor_Surface surface(TopoDS::Face(faces.Current()), false);
    if (surface.GetType() == GeomAbs_Plane && surface.Plane().Distance(to_kernel(plane.point)) < k_same &&
        surface.Plane().Axis().Direction().IsParallel(normal, k_parallel))
      return true;
  }
  return false;
}

// In the plane of a flat face the slice is what it comes to from the side on which the body lies.
template <class F>
double up_to_flat_faces(const TopoDS_Shape& body, const PlaneTarget& plane, F&& area) {
  if (!lies_in_a_flat_face(body, plane)) return area(plane);
  constexpr double k_step = 1e-4;  // mm
  double most = 0.0;
  for (const double side : {-k_step, k_step}) {
    const auto away = [&](double step) {
      return area(PlaneTarget{plane.point + step * normalised(plane.normal), plane.normal});
    };
    most = std::max(most, 2.0 * away(side) - away(2.0 * side));
  }
  return most;
}

}  // namespace

double kernel::slice_area(const Solid& solid, const PlaneTarget& plane) {
  const TopoDS_Shape& body = solid.shape().shape;
  if (body.IsNull()) throw GeometryError("slice: there is no body");
  return up_to_flat_faces(body, plane, [&](const PlaneTarget& at) {
    const auto loops = slice_loops(body, at);
    if (!loops) return area_of(slice_of(body, at));
    double area = 0.0;
    for (const Region& region : regions_of(*loops)) area += region.area;
    return area;
  });
}

double kernel::slice_area_at(const Solid& solid, const PlaneTarget& plane) {
  const TopoDS_Shape& body = solid.shape().shape;
  if (body.IsNull()) throw GeometryError("slice: there is no body");
  return up_to_flat_faces(body, plane, [&](const PlaneTarget& at) {
    const auto loops = slice_loops(body, at);
    return loops ? nearest_region(*loops) : nearest_region(slice_of(body, at), at);
  });
}

}  // namespace linerwright
