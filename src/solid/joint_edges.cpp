#include "joint_edges.hpp"

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeVertex.hxx>
#include <BRep_Builder.hxx>
#include <Geom2dAPI_Interpolate.hxx>
#include <Geom2d_BSplineCurve.hxx>
#include <Geom2d_Line.hxx>
#include <GeomAPI_Interpolate.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_Circle.hxx>
#include <Geom_Ellipse.hxx>
#include <TColStd_HArray1OfReal.hxx>
#include <TColgp_HArray1OfPnt.hxx>
#include <TColgp_HArray1OfPnt2d.hxx>
#include <algorithm>
#include <cmath>

#include "linerwright/mesh/bodies.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

// Kernel's own smallest length; two points nearer than this are one.
constexpr double k_same = 1e-7;

enum class CurveForm { circle, ellipse, fitted };

// A round wall has circles where a plane cuts it square to its axis, where a cut is square to its board, and
// where it meets its collar; a plane cuts a cylinder in an ellipse; all else is fitted.
CurveForm form_of(const Joint& joint) {
  const Sheet& lead = joint.lead;
  const bool round = lead.is_cylinder() || lead.is_right_cone();
  if (std::holds_alternative<BodyTarget>(joint.target) || joint.of_opening()) return CurveForm::fitted;
  const auto* plane = std::get_if<PlaneTarget>(&joint.target);
  const bool square = plane != nullptr && norm(cross(plane->normal, lead.frame().z)) < 1e-12;
  // two legs that part straight away from each other count their rulings contrary ways: no circle
  if (joint.stretch)
    return plane != nullptr && !square && lead.is_cylinder() ? CurveForm::ellipse : CurveForm::fitted;
  if (plane == nullptr) return round ? CurveForm::circle : CurveForm::fitted;
  if (square && round) return CurveForm::circle;
  return lead.is_cylinder() ? CurveForm::ellipse : CurveForm::fitted;
}

// Derivative at an end of an arc, looking only into the arc, by the fourth-order one-sided difference.
template <class F>
auto end_slope(F&& f, double at, double h) {
  return (1.0 / (12.0 * h)) * (-25.0 * f(at) + 48.0 * f(at + h) - 36.0 * f(at + 2.0 * h) +
                               16.0 * f(at + 3.0 * h) - 3.0 * f(at + 4.0 * h));
}

Handle(TColStd_HArray1OfReal) knots_of(const std::vector<double>& parameters) {
  Handle(TColStd_HArray1OfReal) knots = new TColStd_HArray1OfReal(1, static_cast<int>(parameters.size()));
  for (std::size_t i = 0; i < parameters.size(); ++i) knots->SetValue(static_cast<int>(i) + 1, parameters[i]);
  return knots;
}

// Cubic spline through f at the parameters, with f's own slopes at the ends.
template <class F>
Handle(Geom_BSplineCurve) fit_in_space(F&& f, const std::vector<double>& parameters) {
  Handle(TColgp_HArray1OfPnt) points = new TColgp_HArray1OfPnt(1, static_cast<int>(parameters.size()));
  for (std::size_t i = 0; i < parameters.size(); ++i)
    points->SetValue(static_cast<int>(i) + 1, to_kernel(f(parameters[i])));
  GeomAPI_Interpolate fit(points, knots_of(parameters), Standard_False, 1e-12);
  const std::size_t last = parameters.size() - 1;
  const Vec3 first_slope = end_slope(f, parameters[0], 0.25 * (parameters[1] - parameters[0]));
  const Vec3 last_slope = end_slope(f, parameters[last], 0.25 * (parameters[last - 1] - parameters[last]));
  fit.Load(gp_Vec(first_slope.x, first_slope.y, first_slope.z),
           gp_Vec(last_slope.x, last_slope.y, last_slope.z), Standard_False);
  fit.Perform();
  if (!fit.IsDone()) throw GeometryError("fitting a joint's curve failed");
  return fit.Curve();
}

// The same in the plane of (theta, v), through places already known; f gives the places near the ends.
template <class F>
Handle(Geom2d_BSplineCurve)
    fit_on_sheet(F&& f, const std::vector<double>& parameters, const std::vector<Vec2>& places) {
  Handle(TColgp_HArray1OfPnt2d) points = new TColgp_HArray1OfPnt2d(1, static_cast<int>(places.size()));
  for (std::size_t i = 0; i < places.size(); ++i)
    points->SetValue(static_cast<int>(i) + 1, gp_Pnt2d(places[i].x, places[i].y));
  Geom2dAPI_Interpolate fit(points, knots_of(parameters), Standard_False, 1e-12);
  const std::size_t last = parameters.size() - 1;
  const Vec2 first_slope = end_slope(f, parameters[0], 0.25 * (parameters[1] - parameters[0]));
  const Vec2 last_slope = end_slope(f, parameters[last], 0.25 * (parameters[last - 1] - parameters[last]));
  fit.Load(gp_Vec2d(first_slope.x, first_slope.y), gp_Vec2d(last_slope.x, last_slope.y), Standard_False);
  fit.Perform();
  if (!fit.IsDone()) throw GeometryError("fitting a joint's curve on its wall failed");
  return fit.Curve();
}

// Parameters of an arc, moved evenly onto the one that it is at another depth.
std::vector<double> onto(const Arc& arc, std::vector<double> parameters) {
  const double from = parameters.front();
  const double to = parameters.back();
  if (arc.from == from && arc.to == to) return parameters;
  for (double& s : parameters) s = arc.from + (arc.to - arc.from) * ((s - from) / (to - from));
  parameters.back() = arc.to;
  return parameters;
}

TopoDS_Vertex vertex_at(Vec3 point) {
  TopoDS_Vertex vertex;
  BRep_Builder().MakeVertex(vertex, to_kernel(point), k_same);
  return vertex;
}

}  // namespace

Handle(Geom_BSplineCurve)
    fitted_curve(const std::function<Vec3(double)>& at, const std::vector<double>& parameters) {
  return fit_in_space(at, parameters);
}

Handle(Geom2d_Curve)
    fitted_line(const std::function<Vec2(double)>& at, const std::vector<double>& parameters) {
  std::vector<Vec2> places;
  for (const double s : parameters) places.push_back(at(s));
  return fit_on_sheet(at, parameters, places);
}

JointEdges::JointEdges(const Fitting& fitting, double fit) : fitting_(fitting), fit_(fit) {
  for (const Joint& joint : fitting.joints) {
    samples_.emplace_back();
    if (joint.folded() || joint.of_panel()) continue;  // a square-to-round's layers bring their own curves
    if (form_of(joint) == CurveForm::circle) continue;
    const std::vector<DepthPair> depths = depths_of(fitting, joint);
    for (const Arc& arc : arcs_of(joint)) samples_.back().push_back(sample_arc(joint, arc, depths, fit));
  }
  // The two ends of an oblique wall share their parameters, because its faces are ruled between them.
  // Rings pass them on from one to the next, hence as many rounds as walls.
  std::vector<Wall> walls = bare_ends(fitting);
  walls.insert(walls.end(), fitting.walls.begin(), fitting.walls.end());
  for (std::size_t w = 0; w < walls.size() * walls.size(); ++w) {
    const Wall& wall = walls[w % walls.size()];
    if (wall.sheet.is_cylinder() || wall.sheet.is_right_cone() || wall.sheet.is_square_to_round()) continue;
    auto& low = samples_[static_cast<std::size_t>(wall.low.joint)];
    auto& high = samples_[static_cast<std::size_t>(wall.high.joint)];
    if (low.size() != high.size())
      throw GeometryError("the two ends of an oblique taper are split differently");
    for (std::size_t i = 0; i < low.size(); ++i) {
      std::vector<double> both;
      std::set_union(low[i].begin(), low[i].end(), high[i].begin(), high[i].end(), std::back_inserter(both));
      // two samples so near that they would be one point are not both kept
      both.erase(std::unique(both.begin(), both.end(), [](double a, double b) { return b - a < 1e-9; }),
                 both.end());
      low[i] = high[i] = both;
    }
  }
}

const std::vector<ArcEdge>& JointEdges::edges(int joint_index, DepthPair depths) {
  const auto key = std::make_pair(joint_index, depths);
  auto found = made_.find(key);
  if (found == made_.end()) found = made_.emplace(key, make_edges(joint_index, depths)).first;
  return found->second;
}

TopoDS_Vertex JointEdges::corner(int number, DepthPair depths, Vec3 point) {
  const auto key = std::make_pair(number, depths);
  const auto found = corners_.find(key);
  return found != corners_.end() ? found->second : corners_.emplace(key, vertex_at(point)).first->second;
}

std::vector<ArcEdge> JointEdges::make_edges(int joint_index, DepthPair depths) {
  const Joint& of = joint(joint_index);
  if (of.folded()) return folded_rim_edges(of.lead, depths.lead);
  const auto at = [&](double s) { return point_of(of, s, depths); };
  const std::vector<Arc> arcs = arcs_at(of, depths);
  std::vector<ArcEdge> made;
  const CurveForm form = form_of(of);
  for (std::size_t i = 0; i < arcs.size(); ++i) {
    ArcEdge arc{arcs[i], {}, {}, 0.0, {}, {}};
    Handle(Geom_Curve) curve;
    const Frame& frame = of.lead.frame();
    if (form == CurveForm::circle) {
      arc.parameters = {arc.arc.from, arc.arc.to};
      const Vec3 east = at(0.0);
      const Vec3 west = at(k_pi);
      const Vec3 centre = 0.5 * (east + west);
      curve = new Geom_Circle(gp_Ax2(to_kernel(centre), gp_Dir(frame.z.x, frame.z.y, frame.z.z),
                                     gp_Dir(frame.x.x, frame.x.y, frame.x.z)),
                              0.5 * distance(east, west));
    } else if (form == CurveForm::ellipse) {
      // A cylinder about z cut by a plane: centre + r (cos theta, sin theta, height). With theta0 the
      // steepest direction this is an ellipse about the plane's normal whose own parameter is theta - theta0.
      arc.parameters = samples_[static_cast<std::size_t>(joint_index)][i];
      const auto& plane = std::get<PlaneTarget>(of.target);
      const Vec3 n = frame.local_direction(dot(plane.normal, frame.z) > 0.0 ? plane.normal : -plane.normal);
      const double theta0 = std::atan2(-n.y, -n.x);
      const Vec3 top = at(theta0);
      const Vec3 bottom = at(theta0 + k_pi);
      const Vec3 centre = 0.5 * (top + bottom);
      const Vec3 major = normalised(top - bottom);
      const Vec3 normal = normalised(frame.direction(n));
      curve = new Geom_Ellipse(
          gp_Ax2(to_kernel(centre), gp_Dir(normal.x, normal.y, normal.z), gp_Dir(major.x, major.y, major.z)),
          0.5 * distance(top, bottom), of.lead.r1() - depths.lead);
      arc.shift = theta0;
    } else {
      arc.parameters = onto(arcs[i], samples_[static_cast<std::size_t>(joint_index)][i]);
      curve = fit_in_space(at, arc.parameters);
      for (std::size_t k = 0; k + 1 < arc.parameters.size(); ++k) {
        const double middle = 0.5 * (arc.parameters[k] + arc.parameters[k + 1]);
        deviation_ = std::max(deviation_, distance(from_kernel(curve->Value(middle)), at(middle)));
      }
    }
    const bool last = i + 1 == arcs.size();
    if (i > 0)
      arc.from = made.back().to;
    else
      arc.from = of.stretch ? corner(of.stretch->from_corner, depths, at(arc.arc.from))
                            : vertex_at(at(arc.arc.from));
    if (last && of.stretch)
      arc.to = corner(of.stretch->to_corner, depths, at(arc.arc.to));
    else if (last)
      arc.to = i == 0 ? arc.from : made.front().from;
    else
      arc.to = vertex_at(at(arc.arc.to));
    BRep_Builder builder;
    builder.MakeEdge(arc.edge, curve, k_same);
    TopoDS_Shape from = arc.from.Oriented(TopAbs_FORWARD);
    TopoDS_Shape to = arc.to.Oriented(TopAbs_REVERSED);
    builder.Add(arc.edge, from);
    builder.Add(arc.edge, to);
    builder.Range(arc.edge, arc.arc.from - arc.shift, arc.arc.to - arc.shift);
    made.push_back(std::move(arc));
  }
  return made;
}

Handle(Geom2d_Curve) JointEdges::curve_on(int joint_index, Side side, DepthPair depths, const ArcEdge& arc,
                                          double near_theta) const {
  const Joint& of = joint(joint_index);
  const Sheet::Place start = place_on(of, side, arc.arc.from, depths);
  const double turns = k_two_pi * std::round((near_theta - start.theta) / k_two_pi);
  if (form_of(of) == CurveForm::circle) {
    // a level line; theta runs with s (coaxial walls share their frame's handedness)
    return new Geom2d_Line(gp_Pnt2d(start.theta + turns - arc.arc.from, start.v), gp_Dir2d(1.0, 0.0));
  }
  // theta continued without jumps from sample to sample
  std::vector<double> shifted;
  std::vector<Vec2> places;
  shifted.reserve(arc.parameters.size());
  places.reserve(arc.parameters.size());
  double last_theta = start.theta + turns;
  for (const double s : arc.parameters) {
    const Sheet::Place place = place_on(of, side, s, depths);
    last_theta = place.theta + k_two_pi * std::round((last_theta - place.theta) / k_two_pi);
    shifted.push_back(arc.rate * s - arc.shift);
    places.push_back({last_theta, place.v});
  }
  if (!arc.with_s()) {
    std::reverse(shifted.begin(), shifted.end());
    std::reverse(places.begin(), places.end());
  }
  const auto near_end = [&](double shifted_s) -> Vec2 {
    const Sheet::Place place = place_on(of, side, (shifted_s + arc.shift) / arc.rate, depths);
    const bool at_start = shifted_s - shifted.front() < shifted.back() - shifted_s;
    const double beside = (at_start ? places.front() : places.back()).x;
    return {place.theta + k_two_pi * std::round((beside - place.theta) / k_two_pi), place.v};
  };
  return fit_on_sheet(near_end, shifted, places);
}

}  // namespace linerwright
