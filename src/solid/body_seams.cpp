// Seams and ends of panels of a branch whose end lies on its body: edges and faces on the body's surface.
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Geom_Ellipse.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS.hxx>
#include <cmath>

#include "faces.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

bool ends_on_body(const Joint& joint) {
  return joint.style != JointStyle::mitre && std::holds_alternative<BodyTarget>(joint.target);
}

// The seam lies in the plane of a ruling and the branch's axis, which cuts the body in an ellipse.
struct Cut {
  Handle(Geom_Curve) curve;
  std::vector<double> parameters;  // from the outer face to the inner one
};

// Where that plane lies nearly along the body it cuts it nearly straight, and smoothly in the branch's depth.
constexpr double k_across = 0.05;  // of the plane's normal, along the body

Cut ellipse_between(const Joint& joint, double s, DepthPair outer, double inner, Vec3 normal) {
  const Sheet& body = joint.follow.front();
  const double radius = body.r1() - outer.follow;
  const Vec3 axis = body.frame().z;
  const double along = dot(normal, axis);
  const Vec3 from = point_of(joint, s, outer);
  const Vec3 to = point_of(joint, s, {inner, outer.follow});
  const Vec3 centre = body.frame().origin + (dot(from - body.frame().origin, normal) / along) * axis;
  const Vec3 major = normalised(axis - along * normal);
  if (dot(cross(from - centre, to - centre), normal) < 0.0) normal = -normal;  // counted from outside in
  const Vec3 minor = cross(normal, major);
  const double longest = radius / std::fabs(along);
  const auto angle_of = [&](Vec3 point) {
    return std::atan2(dot(point - centre, minor) / radius, dot(point - centre, major) / longest);
  };
  const double first = angle_of(from);
  const double turn = angle_of(to) - first;
  const double last = first + turn - k_two_pi * std::floor(turn / k_two_pi);
  Cut cut;
  cut.curve = new Geom_Ellipse(
      gp_Ax2(to_kernel(centre), gp_Dir(normal.x, normal.y, normal.z), gp_Dir(major.x, major.y, major.z)),
      longest, radius);
  constexpr double k_step = 0.02;  // radians
  const int n = std::max(8, static_cast<int>(std::ceil((last - first) / k_step)));
  for (int i = 0; i <= n; ++i) cut.parameters.push_back(i == n ? last : first + (last - first) * i / n);
  return cut;
}

Cut fitted_between(const Joint& joint, double s, DepthPair outer, double inner) {
  constexpr int k_most = 1024;
  constexpr double k_fit = 1e-8;  // mm
  const auto at = [&](double w) { return point_of(joint, s, {w, outer.follow}); };
  for (int n = 8; n <= k_most; n *= 2) {
    Cut cut;
    for (int i = 0; i <= n; ++i)
      cut.parameters.push_back(i == n ? inner : outer.lead + (inner - outer.lead) * i / n);
    const Handle(Geom_BSplineCurve) curve = fitted_curve(at, cut.parameters);
    double worst = 0.0;
    for (int i = 0; i < n; ++i) {
      const double w = outer.lead + (inner - outer.lead) * (i + 0.5) / n;
      worst = std::max(worst, distance(from_kernel(curve->Value(w)), at(w)));
    }
    cut.curve = curve;
    if (worst < k_fit) return cut;
  }
  throw GeometryError("a seam on the body has no smooth curve");
}

Cut cut_between(const Joint& joint, double s, DepthPair outer, double inner) {
  const Vec3 normal = normalised(cross(joint.lead.direction(s), joint.lead.normal(s)));
  return std::fabs(dot(normal, joint.follow.front().frame().z)) > k_across
             ? ellipse_between(joint, s, outer, inner, normal)
             : fitted_between(joint, s, outer, inner);
}

}  // namespace

const Faces::BodySeam& Faces::seam_on_body(int joint, double s, DepthPair outer, DepthPair inner,
                                           const TopoDS_Vertex& from, const TopoDS_Vertex& to) {
  // the same ruling, however it is counted
  std::vector<double> key{std::round(1e9 * std::cos(s)), std::round(1e9 * std::sin(s)), inner.lead};
  add_to_key(key, {joint, Side::lead, outer});
  const auto found = body_seams_.find(key);
  if (found != body_seams_.end()) return found->second;
  const Cut cut = cut_between(edges_.joint(joint), s, outer, inner.lead);
  BodySeam seam{{}, cut.curve, cut.parameters};
  BRep_Builder builder;
  builder.MakeEdge(seam.edge, cut.curve, k_tolerance);
  builder.Add(seam.edge, from.Oriented(TopAbs_FORWARD));
  builder.Add(seam.edge, to.Oriented(TopAbs_REVERSED));
  builder.Range(seam.edge, cut.parameters.front(), cut.parameters.back());
  return body_seams_.emplace(std::move(key), std::move(seam)).first->second;
}

TopoDS_Edge Faces::across_at_seam(const Loop& outer, const Loop& inner, double theta,
                                  const TopoDS_Vertex& from, const TopoDS_Vertex& to) {
  if (outer.side != Side::lead || !ends_on_body(edges_.joint(outer.joint))) return straight(from, to);
  return seam_on_body(outer.joint, theta, outer.depths, inner.depths, from, to).edge;
}

std::vector<TopoDS_Face> Faces::patches_on_body(int joint, DepthPair outer, DepthPair inner) {
  const Joint& of = edges_.joint(joint);
  const TopLoc_Location here;
  BRep_Builder builder;
  const std::vector<ArcEdge>& out = edges_.edges(joint, outer);
  const std::vector<ArcEdge>& in = edges_.edges(joint, inner);
  std::vector<TopoDS_Face> faces;
  for (std::size_t i = 0; i < out.size(); ++i) {
    const auto curve_of = [&, i](const ArcEdge& arc, DepthPair depths) {
      return edges_.curve_on(joint, Side::follow, depths, arc,
                             place_on(of, Side::follow, out[i].arc.from, outer).theta);
    };
    const Handle(Geom2d_Curve) outside = curve_of(out[i], outer);
    // one for each face: a seam that two of them share may be a turn away in one of them
    const Handle(Geom_Surface) surface = surface_of(of.follow.front(), outer.follow);
    TopoDS_Face face;
    builder.MakeFace(face, surface, k_tolerance);
    TopoDS_Wire wire;
    builder.MakeWire(wire);
    const auto add = [&](const TopoDS_Edge& edge, const Handle(Geom2d_Curve) & curve,
                         TopAbs_Orientation way) {
      builder.UpdateEdge(edge, curve, surface, here, k_tolerance);
      builder.Add(wire, edge.Oriented(way));
    };
    const auto add_seam = [&](double s, const TopoDS_Vertex& from, const TopoDS_Vertex& to,
                              TopAbs_Orientation way) {
      const BodySeam& on = seam_on_body(joint, s, outer, inner, from, to);
      const double near = outside->Value(s - out[i].shift).X();
      const auto place = [&, &curve = on.curve](double t) {
        const Sheet::Place at = of.follow.front().locate(from_kernel(curve->Value(t)), outer.follow);
        return Vec2{at.theta + k_two_pi * std::round((near - at.theta) / k_two_pi), at.v};
      };
      add(on.edge, fitted_line(place, on.parameters), way);
    };
    add(out[i].edge, outside, TopAbs_FORWARD);
    add_seam(out[i].arc.to, out[i].to, in[i].to, TopAbs_FORWARD);
    add(in[i].edge, curve_of(in[i], inner), TopAbs_REVERSED);
    add_seam(out[i].arc.from, out[i].from, in[i].from, TopAbs_REVERSED);
    builder.Add(face, wire);
    faces.push_back(face);
  }
  return faces;
}

}  // namespace linerwright
