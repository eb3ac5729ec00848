// Why it proves what it says. The branch is made of rulings, all of which start on the joint: from any of its
// points the way down along the ruling stays in it as far as a face that looks down, and those are the
// joint's. A ruling meets the joint once, for the joint looks up along all of them. Take a point of both
// bodies and go down from it. Just over the joint the body has ended, so on the way one of its faces was
// crossed from within. Not a wall that looks outward: from where a ruling leaves the joint it goes away from
// the body's axis, ever faster. Not one that looks toward the axis, for those are no wider than the joint.
// Not a flat face with all of the joint behind its plane, for the way goes on to the joint. And all other
// faces keep clear of the column that the branch stands in.
#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <Geom_BSplineSurface.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <algorithm>
#include <array>
#include <cmath>
#include <gp_Cone.hxx>
#include <gp_Cylinder.hxx>
#include <gp_Lin.hxx>
#include <gp_Pln.hxx>
#include <limits>
#include <optional>

#include "heights.hpp"
#include "joint_between.hpp"
#include "joint_faces.hpp"

namespace linerwright {

namespace {

constexpr double k_touching = 1e-7;  // mm
constexpr double k_fit = 1e-4;       // mm, as near as joints' curves are fitted
constexpr double k_same = 1e-9;

double height(const gp_Pnt& p, const gp_Vec& up) {
  return gp_Vec(p.XYZ()).Dot(up);
}

// Round walls about one axis, all of one lean: how much their radii grow along it.
struct Walls {
  gp_Lin axis;
  double lean = 0.0;
  double inward = 0.0;  // radius of the widest that looks toward the axis, of cylinders
  double radius = 0.0;  // of the widest, at the axis' own location

  // The way along the walls at a place, unit, up along the axis.
  gp_Vec ruling(const gp_Pnt& at) const {
    const gp_Vec up(axis.Direction());
    const gp_Vec from(axis.Location(), at);
    const gp_Vec out = from - from.Dot(up) * up;
    if (lean == 0.0 || !(out.Magnitude() > 0.0)) return up;
    return (up + lean / out.Magnitude() * out).Normalized();
  }
  // Of the widest wall, so far along the axis from its location.
  double radius_at(double along) const { return radius + lean * along; }
};

// None where a round face is of another form, or leans otherwise than the others; `up` says which way the
// axis is taken.
std::optional<Walls> walls_of(const TopoDS_Shape& body, double up) {
  std::optional<Walls> walls;
  for (TopExp_Explorer it(body, TopAbs_FACE); it.More(); it.Next()) {
    const TopoDS_Face& face = TopoDS::Face(it.Current());
    const BRepAdaptor_Surface surface(face, false);
    if (surface.GetType() == GeomAbs_Plane || is_ruled(surface)) continue;
    gp_Ax1 axis;
    double lean = 0.0;
    double radius = 0.0;
    if (surface.GetType() == GeomAbs_Cylinder) {
      axis = surface.Cylinder().Axis();
      radius = surface.Cylinder().Radius();
    } else if (surface.GetType() == GeomAbs_Cone) {
      axis = surface.Cone().Axis();
      lean = std::tan(surface.Cone().SemiAngle());
      radius = surface.Cone().RefRadius();
    } else {
      return std::nullopt;
    }
    if (!walls) {
      const gp_Dir along = up > 0.0 ? axis.Direction() : axis.Direction().Reversed();
      walls = Walls{gp_Lin(axis.Location(), along), up * lean, 0.0, radius};
    }
    const gp_Vec along(walls->axis.Direction());
    const double same_way = gp_Vec(axis.Direction()).Dot(along) > 0.0 ? 1.0 : -1.0;
    if (!axis.Direction().IsParallel(walls->axis.Direction(), k_same) ||
        walls->axis.Distance(axis.Location()) > 1e-6 || std::fabs(same_way * lean - walls->lean) > k_same)
      return std::nullopt;
    const double at = gp_Vec(walls->axis.Location(), axis.Location()).Dot(along);
    walls->radius = std::max(walls->radius, radius - walls->lean * at);
    if (surface.GetType() != GeomAbs_Cylinder) continue;
    const bool outward = surface.Cylinder().Direct() == (face.Orientation() == TopAbs_FORWARD);
    if (!outward) walls->inward = std::max(walls->inward, radius);
  }
  return walls;
}

// Places on an edge, close enough together that nothing between them matters.
std::vector<gp_Pnt> places_on(const TopoDS_Edge& edge) {
  constexpr int k_steps = 1024;
  const BRepAdaptor_Curve curve(edge);
  std::vector<gp_Pnt> places;
  for (int i = 0; i <= k_steps; ++i)
    places.push_back(
        curve.Value(((k_steps - i) * curve.FirstParameter() + i * curve.LastParameter()) / k_steps));
  return places;
}

template <class Holds>
bool all_along_edges(const TopoDS_Shape& shape, const Holds& holds) {
  TopTools_IndexedMapOfShape edges;
  TopExp::MapShapes(shape, TopAbs_EDGE, edges);
  for (int i = 1; i <= edges.Extent(); ++i) {
    const std::vector<gp_Pnt> places = places_on(TopoDS::Edge(edges(i)));
    if (!std::all_of(places.begin(), places.end(), holds)) return false;
  }
  return true;
}

// Does a flat or ruled face look up along the walls' rulings, as seen from the body whose face it is?
bool looks_along(const TopoDS_Face& face, const Walls& walls) {
  constexpr double k_least = 0.02;
  const BRepAdaptor_Surface surface(face);
  const double sign = face.Orientation() == TopAbs_REVERSED ? -1.0 : 1.0;
  if (surface.GetType() == GeomAbs_Plane) {
    const gp_Vec normal = normals_of(face).front();
    return all_along_edges(face, [&](const gp_Pnt& at) { return normal.Dot(walls.ruling(at)) > k_least; });
  }
  if (!is_ruled(surface)) return false;
  const Handle(Geom_BSplineSurface) spline = surface.BSpline();
  constexpr int k_steps = 4;  // between knots
  for (int i = 1; i < spline->NbUKnots(); ++i)
    for (int k = 0; k <= k_steps; ++k)
      for (const double v : {0.0, 0.5, 1.0}) {
        const double u = ((k_steps - k) * spline->UKnot(i) + k * spline->UKnot(i + 1)) / k_steps;
        gp_Pnt on;
        gp_Vec along_u;
        gp_Vec along_v;
        surface.D1(u, v, on, along_u, along_v);
        const gp_Vec normal = sign * along_u.Crossed(along_v);
        if (!(normal.Dot(walls.ruling(on)) > k_least * normal.Magnitude())) return false;
      }
  return true;
}

// The faces that the two share, if each looks up from the body and rulings go away from the body's axis
// there.
JointFaces joint_under(const TopoDS_Shape& branch, const Walls& column, const TopoDS_Shape& body,
                       const Walls& round) {
  TopTools_IndexedMapOfShape of_branch;
  TopExp::MapShapes(branch, TopAbs_FACE, of_branch);
  JointFaces joint;
  const gp_Vec along(round.axis.Direction());
  const auto leaves = [&](const gp_Pnt& at) {
    const gp_Vec from(round.axis.Location(), at);
    const gp_Vec out = from - from.Dot(along) * along;
    return out.Dot(column.ruling(at)) >= -k_touching * out.Magnitude() &&
           out.Magnitude() >= round.inward - k_fit;
  };
  for (TopExp_Explorer it(body, TopAbs_FACE); it.More(); it.Next()) {
    const TopoDS_Face& face = TopoDS::Face(it.Current());
    if (!of_branch.Contains(face)) continue;
    if (!looks_along(face, column) || !all_along_edges(face, leaves)) return {};
    joint.add(face, gp_Vec(column.axis.Direction()));
  }
  return joint;
}

// Do all of the branch's rulings go down to the joint?
bool starts_on(const TopoDS_Shape& branch, const JointFaces& joint, const Walls& column) {
  for (TopExp_Explorer it(branch, TopAbs_FACE); it.More(); it.Next()) {
    const TopoDS_Face& face = TopoDS::Face(it.Current());
    if (joint.faces.Contains(face)) continue;
    const BRepAdaptor_Surface surface(face, false);
    if (surface.GetType() == GeomAbs_Plane) {
      const gp_Vec normal = normals_of(face).front();
      if (!all_along_edges(face, [&](const gp_Pnt& at) { return normal.Dot(column.ruling(at)) > -k_same; }))
        return false;
    } else if (is_ruled(surface)) {
      return false;
    }
  }
  return true;
}

// What the branch stands in: within a radius of an axis, and no lower than a floor.
struct Column {
  gp_Lin axis;
  double radius;
  gp_Vec away;   // from the body's axis, toward the branch
  double floor;  // the branch's least height along `away`

  // Does everything within `spacing` of p keep clear of the column, or below `floor`?
  bool clear(const gp_Pnt& p, double spacing) const {
    return axis.Distance(p) >= radius + spacing || height(p, away) <= floor - spacing;
  }
};

// A ruled face, another joint's: by places on it, none farther than half a step each way from all others.
bool ruled_face_keeps_clear(const BRepAdaptor_Surface& surface, const Column& column) {
  constexpr int k_along = 512;
  constexpr int k_across = 16;
  constexpr double k_between = 1.5;
  const double first = surface.FirstUParameter();
  const double step = (surface.LastUParameter() - first) / k_along;
  for (int i = 1; i <= k_along; ++i) {
    const std::array<double, 2> u{first + (i - 1) * step, first + i * step};
    const std::array<gp_Pnt, 4> corners{surface.Value(u[0], 0.0), surface.Value(u[1], 0.0),
                                        surface.Value(u[0], 1.0), surface.Value(u[1], 1.0)};
    const double along = std::max(corners[0].Distance(corners[1]), corners[2].Distance(corners[3]));
    const double across = std::max(corners[0].Distance(corners[2]), corners[1].Distance(corners[3]));
    const double spacing = k_between * 0.5 * (along + across / k_across);
    for (int k = 0; k <= k_across; ++k)
      for (const double at : u)
        if (!column.clear(surface.Value(at, static_cast<double>(k) / k_across), spacing)) return false;
  }
  return true;
}

// A flat face: all of the joint, or all of the branch, lies behind its plane, or all of the branch before it.
bool flat_face_keeps_clear(const TopoDS_Face& face, const JointFaces& joint, const TopoDS_Shape& branch) {
  const gp_Pln plane = BRepAdaptor_Surface(face, false).Plane();
  const gp_Vec outward = normals_of(face).front();
  const double level = height(plane.Location(), outward);
  const bool joint_behind = [&] {
    for (int i = 1; i <= joint.faces.Extent(); ++i)
      if (highest(joint.faces(i), outward) > level + k_touching) return false;
    return true;
  }();
  return joint_behind || highest(branch, outward) <= level + k_touching ||
         -highest(branch, -outward) >= level - k_touching;
}

bool other_faces_keep_clear(const TopoDS_Shape& body, const TopoDS_Shape& branch, const JointFaces& joint,
                            const Column& column) {
  for (TopExp_Explorer it(body, TopAbs_FACE); it.More(); it.Next()) {
    const TopoDS_Face& face = TopoDS::Face(it.Current());
    if (joint.faces.Contains(face)) continue;
    const BRepAdaptor_Surface surface(face, false);
    if (surface.GetType() == GeomAbs_Plane ? !flat_face_keeps_clear(face, joint, branch)
                                           : is_ruled(surface) && !ruled_face_keeps_clear(surface, column))
      return false;
  }
  return true;
}

bool stands_on(const TopoDS_Shape& branch, const TopoDS_Shape& body) {
  const std::optional<Walls> round = walls_of(body, 1.0);
  if (!round || round->lean != 0.0) return false;
  const gp_Vec along(round->axis.Direction());
  for (const double sign : {1.0, -1.0}) {
    const std::optional<Walls> walls = walls_of(branch, sign);
    if (!walls) return false;
    const gp_Vec up(walls->axis.Direction());
    const gp_Vec across = up - up.Dot(along) * along;
    if (!(across.Magnitude() > 0.1)) continue;
    const gp_Vec away = across.Normalized();
    const double location = height(walls->axis.Location(), up);
    const double widest = std::max(walls->radius_at(-highest(branch, -up) - location),
                                   walls->radius_at(highest(branch, up) - location));
    const Column column{walls->axis, widest, away, -highest(branch, -away)};
    const JointFaces joint = joint_under(branch, *walls, body, *round);
    if (!joint.faces.IsEmpty() && starts_on(branch, joint, *walls) &&
        other_faces_keep_clear(body, branch, joint, column))
      return true;
  }
  return false;
}

}  // namespace

bool saddle_between(const TopoDS_Shape& a, const TopoDS_Shape& b) {
  try {
    return stands_on(a, b) || stands_on(b, a);
  } catch (const UnknownForm&) {
    return false;
  }
}

}  // namespace linerwright
