// Measuring solids: slices, what two of them share, and how far points lie from their edges.
#include <BOPAlgo_PaveFiller.hxx>
#include <BRepAdaptor_Curve.hxx>
#include <BRepAlgoAPI_Common.hxx>
#include <BRepAlgoAPI_Cut.hxx>
#include <BRepBndLib.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeVertex.hxx>
#include <BRepExtrema_DistShapeShape.hxx>
#include <BRepGProp.hxx>
#include <BRep_Tool.hxx>
#include <Bnd_Box.hxx>
#include <GProp_GProps.hxx>
#include <Geom_BSplineCurve.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopTools_ListOfShape.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Pln.hxx>
#include <limits>

#include <fmt/format.h>

#include "kernel_side.hpp"
#include "linerwright/error.hpp"
#include "shape.hpp"

namespace linerwright {

namespace {

Bnd_Box box_of(const TopoDS_Shape& shape) {
  Bnd_Box box;
  BRepBndLib::Add(shape, box, Standard_False);
  return box;
}

double area_of(const TopoDS_Shape& shape) {
  GProp_GProps properties;
  BRepGProp::SurfaceProperties(shape, properties, 1e-9);
  return properties.Mass();
}

template <class Operation>
void require_clean(const Operation& operation, const char* what) {
  if (operation.HasErrors()) throw GeometryError(fmt::format("{}: the boolean operation failed", what));
  if (operation.HasWarnings())
    throw GeometryError(fmt::format("{}: the boolean operation is in doubt", what));
}

// The slice of a solid by a plane, as faces.
TopoDS_Shape slice_of(const Solid& solid, const PlaneTarget& plane) {
  const TopoDS_Shape& body = solid.shape().shape;
  const gp_Pln at(to_kernel(plane.point), gp_Dir(plane.normal.x, plane.normal.y, plane.normal.z));
  const Bnd_Box box = box_of(body);
  // a disk of any shape that reaches past the body on all sides
  const gp_Pnt low = box.CornerMin();
  const gp_Pnt high = box.CornerMax();
  const double reach = low.Distance(high) + to_kernel(plane.point).Distance(low);
  const TopoDS_Face face = BRepBuilderAPI_MakeFace(at, -reach, reach, -reach, reach).Face();
  BRepAlgoAPI_Common common;
  TopTools_ListOfShape faces;
  TopTools_ListOfShape bodies;
  faces.Append(face);
  bodies.Append(body);
  common.SetArguments(faces);
  common.SetTools(bodies);
  common.SetNonDestructive(Standard_True);
  common.Build();
  require_clean(common, "slice");
  return common.Shape();
}

// One edge of a solid as points on its curve, to search from.
struct SampledEdge {
  BRepAdaptor_Curve curve;
  std::vector<double> parameters;
  std::vector<gp_Pnt> points;
};

SampledEdge sampled(const TopoDS_Edge& edge) {
  SampledEdge made{BRepAdaptor_Curve(edge), {}, {}};
  const double first = made.curve.FirstParameter();
  const double last = made.curve.LastParameter();
  double from = 0.0;
  double to = 0.0;
  const Handle(Geom_BSplineCurve) spline =
      Handle(Geom_BSplineCurve)::DownCast(BRep_Tool::Curve(edge, from, to));
  if (!spline.IsNull()) {
    // between two knots, the curve is one cubic
    for (int i = 1; i < spline->NbKnots(); ++i)
      for (const double share : {0.0, 0.5})
        made.parameters.push_back((1.0 - share) * spline->Knot(i) + share * spline->Knot(i + 1));
  } else {
    const int steps = made.curve.GetType() == GeomAbs_Line ? 1 : 64;
    for (int i = 0; i < steps; ++i) made.parameters.push_back(first + (last - first) * i / steps);
  }
  made.parameters.push_back(last);
  for (const double at : made.parameters) made.points.push_back(made.curve.Value(at));
  return made;
}

double distance_to_segment(const gp_Pnt& p, const gp_Pnt& a, const gp_Pnt& b) {
  const gp_Vec along(a, b);
  const double length2 = along.SquareMagnitude();
  const double share = length2 > 0.0 ? std::clamp(gp_Vec(a, p).Dot(along) / length2, 0.0, 1.0) : 0.0;
  return p.Distance(a.Translated(share * along));
}

// Distance of a point from the curve between two parameters, by Newton steps kept inside, started from the
// nearest point of the chord.
double distance_to_arc(const SampledEdge& edge, std::size_t span, const gp_Pnt& p) {
  const double low = edge.parameters[span];
  const double high = edge.parameters[span + 1];
  const gp_Vec chord(edge.points[span], edge.points[span + 1]);
  const double length2 = chord.SquareMagnitude();
  const double share =
      length2 > 0.0 ? std::clamp(gp_Vec(edge.points[span], p).Dot(chord) / length2, 0.0, 1.0) : 0.0;
  double at = low + share * (high - low);
  double nearest = std::min(p.Distance(edge.points[span]), p.Distance(edge.points[span + 1]));
  constexpr int k_most_steps = 12;
  for (int step = 0; step < k_most_steps; ++step) {
    gp_Pnt on;
    gp_Vec slope;
    gp_Vec bend;
    edge.curve.D2(at, on, slope, bend);
    const gp_Vec away(p, on);
    nearest = std::min(nearest, away.Magnitude());
    const double first = away.Dot(slope);
    const double second = slope.SquareMagnitude() + away.Dot(bend);
    const double next = std::clamp(at - first / (second > 0.0 ? second : slope.SquareMagnitude()), low, high);
    if (std::fabs(next - at) <= 1e-14 * std::max(1.0, std::fabs(at))) break;
    at = next;
  }
  return nearest;
}

// Throws GeometryError where the kernel has any doubt.
double sure_common_volume(const TopoDS_Shape& first, const TopoDS_Shape& second) {
  TopTools_ListOfShape both;
  both.Append(first);
  both.Append(second);
  BOPAlgo_PaveFiller crossing;
  crossing.SetArguments(both);
  crossing.SetNonDestructive(Standard_True);
  crossing.Perform();
  require_clean(crossing, "common volume");
  BRepAlgoAPI_Common common(first, second, crossing);
  require_clean(common, "common volume");
  BRepAlgoAPI_Cut rest(first, second, crossing);
  require_clean(rest, "common volume");
  // An operation of this kernel may come out empty without a word; what is common and what is left have to
  // make up the whole.
  constexpr double k_agreement = 1e-7;
  const double shared = measured_volume(common.Shape());
  const double left = measured_volume(rest.Shape());
  const double whole = measured_volume(first);
  if (!(std::fabs(shared + left - whole) <= k_agreement * whole))
    throw GeometryError(fmt::format("common volume: {} mm3 and the rest, {} mm3, do not make up {} mm3",
                                    fixed(shared, 3), fixed(left, 3), fixed(whole, 3)));
  return std::max(0.0, shared);
}

}  // namespace

std::vector<TopoDS_Edge> edges_of(const Solid& solid) {
  TopTools_IndexedMapOfShape edges;
  TopExp::MapShapes(solid.shape().shape, TopAbs_EDGE, edges);
  std::vector<TopoDS_Edge> all;
  for (int i = 1; i <= edges.Extent(); ++i)
    if (!BRep_Tool::Degenerated(TopoDS::Edge(edges(i)))) all.push_back(TopoDS::Edge(edges(i)));
  return all;
}

double kernel::slice_area(const Solid& solid, const PlaneTarget& plane) {
  return area_of(slice_of(solid, plane));
}

double kernel::slice_area_at(const Solid& solid, const PlaneTarget& plane) {
  const TopoDS_Shape slice = slice_of(solid, plane);
  const TopoDS_Shape point = BRepBuilderAPI_MakeVertex(to_kernel(plane.point)).Vertex();
  double nearest = std::numeric_limits<double>::infinity();
  double area = 0.0;
  for (TopExp_Explorer faces(slice, TopAbs_FACE); faces.More(); faces.Next()) {
    BRepExtrema_DistShapeShape distance(point, faces.Current());
    if (!distance.IsDone()) throw GeometryError("slice: the distance to a region could not be found");
    if (distance.Value() >= nearest) continue;
    nearest = distance.Value();
    area = area_of(faces.Current());
  }
  return area;
}

double kernel::common_volume(const Solid& a, const Solid& b) {
  const TopoDS_Shape& first = a.shape().shape;
  const TopoDS_Shape& second = b.shape().shape;
  if (box_of(first).IsOut(box_of(second))) return 0.0;
  // nearly tangent faces: the kernel finds in one order what it misses, and says so, in the other
  try {
    return sure_common_volume(first, second);
  } catch (const GeometryError&) {
    return sure_common_volume(second, first);
  }
}

double kernel::distance_to_edges(const Solid& solid, const std::vector<Vec3>& points,
                                 const std::vector<std::size_t>& which) {
  const std::vector<TopoDS_Edge> edges = edges_of(solid);
  std::vector<SampledEdge> all;
  for (std::size_t i = 0; i < edges.size(); ++i)
    if (which.empty() || std::find(which.begin(), which.end(), i) != which.end())
      all.push_back(sampled(edges[i]));
  if (all.empty()) throw GeometryError("distance to edges: the solid has none");

  // A span lies within its own bulge of its chord.
  std::vector<std::vector<double>> bulge;
  for (const SampledEdge& edge : all) {
    bulge.emplace_back();
    for (std::size_t k = 0; k + 1 < edge.points.size(); ++k) {
      double out = 0.0;
      for (const double share : {0.25, 0.5, 0.75})
        out = std::max(out, distance_to_segment(edge.curve.Value((1.0 - share) * edge.parameters[k] +
                                                                 share * edge.parameters[k + 1]),
                                                edge.points[k], edge.points[k + 1]));
      bulge.back().push_back(1.5 * out);
    }
  }
  double farthest = 0.0;
  for (const Vec3& point : points) {
    const gp_Pnt p = to_kernel(point);
    double nearest = std::numeric_limits<double>::infinity();
    std::vector<std::pair<double, std::pair<std::size_t, std::size_t>>> candidates;
    for (std::size_t e = 0; e < all.size(); ++e)
      for (std::size_t k = 0; k + 1 < all[e].points.size(); ++k) {
        const double chord = distance_to_segment(p, all[e].points[k], all[e].points[k + 1]);
        nearest = std::min(nearest, chord + bulge[e][k]);
        if (chord - bulge[e][k] <= nearest) candidates.push_back({chord - bulge[e][k], {e, k}});
      }
    double found = std::numeric_limits<double>::infinity();
    for (const auto& [least, span] : candidates)
      if (least <= nearest) found = std::min(found, distance_to_arc(all[span.first], span.second, p));
    farthest = std::max(farthest, found);
  }
  return farthest;
}

}  // namespace linerwright
