// What the kernel's analyzer asks of a shape with its geometry, but that wires known to be free of crossings
// are not searched for them: the search takes most of an analysis, for it holds each curve's chords against
// each other.
#include "soundness.hpp"

#include <BRepCheck_Analyzer.hxx>
#include <BRepCheck_Edge.hxx>
#include <BRepCheck_Face.hxx>
#include <BRepCheck_ListOfStatus.hxx>
#include <BRepCheck_Wire.hxx>
#include <BRep_Tool.hxx>
#include <Geom2d_BSplineCurve.hxx>
#include <Geom2d_Line.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Wire.hxx>

#include <algorithm>
#include <optional>
#include <vector>

namespace linerwright {

namespace {

// A curve in a face's plane of (u, v) that goes on in one direction, so that it does not cross itself:
// upright, or over u. A spline does where its poles do, and lies within their bounds (variation diminishing
// and convex hull: de Boor, A Practical Guide to Splines).
struct Reach {
  double u_low, u_high, v_low, v_high;
};

std::optional<Reach> reach_of(const std::vector<gp_Pnt2d>& poles) {
  Reach reach{poles[0].X(), poles[0].X(), poles[0].Y(), poles[0].Y()};
  for (const gp_Pnt2d& p : poles) {
    reach.u_low = std::min(reach.u_low, p.X());
    reach.u_high = std::max(reach.u_high, p.X());
    reach.v_low = std::min(reach.v_low, p.Y());
    reach.v_high = std::max(reach.v_high, p.Y());
  }
  const auto goes_on = [&](const auto& coordinate) {
    const double way = coordinate(poles.back()) - coordinate(poles.front());
    for (std::size_t i = 0; i + 1 < poles.size(); ++i)
      if (!((coordinate(poles[i + 1]) - coordinate(poles[i])) * way > 0.0)) return false;
    return true;
  };
  const bool one_way = goes_on([](const gp_Pnt2d& p) { return p.X(); }) ||
                       (reach.u_low == reach.u_high && goes_on([](const gp_Pnt2d& p) { return p.Y(); }));
  return one_way ? std::optional(reach) : std::nullopt;
}

std::optional<Reach> reach_of(const TopoDS_Edge& edge, const TopoDS_Face& face) {
  double first = 0.0;
  double last = 0.0;
  const Handle(Geom2d_Curve) curve = BRep_Tool::CurveOnSurface(edge, face, first, last);
  if (curve.IsNull()) return std::nullopt;
  if (curve->IsKind(STANDARD_TYPE(Geom2d_Line))) return reach_of({curve->Value(first), curve->Value(last)});
  const auto spline = Handle(Geom2d_BSplineCurve)::DownCast(curve);
  if (spline.IsNull() || spline->IsRational() || spline->IsPeriodic()) return std::nullopt;
  std::vector<gp_Pnt2d> poles;
  for (int i = 1; i <= spline->NbPoles(); ++i) poles.push_back(spline->Pole(i));
  return reach_of(poles);
}

// Whether two have no place in common but ends: side by side with one end's u at most, or one over the other.
bool apart(const Reach& a, const Reach& b) {
  const bool beside = a.u_high <= b.u_low || b.u_high <= a.u_low;
  const bool both_upright = a.u_low == a.u_high && b.u_low == b.u_high;
  if (beside && !(both_upright && a.u_low == b.u_low)) return true;
  return a.v_high < b.v_low || b.v_high < a.v_low;
}

bool known_not_to_cross(const TopoDS_Wire& wire, const TopoDS_Face& face) {
  std::vector<Reach> reaches;
  for (TopExp_Explorer edges(wire, TopAbs_EDGE); edges.More(); edges.Next()) {
    const std::optional<Reach> reach = reach_of(TopoDS::Edge(edges.Current()), face);
    if (!reach) return false;
    for (const Reach& other : reaches)
      if (!apart(*reach, other)) return false;
    reaches.push_back(*reach);
  }
  return true;
}

bool is_fine(BRepCheck_Status status) {
  return status == BRepCheck_NoError;
}

bool wire_is_sound(const TopoDS_Wire& wire, const TopoDS_Face& face) {
  BRepCheck_Wire check(wire);
  TopoDS_Edge one;
  TopoDS_Edge other;
  return is_fine(check.Closed2d(face)) && is_fine(check.Orientation(face)) &&
         (known_not_to_cross(wire, face) || is_fine(check.SelfIntersect(face, one, other)));
}

bool edge_is_sound(const TopoDS_Edge& edge, const TopoDS_Face& face) {
  const Handle(BRepCheck_Edge) check = new BRepCheck_Edge(edge);
  check->GeometricControls(Standard_True);
  check->InContext(face);
  check->InitContextIterator();
  for (; check->MoreShapeInContext(); check->NextShapeInContext())
    for (const BRepCheck_Status status : check->StatusOnShape())
      if (!is_fine(status)) return false;
  return std::all_of(check->Status().begin(), check->Status().end(), is_fine);
}

bool face_is_sound(const TopoDS_Face& face) {
  TopTools_IndexedMapOfShape edges;
  TopExp::MapShapes(face, TopAbs_EDGE, edges);
  for (int i = 1; i <= edges.Extent(); ++i)
    if (!edge_is_sound(TopoDS::Edge(edges(i)), face)) return false;
  for (TopExp_Explorer wires(face, TopAbs_WIRE); wires.More(); wires.Next())
    if (!wire_is_sound(TopoDS::Wire(wires.Current()), face)) return false;
  BRepCheck_Face check(face);
  return is_fine(check.IntersectWires()) && is_fine(check.ClassifyWires()) &&
         is_fine(check.OrientationOfWires());
}

}  // namespace

bool is_sound(const TopoDS_Shape& shape) {
  if (!BRepCheck_Analyzer(shape, Standard_False).IsValid()) return false;
  TopTools_IndexedMapOfShape faces;
  TopExp::MapShapes(shape, TopAbs_FACE, faces);
  for (int i = 1; i <= faces.Extent(); ++i)
    if (!face_is_sound(TopoDS::Face(faces(i)))) return false;
  return true;
}

}  // namespace linerwright
