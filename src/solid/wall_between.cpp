// Why it proves what it says. A round body lies within its widest wall: all its faces are straight between
// edges that lie on that cylinder or inside it. The branch lies outside: from any point of it the way down
// along its axis stays in it as far as a face that looks down, and all of those are patches of the same
// cylinder, on the near side of its axis. There the way up leaves the cylinder, and a straight line that has
// left a convex body does not come back.
#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Vertex.hxx>
#include <cmath>
#include <gp_Cylinder.hxx>
#include <gp_Lin.hxx>
#include <gp_Pln.hxx>
#include <optional>

#include "heights.hpp"
#include "joint_between.hpp"
#include "joint_faces.hpp"

namespace linerwright {

namespace {

constexpr double k_touching = 1e-7;  // mm
constexpr double k_parallel = 1e-9;

bool coaxial(const gp_Cylinder& a, const gp_Cylinder& b) {
  return a.Axis().Direction().IsParallel(b.Axis().Direction(), k_parallel) &&
         gp_Lin(a.Axis()).Distance(b.Location()) < k_touching;
}

std::optional<gp_Cylinder> widest_wall(const TopoDS_Shape& body) {
  std::optional<gp_Cylinder> widest;
  for (TopExp_Explorer it(body, TopAbs_FACE); it.More(); it.Next()) {
    const BRepAdaptor_Surface surface(TopoDS::Face(it.Current()), false);
    if (surface.GetType() == GeomAbs_Cylinder && (!widest || surface.Cylinder().Radius() > widest->Radius()))
      widest = surface.Cylinder();
  }
  return widest;
}

bool lies_within(const TopoDS_Shape& body, const gp_Cylinder& wall) {
  TopTools_IndexedMapOfShape edges;
  TopTools_IndexedMapOfShape vertices;
  for (TopExp_Explorer it(body, TopAbs_FACE); it.More(); it.Next()) {
    const BRepAdaptor_Surface surface(TopoDS::Face(it.Current()), false);
    if (surface.GetType() == GeomAbs_Cylinder) {
      if (!coaxial(surface.Cylinder(), wall)) continue;
      TopExp::MapShapes(it.Current(), TopAbs_EDGE, edges);
      TopExp::MapShapes(it.Current(), TopAbs_VERTEX, vertices);
    } else if (surface.GetType() != GeomAbs_Plane && !is_ruled(surface)) {
      return false;
    }
  }
  for (TopExp_Explorer it(body, TopAbs_EDGE); it.More(); it.Next()) {
    const TopoDS_Edge& edge = TopoDS::Edge(it.Current());
    if (edges.Contains(edge)) continue;
    if (BRepAdaptor_Curve(edge).GetType() != GeomAbs_Line || !vertices.Contains(TopExp::FirstVertex(edge)) ||
        !vertices.Contains(TopExp::LastVertex(edge)))
      return false;
  }
  return true;
}

bool lies_outside(const TopoDS_Shape& branch, const gp_Cylinder& wall, const gp_Vec& up) {
  const gp_Vec along(wall.Axis().Direction());
  const gp_Vec across = up - up.Dot(along) * along;
  if (!(across.Magnitude() > 0.1)) return false;
  const double middle = gp_Vec(wall.Location().XYZ()).Dot(across);
  for (TopExp_Explorer it(branch, TopAbs_FACE); it.More(); it.Next()) {
    const TopoDS_Face& face = TopoDS::Face(it.Current());
    const BRepAdaptor_Surface surface(face, false);
    const bool cylinder = surface.GetType() == GeomAbs_Cylinder;
    if (surface.GetType() == GeomAbs_Plane) {
      if (!(normals_of(face).front().Dot(up) > 0.0)) return false;
    } else if (cylinder && coaxial(surface.Cylinder(), wall)) {
      const bool outward = surface.Cylinder().Direct() == (face.Orientation() == TopAbs_FORWARD);
      if (outward || std::fabs(surface.Cylinder().Radius() - wall.Radius()) > k_touching ||
          -highest(face, -across) < middle)
        return false;
    } else if (!cylinder || !surface.Cylinder().Axis().Direction().IsParallel(gp_Dir(up), k_parallel)) {
      return false;
    }
  }
  return true;
}

bool stands_on_wall(const TopoDS_Shape& branch, const TopoDS_Shape& body) {
  const std::optional<gp_Cylinder> wall = widest_wall(body);
  if (!wall || !lies_within(body, *wall)) return false;
  for (TopExp_Explorer it(branch, TopAbs_FACE); it.More(); it.Next()) {
    const BRepAdaptor_Surface surface(TopoDS::Face(it.Current()), false);
    if (surface.GetType() != GeomAbs_Cylinder || coaxial(surface.Cylinder(), *wall)) continue;
    const gp_Vec axis(surface.Cylinder().Axis().Direction());
    return lies_outside(branch, *wall, axis) || lies_outside(branch, *wall, -axis);
  }
  return false;
}

}  // namespace

bool wall_between(const TopoDS_Shape& a, const TopoDS_Shape& b) {
  try {
    return stands_on_wall(a, b) || stands_on_wall(b, a);
  } catch (const UnknownForm&) {
    return false;
  }
}

}  // namespace linerwright
