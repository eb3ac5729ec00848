// Faces across the liner: where pieces meet, where they end, and between the panels of one wall.
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Geom2d_Line.hxx>
#include <Geom_Circle.hxx>
#include <Geom_ConicalSurface.hxx>
#include <Geom_Plane.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>

#include "faces.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

// A flat joint's plane, its normal up the wall that leads.
Handle(Geom_Plane) plane_up(const Joint& joint) {
  const auto& plane = std::get<PlaneTarget>(joint.target);
  const Vec3 up = dot(plane.normal, joint.lead.frame().z) > 0.0 ? plane.normal : -plane.normal;
  return new Geom_Plane(to_kernel(plane.point), gp_Dir(up.x, up.y, up.z));
}

// Null where the edge is no part of a circle.
Handle(Geom_Circle) circle_of(const ArcEdge& arc) {
  double first = 0.0;
  double last = 0.0;
  return Handle(Geom_Circle)::DownCast(BRep_Tool::Curve(arc.edge, first, last));
}

}  // namespace

std::vector<TopoDS_Face> Faces::across(int joint, Side side, const LinerSpec& liner, const Range& range) {
  if (edges_.joint(joint).is_centre()) return {};  // no edge is there
  if (const auto* panel = std::get_if<PanelTarget>(&edges_.joint(joint).target))
    return panel_across(*panel, liner.outer_depth, liner.inner_depth());
  const JointStyle style = edges_.joint(joint).style;
  if (edges_.joint(joint).folded() && !edges_.joint(joint).open())
    return collar_across(joint, side, shell_depths(liner.outer_depth), shell_depths(liner.inner_depth()),
                         range);
  if (edges_.joint(joint).folded())
    return folded_across(edges_.joint(joint), liner.outer_depth, liner.inner_depth(), range);
  std::vector<double> key;  // without a range: never a band's
  for (const double w : liner.faces())
    add_to_key(key, {joint, Side::lead, liner_depths(style, side, w, liner.bore_depth())});
  std::vector<TopoDS_Face> all = once(std::move(key), [&] { return make_across(joint, side, liner); });
  if (range.full_turn()) return all;
  const DepthPair outer = liner_depths(style, side, liner.outer_depth, liner.bore_depth());
  std::vector<TopoDS_Face> part;
  for (const RimArc& arc : arcs_within(edges_.fitting(), {{joint, side, outer}}, range))
    part.push_back(all.at(arc.index));
  return part;
}

TopoDS_Face Faces::end(int joint, DepthPair outer, const DepthPair* inner) {
  if (edges_.joint(joint).folded())
    return folded_end(edges_.joint(joint), outer.lead, inner != nullptr ? &inner->lead : nullptr);
  std::vector<double> key;
  add_to_key(key, {joint, Side::lead, outer});
  if (inner != nullptr) add_to_key(key, {joint, Side::lead, *inner});
  return once(std::move(key), [&] { return std::vector<TopoDS_Face>{flat(joint, outer, inner)}; }).front();
}

std::vector<TopoDS_Face> Faces::ruled_across(int joint, DepthPair outer, DepthPair inner) {
  const std::vector<ArcEdge>& out = edges_.edges(joint, outer);
  const std::vector<ArcEdge>& in = edges_.edges(joint, inner);
  std::vector<TopoDS_Face> faces;
  for (std::size_t i = 0; i < out.size(); ++i)
    faces.push_back(circle_of(out[i]).IsNull() ? ruled_patch(out[i], in[i], straight(out[i].from, in[i].from),
                                                             straight(out[i].to, in[i].to))
                                               : cone_patch(edges_.joint(joint).lead.frame(), out[i], in[i]));
  return faces;
}

// Between arcs of two circles about the same axis. The cone's own normal points away from the axis, the
// joint's up the wall: the same where the inner circle lies higher.
TopoDS_Face Faces::cone_patch(const Frame& frame, const ArcEdge& outer, const ArcEdge& inner) {
  const Handle(Geom_Circle) out = circle_of(outer);
  const Handle(Geom_Circle) in = circle_of(inner);
  const Vec3 base = from_kernel(out->Location());
  const double rise = dot(from_kernel(in->Location()) - base, frame.z);
  const double inward = out->Radius() - in->Radius();
  const bool grows = rise > 0.0;
  // measured from the outer circle, up the axis
  const double half_angle = std::atan2(grows ? -inward : inward, std::fabs(rise));
  Frame at = frame;
  at.origin = base;
  const Handle(Geom_Surface) cone = new Geom_ConicalSurface(to_kernel(at), half_angle, out->Radius());
  const double across = std::copysign(std::hypot(rise, inward), rise);
  BRep_Builder builder;
  const TopLoc_Location here;
  TopoDS_Face face;
  builder.MakeFace(face, cone, k_tolerance);
  const double from = outer.arc.from;
  const double to = outer.arc.to;
  const auto line = [](double u, double v, double du, double dv) {
    return new Geom2d_Line(gp_Pnt2d(u, v), gp_Dir2d(du, dv));
  };
  const TopoDS_Edge start = straight(outer.from, inner.from);
  const TopoDS_Edge end = straight(outer.to, inner.to);
  builder.UpdateEdge(outer.edge, line(0.0, 0.0, 1.0, 0.0), cone, here, k_tolerance);
  builder.UpdateEdge(inner.edge, line(0.0, across, 1.0, 0.0), cone, here, k_tolerance);
  builder.UpdateEdge(start, line(from, 0.0, 0.0, across), cone, here, k_tolerance);
  builder.UpdateEdge(end, line(to, 0.0, 0.0, across), cone, here, k_tolerance);
  TopoDS_Wire wire;
  builder.MakeWire(wire);
  const auto add = [&](const TopoDS_Edge& edge, bool forward) {
    builder.Add(wire, edge.Oriented(forward == grows ? TopAbs_FORWARD : TopAbs_REVERSED));
  };
  add(outer.edge, true);
  add(end, true);
  add(inner.edge, false);
  add(start, false);
  builder.Add(face, wire);
  if (!grows) face.Reverse();
  return face;
}

TopoDS_Wire Faces::wire_of(const Loop& loop) {
  BRep_Builder builder;
  TopoDS_Wire wire;
  builder.MakeWire(wire);
  for (const ArcEdge& arc : edges_.edges(loop.joint, loop.depths))
    builder.Add(wire, arc.edge.Oriented(TopAbs_FORWARD));
  return wire;
}

TopoDS_Face Faces::flat(int joint, DepthPair outer, const DepthPair* inner) {
  BRep_Builder builder;
  TopoDS_Face face;
  builder.MakeFace(face, plane_up(edges_.joint(joint)), k_tolerance);
  builder.Add(face, wire_of({joint, Side::lead, outer}));
  if (inner != nullptr) builder.Add(face, wire_of({joint, Side::lead, *inner}).Oriented(TopAbs_REVERSED));
  return face;
}

// The part of a flat joint's face between two panels' seams.
TopoDS_Face Faces::flat_patch(const Handle(Geom_Surface) & plane, const ArcEdge& outer,
                              const ArcEdge& inner) {
  BRep_Builder builder;
  TopoDS_Face face;
  builder.MakeFace(face, plane, k_tolerance);
  TopoDS_Wire wire;
  builder.MakeWire(wire);
  builder.Add(wire, outer.edge.Oriented(TopAbs_FORWARD));
  builder.Add(wire, straight(outer.to, inner.to).Oriented(TopAbs_FORWARD));
  builder.Add(wire, inner.edge.Oriented(TopAbs_REVERSED));
  builder.Add(wire, straight(outer.from, inner.from).Oriented(TopAbs_REVERSED));
  builder.Add(face, wire);
  return face;
}

std::vector<TopoDS_Face> Faces::between_panels(const Sheet& sheet, double theta,
                                               const std::array<Rim, 2>& low,
                                               const std::array<Rim, 2>& high) {
  if (sheet.is_square_to_round())
    return folded_seam(sheet, theta, low[0].front().depths.lead, low[1].front().depths.lead);
  const auto corner = [&](const Rim& rim) { return part_of(rim, {theta, k_two_pi}).start; };
  const auto loop_at = [&](const Rim& rim, double at) {
    return part_of(rim, {at, k_two_pi}).arcs.front().loop;
  };
  const std::array<TopoDS_Vertex, 2> below{corner(low[0]), corner(low[1])};
  const std::array<TopoDS_Vertex, 2> above{corner(high[0]), corner(high[1])};
  // the same for both panels, whichever way around they count
  std::vector<double> key{std::round(1e9 * std::cos(theta)), std::round(1e9 * std::sin(theta))};
  for (const Rim* rim : {&low[0], &high[0]})
    for (const Loop& loop : *rim) add_to_key(key, loop);
  return once(std::move(key), [&] {
    const Vec3 up = sheet.direction(theta);
    const Vec3 around = cross(up, sheet.normal(theta));
    BRep_Builder builder;
    TopoDS_Face face;
    builder.MakeFace(face,
                     new Geom_Plane(gp_Ax3(BRep_Tool::Pnt(below[0]), gp_Dir(around.x, around.y, around.z),
                                           gp_Dir(up.x, up.y, up.z))),
                     k_tolerance);
    TopoDS_Wire wire;
    builder.MakeWire(wire);
    builder.Add(wire, straight(below[1], above[1]).Oriented(TopAbs_FORWARD));
    builder.Add(wire,
                across_at_seam(loop_at(high[0], theta), loop_at(high[1], theta), theta, above[0], above[1])
                    .Oriented(TopAbs_REVERSED));
    builder.Add(wire, straight(below[0], above[0]).Oriented(TopAbs_REVERSED));
    builder.Add(wire,
                across_at_seam(loop_at(low[0], theta), loop_at(low[1], theta), theta, below[0], below[1])
                    .Oriented(TopAbs_FORWARD));
    builder.Add(face, wire);
    return std::vector<TopoDS_Face>{face};
  });
}

TopoDS_Face Faces::on_follow(int joint, DepthPair outer, const DepthPair* inner) {
  std::vector<double> key{-1.0};
  add_to_key(key, {joint, Side::follow, outer});
  if (inner != nullptr) add_to_key(key, {joint, Side::follow, *inner});
  return once(std::move(key),
              [&] {
                const Loop hole{joint, Side::follow, inner == nullptr ? outer : *inner};
                return std::vector<TopoDS_Face>{patch_on(edges_.joint(joint).follow.front(), outer.follow,
                                                         {joint, Side::follow, outer},
                                                         inner == nullptr ? nullptr : &hole)};
              })
      .front();
}

TopoDS_Face Faces::patch_on(const Sheet& sheet, double w, const Loop& outer, const Loop* inner) {
  if (sheet.is_square_to_round()) return patch_on_part(sheet, w, outer);
  if (sheet.offset() != 0.0) return patch_on_oblique(sheet, w, outer);
  const Handle(Geom_Surface) surface = surface_of(sheet, w);
  BRep_Builder builder;
  TopoDS_Face face;
  builder.MakeFace(face, surface, k_tolerance);
  if (sheet.is_flat()) {
    builder.Add(face, wire_of(outer));
    if (inner != nullptr) builder.Add(face, wire_of(*inner).Oriented(TopAbs_REVERSED));
    return face;
  }
  const double reference = place_on(edges_.joint(outer.joint), outer.side, 0.0, outer.depths).theta;
  add_closed_loop(face, surface, outer, reference, true);
  if (inner != nullptr) add_closed_loop(face, surface, *inner, reference, false);
  return face;
}

std::vector<TopoDS_Face> Faces::make_across(int joint, Side side, const LinerSpec& liner) {
  const Joint& of = edges_.joint(joint);
  const double bore = liner.bore_depth();
  const DepthPair outer_pair = liner_depths(of.style, side, liner.outer_depth, bore);
  const DepthPair inner_pair = liner_depths(of.style, side, liner.inner_depth(), bore);
  const auto patches = [&](const Handle(Geom_Surface) & plane) {
    const std::vector<ArcEdge>& outer = edges_.edges(joint, outer_pair);
    const std::vector<ArcEdge>& inner = edges_.edges(joint, inner_pair);
    std::vector<TopoDS_Face> faces;
    for (std::size_t i = 0; i < outer.size(); ++i) faces.push_back(flat_patch(plane, outer[i], inner[i]));
    return faces;
  };
  if (std::holds_alternative<PlaneTarget>(of.target) && (of.in_panels || of.stretch))
    return patches(plane_up(of));
  if (std::holds_alternative<PlaneTarget>(of.target)) return {flat(joint, outer_pair, &inner_pair)};
  if (of.style == JointStyle::mitre) return ruled_across(joint, outer_pair, inner_pair);
  // The branch's square end lies on the body; the body's hole lies on the branch's face.
  if (side == Side::lead) {
    const double depth = of.style == JointStyle::over ? 0.0 : bore;
    if (of.in_panels && of.follow.front().is_flat()) return patches(surface_of(of.follow.front(), depth));
    if (of.in_panels) return patches_on_body(joint, outer_pair, inner_pair);
    const Loop within{joint, Side::follow, inner_pair};
    return {patch_on(of.follow.front(), depth, {joint, Side::follow, outer_pair}, &within)};
  }
  const double depth = of.style == JointStyle::over ? bore : 0.0;
  std::vector<TopoDS_Face> faces =
      band(of.lead, depth, {of.splits.front(), k_two_pi}, {{joint, Side::lead, inner_pair}},
           {{joint, Side::lead, outer_pair}}, {});
  for (TopoDS_Face& face : faces) face.Reverse();
  return faces;
}

}  // namespace linerwright
