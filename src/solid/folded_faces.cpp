// Faces of a square-to-round: flats, parts of oblique cones as ruled surfaces, its ends and its seams.
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Geom2d_Line.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_Plane.hxx>
#include <TColgp_Array2OfPnt.hxx>
#include <TopLoc_Location.hxx>
#include <algorithm>
#include <cmath>
#include <utility>

#include "faces.hpp"
#include "linerwright/joint/folded_ends.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

constexpr double k_quarter = 0.5 * k_pi;
// Tells the keys of these faces from those of other walls'.
enum KeyOf { k_band = 1, k_across, k_end, k_seam, k_collar };
std::vector<double> folded_key(KeyOf what, double outer, double inner, int which) {
  return {1e6 * static_cast<double>(what), outer, inner, static_cast<double>(which)};
}

std::vector<int> quarters_in(const Range& range) {
  const int first = static_cast<int>(std::lround(range.from / k_quarter));
  const int count = static_cast<int>(std::lround(range.span / k_quarter));
  std::vector<int> quarters;
  for (int i = 0; i < count; ++i) quarters.push_back((((first + i) % 4) + 4) % 4);
  return quarters;
}

Handle(Geom_Plane) plane_at(Vec3 point, Vec3 normal) {
  return new Geom_Plane(to_kernel(point), gp_Dir(normal.x, normal.y, normal.z));
}

TopAbs_Orientation turned(bool forward) {
  return forward ? TopAbs_FORWARD : TopAbs_REVERSED;
}

TopoDS_Face flat_face(const Handle(Geom_Plane) & plane, const std::vector<TopoDS_Wire>& wires) {
  BRep_Builder builder;
  TopoDS_Face face;
  builder.MakeFace(face, plane, k_tolerance);
  for (const TopoDS_Wire& wire : wires) builder.Add(face, wire);
  return face;
}

}  // namespace

// Of the surface between a point and a curve the side at v = 0 is the point: an edge without a curve in
// space.
TopoDS_Face Faces::ruled_from_point(const TopoDS_Vertex& point, const ArcEdge& high, const TopoDS_Edge& start,
                                    const TopoDS_Edge& end) {
  double first = 0.0;
  double last = 0.0;
  const Handle(Geom_BSplineCurve) curve =
      Handle(Geom_BSplineCurve)::DownCast(BRep_Tool::Curve(high.edge, first, last));
  if (curve.IsNull()) throw GeometryError("a part of a cone ends on no fitted curve");
  TColgp_Array2OfPnt poles(1, curve->NbPoles(), 1, 2);
  for (int i = 1; i <= curve->NbPoles(); ++i) {
    poles.SetValue(i, 1, BRep_Tool::Pnt(point));
    poles.SetValue(i, 2, curve->Pole(i));
  }
  const Handle(Geom_Surface) surface = ruled_surface(curve, poles);

  BRep_Builder builder;
  const TopLoc_Location here;
  TopoDS_Face face;
  builder.MakeFace(face, surface, k_tolerance);
  const auto along = [](double v) { return new Geom2d_Line(gp_Pnt2d(0.0, v), gp_Dir2d(1.0, 0.0)); };
  TopoDS_Edge apex;
  builder.MakeEdge(apex);
  builder.UpdateEdge(apex, along(0.0), surface, here, k_tolerance);
  builder.Add(apex, point.Oriented(TopAbs_FORWARD));
  builder.Add(apex, point.Oriented(TopAbs_REVERSED));
  builder.Range(apex, surface, here, high.arc.from, high.arc.to);
  builder.Degenerated(apex, true);
  builder.UpdateEdge(high.edge, along(1.0), surface, here, k_tolerance);
  put_side(start, high.arc.from, surface);
  put_side(end, high.arc.to, surface);
  TopoDS_Wire wire;
  builder.MakeWire(wire);
  builder.Add(wire, apex.Oriented(TopAbs_FORWARD));
  builder.Add(wire, end.Oriented(TopAbs_FORWARD));
  builder.Add(wire, high.edge.Oriented(TopAbs_REVERSED));
  builder.Add(wire, start.Oriented(TopAbs_REVERSED));
  builder.Add(face, wire);
  return face;
}

TopoDS_Face Faces::folded_patch(const FoldedEdges& of, const FoldedPatch& patch) {
  const auto edge = [&](int curve) -> const ArcEdge& { return of.edges[static_cast<std::size_t>(curve)]; };
  const TopoDS_Edge start = edge(patch.start.curve).edge;
  const TopoDS_Edge end = edge(patch.end.curve).edge;
  TopoDS_Face face = patch.low ? ruled_patch(edge(*patch.low), edge(patch.high), start, end)
                               : ruled_from_point(of.vertices[static_cast<std::size_t>(patch.low_point)],
                                                  edge(patch.high), start, end);
  if (patch.reversed) face.Reverse();
  return face;
}

TopoDS_Face Faces::folded_half(const Sheet& sheet, double w, int flat, int half, const HolesOfParts& holes) {
  const FoldedEdges& of = edges_.folded(sheet, w);
  const auto k = static_cast<std::size_t>(flat % 4);
  BRep_Builder builder;
  TopoDS_Wire wire;
  builder.MakeWire(wire);
  const auto add = [&](const std::vector<FoldedSide>& sides) {
    for (const FoldedSide& side : sides)
      builder.Add(wire, of.edges[static_cast<std::size_t>(side.curve)].edge.Oriented(turned(side.forward)));
  };
  std::vector<FoldedSide> after = of.layer.flats[k][0];
  std::vector<FoldedSide> before = of.layer.flats[(k + 3) % 4][1];
  const bool whole = !holes.flats[k].empty();
  if (whole) {  // the middle line is the last side of the one, the first of the other
    after.pop_back();
    before.erase(before.begin());
  }
  if (whole || half == 0) add(after);
  if (whole || half == 1) add(before);
  std::vector<TopoDS_Wire> wires{wire};
  const auto add_holes = [&](const std::vector<Loop>& loops) {
    for (const Loop& hole : loops) wires.push_back(TopoDS::Wire(wire_of(hole).Oriented(TopAbs_REVERSED)));
  };
  add_holes(holes.flats[k]);
  if (whole || half == 0) add_holes(holes.after[k]);
  if (whole || half == 1) add_holes(holes.before[k]);
  const double theta = k_quarter * flat;
  return flat_face(plane_at(sheet.point(theta, 0.0, w), sheet.normal(theta)), wires);
}

std::vector<TopoDS_Face> Faces::folded_quarter(const Sheet& sheet, double w, int quarter,
                                               const HolesOfParts& holes) {
  const auto q = static_cast<std::size_t>(quarter);
  std::vector<TopoDS_Face> faces{folded_half(sheet, w, quarter, 0, holes)};
  // a flat that is one face lies in the quarter after its middle line
  if (holes.flats[(q + 1) % 4].empty()) faces.push_back(folded_half(sheet, w, quarter + 1, 1, holes));
  if (!holes.cones[q].empty()) {
    faces.push_back(pierced_cone(sheet, w, quarter, holes.cones[q]));
    return faces;
  }
  const FoldedEdges& of = edges_.folded(sheet, w);
  for (const FoldedPatch& patch : of.layer.patches[q]) faces.push_back(folded_patch(of, patch));
  return faces;
}

std::vector<TopoDS_Face> Faces::folded_band(const Sheet& sheet, double w, const Range& range,
                                            const std::vector<Loop>& holes) {
  const HolesOfParts in_parts = holes_of_parts(edges_.fitting(), holes);
  std::vector<TopoDS_Face> faces;
  for (const int quarter : quarters_in(range)) {
    const auto q = static_cast<std::size_t>(quarter);
    std::vector<double> key = folded_key(k_band, w, 0.0, quarter);
    for (const auto* loops : {&in_parts.flats[q], &in_parts.after[q], &in_parts.before[q], &in_parts.cones[q],
                              &in_parts.flats[(q + 1) % 4], &in_parts.before[(q + 1) % 4]})
      for (const Loop& hole : *loops) add_to_key(key, hole);
    for (const TopoDS_Face& face :
         once(std::move(key), [&] { return folded_quarter(sheet, w, quarter, in_parts); }))
      faces.push_back(face);
  }
  if (w < 0.0 && sheet.square_collar() > 0.0)
    for (const TopoDS_Face& face : skirts(sheet, w)) faces.push_back(face);
  return faces;
}

std::vector<TopoDS_Face> Faces::folded_across(const Joint& joint, double outer, double inner,
                                              const Range& range) {
  const PlaneTarget& plane = std::get<PlaneTarget>(joint.target);
  const bool round = is_round_end(joint);
  if (!round && joint.lead.square_collar() > 0.0) {
    std::vector<TopoDS_Face> mitres;
    for (const int quarter : quarters_in(range))
      for (const TopoDS_Face& face : panel_mitres(joint.lead, outer, inner, quarter)) mitres.push_back(face);
    return mitres;
  }
  const FoldedEdges& out = edges_.folded(joint.lead, outer);
  const FoldedEdges& in = edges_.folded(joint.lead, inner);
  const auto quarter_face = [&](int quarter) {
    const auto q = static_cast<std::size_t>(quarter);
    const auto& outer_rim = (round ? out.layer.high_rim : out.layer.low_rim)[q];
    const auto& inner_rim = (round ? in.layer.high_rim : in.layer.low_rim)[q];
    const auto link = [&](std::size_t seam) {
      const FoldedSeam& a = out.layer.seams[seam % 4];
      const FoldedSeam& b = in.layer.seams[seam % 4];
      return straight(out.vertices[static_cast<std::size_t>(round ? a.top : a.low)],
                      in.vertices[static_cast<std::size_t>(round ? b.top : b.low)]);
    };
    BRep_Builder builder;
    TopoDS_Wire wire;
    builder.MakeWire(wire);
    for (const FoldedSide& side : outer_rim)
      builder.Add(wire, out.edges[static_cast<std::size_t>(side.curve)].edge.Oriented(turned(side.forward)));
    builder.Add(wire, link(q + 1).Oriented(TopAbs_FORWARD));
    for (auto side = inner_rim.rbegin(); side != inner_rim.rend(); ++side)
      builder.Add(wire,
                  in.edges[static_cast<std::size_t>(side->curve)].edge.Oriented(turned(!side->forward)));
    builder.Add(wire, link(q).Oriented(TopAbs_REVERSED));
    return flat_face(plane_at(plane.point, joint.lead.frame().z), {wire});
  };
  std::vector<TopoDS_Face> faces;
  for (const int quarter : quarters_in(range))
    faces.push_back(once(folded_key(k_across, outer, inner, quarter + (round ? 4 : 0)), [&] {
                      return std::vector<TopoDS_Face>{quarter_face(quarter)};
                    }).front());
  return faces;
}

// Ruled from rim to rim; where a flat comes to the collar in a line at the inner depth, about its tip.
std::vector<TopoDS_Face> Faces::collar_across(int index, Side side, DepthPair outer, DepthPair inner,
                                              const Range& range) {
  const FoldedEdges& out = edges_.folded(edges_.joint(index).lead, outer.lead);
  const FoldedEdges& in = edges_.folded(edges_.joint(index).lead, inner.lead);
  const std::vector<RimMatch> matches = matched_rims(out.layer, in.layer);
  const auto made = [&](const RimMatch& match) {
    const ArcEdge& low = out.edges[static_cast<std::size_t>(match.outer.curve)];
    const auto edge = [&](const FoldedSide& of) -> const ArcEdge& {
      return in.edges[static_cast<std::size_t>(of.curve)];
    };
    std::vector<TopoDS_Face> faces;
    const auto about = [&](const TopoDS_Vertex& tip, const std::vector<FoldedSide>& flats) {
      for (const FoldedSide& flat : flats)
        faces.push_back(
            ruled_from_point(tip, edge(flat), straight(tip, edge(flat).from), straight(tip, edge(flat).to)));
    };
    about(low.from, match.before);
    for (const FoldedSide& of : match.inner)
      faces.push_back(
          ruled_patch(low, edge(of), straight(low.from, edge(of).from), straight(low.to, edge(of).to)));
    about(low.to, match.after);
    return faces;
  };
  std::vector<TopoDS_Face> faces;
  for (const RimArc& arc : arcs_within(edges_.fitting(), {{index, side, outer}}, range))
    for (const TopoDS_Face& face :
         once(folded_key(k_collar, outer.lead, inner.lead, static_cast<int>(arc.index)),
              [&] { return made(matches.at(arc.index)); }))
      faces.push_back(face);
  return faces;
}

TopoDS_Face Faces::folded_end(const Joint& joint, double outer, const double* inner) {
  const PlaneTarget& plane = std::get<PlaneTarget>(joint.target);
  const bool round = is_round_end(joint);
  const auto wire_at = [&](double w) {
    const FoldedEdges& of = edges_.folded(joint.lead, w);
    BRep_Builder builder;
    TopoDS_Wire wire;
    builder.MakeWire(wire);
    for (const auto& rim : round ? of.layer.high_rim : of.layer.collared ? of.layer.floor : of.layer.low_rim)
      for (const FoldedSide& side : rim)
        builder.Add(wire, of.edges[static_cast<std::size_t>(side.curve)].edge.Oriented(turned(side.forward)));
    return wire;
  };
  const auto made = [&] {
    std::vector<TopoDS_Wire> wires{wire_at(outer)};
    if (inner != nullptr) wires.push_back(TopoDS::Wire(wire_at(*inner).Oriented(TopAbs_REVERSED)));
    return std::vector<TopoDS_Face>{flat_face(plane_at(plane.point, joint.lead.frame().z), wires)};
  };
  constexpr double k_whole = 1e9;
  return once(folded_key(k_end, outer, inner != nullptr ? *inner : k_whole, round ? 1 : 0), made).front();
}

std::vector<TopoDS_Face> Faces::folded_seam(const Sheet& sheet, double theta, double outer, double inner) {
  const FoldedEdges& out = edges_.folded(sheet, outer);
  const FoldedEdges& in = edges_.folded(sheet, inner);
  const int quarter = quarters_in({theta, k_quarter}).front();
  const FoldedSeam& a = out.layer.seams[static_cast<std::size_t>(quarter)];
  const FoldedSeam& b = in.layer.seams[static_cast<std::size_t>(quarter)];
  const auto vertex = [](const FoldedEdges& of, int point) {
    return of.vertices[static_cast<std::size_t>(point)];
  };
  const auto made = [&] {
    const Vec3 up = sheet.direction(theta);
    BRep_Builder builder;
    TopoDS_Wire wire;
    builder.MakeWire(wire);
    builder.Add(wire, straight(vertex(out, a.low), vertex(in, b.low)).Oriented(TopAbs_FORWARD));
    builder.Add(wire, in.edges[static_cast<std::size_t>(b.line)].edge.Oriented(TopAbs_FORWARD));
    builder.Add(wire, straight(vertex(out, a.high), vertex(in, b.high)).Oriented(TopAbs_REVERSED));
    builder.Add(wire, out.edges[static_cast<std::size_t>(a.line)].edge.Oriented(TopAbs_REVERSED));
    std::vector<TopoDS_Face> faces{
        flat_face(plane_at(sheet.point(theta, 0.0, outer), cross(up, sheet.normal(theta))), {wire})};
    if (!a.tip_curves.empty() && a.tip_curves.size() != b.tip_curves.size())
      throw GeometryError("the mitres at a flat's tip are cut differently at two depths");
    for (std::size_t i = 0; i < b.tip_curves.size(); ++i) {
      const ArcEdge& curve = in.edges[static_cast<std::size_t>(b.tip_curves[i])];
      const bool pointed = a.tip_curves.empty();
      const ArcEdge* beside = pointed ? nullptr : &out.edges[static_cast<std::size_t>(a.tip_curves[i])];
      const TopoDS_Vertex from = pointed ? vertex(out, a.top) : beside->from;
      const TopoDS_Vertex to = pointed ? from : beside->to;
      TopoDS_Face face =
          pointed ? ruled_from_point(from, curve, straight(from, curve.from), straight(to, curve.to))
                  : ruled_patch(*beside, curve, straight(from, curve.from), straight(to, curve.to));
      face.Reverse();
      faces.push_back(face);
    }
    return faces;
  };
  return once(folded_key(k_seam, outer, inner, quarter), made);
}

}  // namespace linerwright
