#include "faces.hpp"

#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Geom2d_BSplineCurve.hxx>
#include <Geom2d_Line.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_BSplineSurface.hxx>
#include <Geom_ConicalSurface.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <Geom_Plane.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TColgp_Array2OfPnt.hxx>
#include <TopExp_Explorer.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>

#include "linerwright/units/error.hpp"

namespace linerwright {

TopoDS_Edge Faces::straight(const TopoDS_Vertex& from, const TopoDS_Vertex& to) {
  return edges_.straight(from, to);
}

Handle(Geom_Surface) surface_of(const Sheet& sheet, double w) {
  if (sheet.is_cylinder()) return new Geom_CylindricalSurface(to_kernel(sheet.frame()), sheet.r1() - w);
  if (sheet.is_flat()) {
    const Frame& frame = sheet.frame();
    return new Geom_Plane(to_kernel(frame.origin - w * frame.z), gp_Dir(frame.z.x, frame.z.y, frame.z.z));
  }
  // The parallel cone: its base circle is the old one moved by w along the inward normal.
  const Sheet::Ruling r = sheet.ruling(0.0);
  Frame frame = sheet.frame();
  frame.origin = frame.point({0.0, 0.0, -w * r.normal.z});
  const double half_angle = std::atan2(sheet.r2() - sheet.r1(), sheet.height());
  return new Geom_ConicalSurface(to_kernel(frame), half_angle, sheet.r1() - w * r.normal.x);
}

void add_to_key(std::vector<double>& key, const Loop& loop) {
  key.insert(key.end(), {static_cast<double>(loop.joint), loop.side == Side::lead ? 0.0 : 1.0,
                         loop.depths.lead, loop.depths.follow});
}

namespace {

bool is_analytic(const Sheet& sheet) {
  return sheet.is_cylinder() || sheet.is_right_cone();
}

Handle(Geom2d_Line) line_from(gp_Pnt2d from, gp_Pnt2d to) {
  return new Geom2d_Line(from, gp_Dir2d(to.X() - from.X(), to.Y() - from.Y()));
}

// The side at v = 1 of a face that is ruled between two edges and has the parameter of the first. Where the
// other's runs over another range, it has a corner wherever either has a sample: there the two are in step.
Handle(Geom2d_Curve) far_side(const ArcEdge& low, const ArcEdge& high) {
  if (low.arc.from == high.arc.from && low.arc.to == high.arc.to) return line_from({0.0, 1.0}, {1.0, 1.0});
  const int n = static_cast<int>(low.parameters.size());
  TColgp_Array1OfPnt2d places(1, n);
  TColStd_Array1OfReal knots(1, n);
  TColStd_Array1OfInteger multiplicities(1, n);
  multiplicities.Init(1);
  multiplicities.SetValue(1, 2);
  multiplicities.SetValue(n, 2);
  for (int i = 1; i <= n; ++i) {
    const auto k = static_cast<std::size_t>(i) - 1;
    places.SetValue(i, gp_Pnt2d(low.parameters[k], 1.0));
    knots.SetValue(i, high.parameters[k]);
  }
  return new Geom2d_BSplineCurve(places, knots, multiplicities, 1);
}

}  // namespace

std::vector<TopoDS_Face> Faces::band(const Sheet& sheet, double w, const Range& range, const Rim& low,
                                     const Rim& high, const std::vector<Loop>& holes) {
  if (sheet.is_square_to_round()) return folded_band(sheet, w, range, holes);
  if (const auto* panel = std::get_if<PanelTarget>(&edges_.joint(low.front().joint).target)) {
    if (w < 0.0) return {};  // the metal's walls are those under its low rim
    return {panel_face(*panel, w, holes)};
  }
  std::vector<double> key{w, range.from, range.span};
  for (const Rim* rim : {&low, &high})
    for (const Loop& loop : *rim) add_to_key(key, loop);
  for (const Loop& hole : holes) add_to_key(key, hole);
  return once(std::move(key), [&] { return make_band(sheet, w, range, low, high, holes); });
}

const ArcEdge& Faces::edge_of(const RimArc& arc) {
  const std::vector<ArcEdge>& edges = edges_.edges(arc.loop.joint, arc.loop.depths);
  if (arc.index >= edges.size())
    throw GeometryError("the joint with the collar has more arcs on one side than on the other");
  return edges[arc.index];
}

Faces::RimPart Faces::part_of(const Rim& rim, const Range& range) {
  RimPart part{rim_arcs(edges_.fitting(), rim, range), {}, {}};
  const RimArc& first = part.arcs.front();
  const RimArc& last = part.arcs.back();
  part.start = first.forward ? edge_of(first).from : edge_of(first).to;
  part.end = last.forward ? edge_of(last).to : edge_of(last).from;
  return part;
}

std::vector<TopoDS_Face> Faces::make_band(const Sheet& sheet, double w, const Range& range, const Rim& low,
                                          const Rim& high, const std::vector<Loop>& holes) {
  if (!is_analytic(sheet))
    return holes.empty() ? ruled_band(low, high, range) : pierced_band(sheet, w, range, low, high, holes);
  if (sheet.is_flat()) {
    TopoDS_Face disc = patch_on(sheet, w, low.front(), nullptr);
    for (const Loop& hole : holes) BRep_Builder().Add(disc, wire_of(hole).Oriented(TopAbs_REVERSED));
    return {disc};
  }
  const Handle(Geom_Surface) surface = surface_of(sheet, w);
  BRep_Builder builder;
  TopoDS_Face face;
  builder.MakeFace(face, surface, k_tolerance);
  const TopLoc_Location here;

  // Counter-clockwise in (theta, v): low rim, up at the far side, high rim back, down at the near side.
  const double last = range.from + range.span;
  TopoDS_Wire outline;
  builder.MakeWire(outline);
  const auto add_rim = [&](const Rim& rim, bool upper) {
    RimPart part = part_of(rim, range);
    for (const RimArc& on : part.arcs) {
      const ArcEdge& arc = edge_of(on);
      const Handle(Geom2d_Curve) curve =
          edges_.curve_on(on.loop.joint, on.loop.side, on.loop.depths, arc, on.forward ? on.from : on.to);
      builder.UpdateEdge(arc.edge, curve, surface, here, k_tolerance);
      const bool along = (on.forward != upper) == arc.with_s();
      builder.Add(outline, arc.edge.Oriented(along ? TopAbs_FORWARD : TopAbs_REVERSED));
    }
    return part;
  };
  const RimPart below = add_rim(low, false);
  const RimPart above = add_rim(high, true);
  const auto ruling = [&](double theta) {
    const RimArc& on = theta == last ? below.arcs.back() : below.arcs.front();
    return new Geom2d_Line(
        gp_Pnt2d(theta, height_at(edges_.joint(on.loop.joint), on.loop.side, theta, on.loop.depths)),
        gp_Dir2d(0.0, 1.0));
  };
  const TopoDS_Edge start = straight(below.start, above.start);
  const TopoDS_Edge end = straight(below.end, above.end);
  if (range.full_turn()) {
    builder.UpdateEdge(start, ruling(last), ruling(range.from), surface, here, k_tolerance);
    builder.Continuity(start, surface, surface, here, here, GeomAbs_CN);
  } else {
    builder.UpdateEdge(start, ruling(range.from), surface, here, k_tolerance);
    builder.UpdateEdge(end, ruling(last), surface, here, k_tolerance);
  }
  builder.Add(outline, end.Oriented(TopAbs_FORWARD));
  builder.Add(outline, start.Oriented(TopAbs_REVERSED));
  builder.Add(face, outline);

  for (const Loop& hole : holes) {
    // the hole's middle lies inside this face's range of theta
    const double middle = middle_of(hole);
    const double turns = k_two_pi * std::floor((middle - range.from) / k_two_pi);
    add_closed_loop(face, surface, hole, middle - turns, false);
  }
  return {face};
}

std::pair<double, double> Faces::extent_of(const Loop& loop) const {
  const Joint& joint = edges_.joint(loop.joint);
  constexpr int k_steps = 64;
  double last = place_on(joint, loop.side, 0.0, loop.depths).theta;
  double lowest = last;
  double highest = last;
  for (int i = 1; i < k_steps; ++i) {
    const double theta = place_on(joint, loop.side, k_two_pi * i / k_steps, loop.depths).theta;
    last = theta + k_two_pi * std::round((last - theta) / k_two_pi);
    lowest = std::min(lowest, last);
    highest = std::max(highest, last);
  }
  return {lowest, highest};
}

double Faces::middle_of(const Loop& loop) const {
  const auto [lowest, highest] = extent_of(loop);
  return 0.5 * (lowest + highest);
}

void Faces::add_closed_loop(TopoDS_Face& face, const Handle(Geom_Surface) & surface, const Loop& loop,
                            double near_theta, bool counter_clockwise) {
  BRep_Builder builder;
  const TopLoc_Location here;
  const std::vector<ArcEdge>& arcs = edges_.edges(loop.joint, loop.depths);
  double theta = near_theta;
  double area = 0.0;  // signed, in (theta, v)
  for (const ArcEdge& arc : arcs) {
    const Handle(Geom2d_Curve) curve = edges_.curve_on(loop.joint, loop.side, loop.depths, arc, theta);
    builder.UpdateEdge(arc.edge, curve, surface, here, k_tolerance);
    constexpr int k_steps = 64;
    gp_Pnt2d last = curve->Value(arc.arc.from - arc.shift);
    for (int i = 1; i <= k_steps; ++i) {
      const gp_Pnt2d next =
          curve->Value(arc.arc.from + (arc.arc.to - arc.arc.from) * i / k_steps - arc.shift);
      area += 0.5 * (last.X() * next.Y() - next.X() * last.Y());
      last = next;
    }
    theta = last.X();
  }
  TopoDS_Wire wire;
  builder.MakeWire(wire);
  for (const ArcEdge& arc : arcs)
    builder.Add(wire,
                arc.edge.Oriented((area > 0.0) == counter_clockwise ? TopAbs_FORWARD : TopAbs_REVERSED));
  builder.Add(face, wire);
}

Handle(Geom_Surface) ruled_surface(const Handle(Geom_BSplineCurve) & along, const TColgp_Array2OfPnt& poles) {
  TColStd_Array1OfReal knots(1, along->NbKnots());
  TColStd_Array1OfInteger multiplicities(1, along->NbKnots());
  along->Knots(knots);
  along->Multiplicities(multiplicities);
  TColStd_Array1OfReal across(1, 2);
  across.SetValue(1, 0.0);
  across.SetValue(2, 1.0);
  TColStd_Array1OfInteger twice(1, 2);
  twice.Init(2);
  return new Geom_BSplineSurface(poles, knots, across, multiplicities, twice, along->Degree(), 1);
}

void put_side(const TopoDS_Edge& side, double u, const Handle(Geom_Surface) & surface, double from,
              double to) {
  double first = 0.0;
  double last = 0.0;
  BRep_Tool::Range(side, first, last);
  TColgp_Array1OfPnt2d ends(1, 2);
  ends.SetValue(1, gp_Pnt2d(u, from));
  ends.SetValue(2, gp_Pnt2d(u, to));
  TColStd_Array1OfReal range(1, 2);
  range.SetValue(1, first);
  range.SetValue(2, last);
  TColStd_Array1OfInteger twice(1, 2);
  twice.Init(2);
  BRep_Builder().UpdateEdge(side, new Geom2d_BSplineCurve(ends, range, twice, 1), surface, TopLoc_Location(),
                            k_tolerance);
}

TopoDS_Face Faces::ruled_patch(const ArcEdge& low, const ArcEdge& high, const TopoDS_Edge& start,
                               const TopoDS_Edge& end) {
  double first = 0.0;
  double last = 0.0;
  const Handle(Geom_BSplineCurve) a =
      Handle(Geom_BSplineCurve)::DownCast(BRep_Tool::Curve(low.edge, first, last));
  const Handle(Geom_BSplineCurve) b =
      Handle(Geom_BSplineCurve)::DownCast(BRep_Tool::Curve(high.edge, first, last));
  if (a.IsNull() || b.IsNull() || a->NbPoles() != b->NbPoles() || a->NbKnots() != b->NbKnots() ||
      low.parameters.size() != high.parameters.size())
    throw GeometryError("two curves of a ruled face do not run in step");
  TColgp_Array2OfPnt poles(1, a->NbPoles(), 1, 2);
  for (int i = 1; i <= a->NbPoles(); ++i) {
    poles.SetValue(i, 1, a->Pole(i));
    poles.SetValue(i, 2, b->Pole(i));
  }
  const Handle(Geom_Surface) surface = ruled_surface(a, poles);

  BRep_Builder builder;
  const TopLoc_Location here;
  TopoDS_Face face;
  builder.MakeFace(face, surface, k_tolerance);
  const double u0 = low.arc.from;
  const double u1 = low.arc.to;
  builder.UpdateEdge(low.edge, line_from({0.0, 0.0}, {1.0, 0.0}), surface, here, k_tolerance);
  builder.UpdateEdge(high.edge, far_side(low, high), surface, here, k_tolerance);
  put_side(start, u0, surface);
  put_side(end, u1, surface);
  TopoDS_Wire wire;
  builder.MakeWire(wire);
  builder.Add(wire, low.edge.Oriented(TopAbs_FORWARD));
  builder.Add(wire, end.Oriented(TopAbs_FORWARD));
  builder.Add(wire, high.edge.Oriented(TopAbs_REVERSED));
  builder.Add(wire, start.Oriented(TopAbs_REVERSED));
  builder.Add(face, wire);
  return face;
}

TopoDS_Face Faces::ruled_patch(const Rim& low, const Rim& high, std::size_t index) {
  const ArcEdge& below = edges_.edges(low.front().joint, low.front().depths)[index];
  const ArcEdge& above = edges_.edges(high.front().joint, high.front().depths)[index];
  return ruled_patch(below, above, straight(below.from, above.from), straight(below.to, above.to));
}

std::vector<TopoDS_Face> Faces::ruled_band(const Rim& low, const Rim& high, const Range& range) {
  std::vector<TopoDS_Face> faces;
  for (const RimArc& on : part_of(low, range).arcs) faces.push_back(ruled_patch(low, high, on.index));
  return faces;
}

}  // namespace linerwright
