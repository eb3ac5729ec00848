// Why it proves what it says. The branch lies in a column along its axis, over the joint and within its own
// radius. A point of both bodies could be moved up along that axis, inside the branch, until the branch ends
// or the body does. The branch ends beyond all of the body. Where the body ends, one of its faces looks up,
// and is not the joint, which lies below the whole branch. It is not an end of the body, for the branch lies
// on one side of that plane; not the air face, whose part that looks up lies beyond the body's axis, where no
// branch reaches; not the duct face, whose near side keeps clear of the column: no edge of it enters, and its
// middle is a hole.
#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRepTopAdaptor_FClass2d.hxx>
#include <ElSLib.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <algorithm>
#include <array>
#include <cmath>
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
constexpr double k_same = 1e-9;

// The cylinder of the greatest radius, if all round faces of the body are cylinders about its axis.
std::optional<gp_Cylinder> round_of(const TopoDS_Shape& body) {
  std::optional<gp_Cylinder> widest;
  for (TopExp_Explorer it(body, TopAbs_FACE); it.More(); it.Next()) {
    const BRepAdaptor_Surface surface(TopoDS::Face(it.Current()), false);
    if (surface.GetType() == GeomAbs_Plane || is_ruled(surface)) continue;
    if (surface.GetType() != GeomAbs_Cylinder) return std::nullopt;
    const gp_Cylinder next = surface.Cylinder();
    if (widest && (!next.Axis().Direction().IsParallel(widest->Axis().Direction(), k_same) ||
                   gp_Lin(widest->Axis()).Distance(next.Location()) > 1e-6))
      return std::nullopt;
    if (!widest || next.Radius() > widest->Radius()) widest = next;
  }
  return widest;
}

double height(const gp_Pnt& p, const gp_Vec& up) {
  return gp_Vec(p.XYZ()).Dot(up);
}

// Do all of these places, each of them standing for all within `spacing`, keep clear of the column or below
// `floor`?
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

// The faces that the two share, if each looks up from the body, and all edges of the branch lie on its walls
// or among them, so that the branch stays within its widest wall.
JointFaces joint_under(const TopoDS_Shape& branch, const TopoDS_Shape& body, const gp_Vec& up) {
  constexpr double k_least = 0.02;
  TopTools_IndexedMapOfShape of_branch;
  TopExp::MapShapes(branch, TopAbs_FACE, of_branch);
  JointFaces joint;
  for (TopExp_Explorer it(body, TopAbs_FACE); it.More(); it.Next()) {
    const TopoDS_Face& face = TopoDS::Face(it.Current());
    if (!of_branch.Contains(face)) continue;
    const std::vector<gp_Vec> normals = normals_of(face);
    if (normals.empty() || std::any_of(normals.begin(), normals.end(),
                                       [&](const gp_Vec& normal) { return normal.Dot(up) < k_least; }))
      return {};
    joint.add(face, up);
  }
  TopTools_IndexedMapOfShape walls;
  TopTools_IndexedMapOfShape edges;
  for (TopExp_Explorer it(branch, TopAbs_FACE); it.More(); it.Next())
    if (BRepAdaptor_Surface(TopoDS::Face(it.Current()), false).GetType() == GeomAbs_Cylinder)
      TopExp::MapShapes(it.Current(), TopAbs_EDGE, walls);
  TopExp::MapShapes(branch, TopAbs_EDGE, edges);
  for (int i = 1; i <= edges.Extent(); ++i)
    if (!walls.Contains(edges(i)) && !joint.edges.Contains(edges(i))) return {};
  return joint;
}

// The least height, along `away`, of the branch's flat ends that look up; without one, below all.
double lowest_end(const TopoDS_Shape& branch, const gp_Vec& up, const gp_Vec& away) {
  double least = std::numeric_limits<double>::infinity();
  bool found = false;
  for (TopExp_Explorer it(branch, TopAbs_FACE); it.More(); it.Next()) {
    const TopoDS_Face& face = TopoDS::Face(it.Current());
    if (BRepAdaptor_Surface(face, false).GetType() != GeomAbs_Plane) continue;
    if (normals_of(face).front().Dot(up) <= 0.0) continue;
    found = true;
    least = std::min(least, -highest(face, -away));
  }
  return found ? least : -std::numeric_limits<double>::infinity();
}

bool edge_keeps_clear(const TopoDS_Edge& edge, const Column& column) {
  constexpr int k_steps = 1024;
  constexpr double k_between = 1.5;
  const BRepAdaptor_Curve curve(edge);
  const double first = curve.FirstParameter();
  const double step = (curve.LastParameter() - first) / k_steps;
  gp_Pnt last = curve.Value(first);
  for (int i = 1; i <= k_steps; ++i) {
    const gp_Pnt next = curve.Value(first + i * step);
    // a place between the two is no farther from one of them than from the other
    const double spacing = k_between * 0.5 * last.Distance(next);
    if (!column.clear(last, spacing) || !column.clear(next, spacing)) return false;
    last = next;
  }
  return true;
}

// Does a curve of the joint lie on the column or around it, as near as joints' curves are fitted?
bool lies_around(const TopoDS_Edge& edge, const Column& column) {
  constexpr int k_places = 64;
  constexpr double k_fit = 1e-4;  // mm
  const BRepAdaptor_Curve curve(edge);
  for (int i = 0; i <= k_places; ++i) {
    const double share = static_cast<double>(i) / k_places;
    const gp_Pnt on = curve.Value((1.0 - share) * curve.FirstParameter() + share * curve.LastParameter());
    if (column.axis.Distance(on) < column.radius - k_fit) return false;
  }
  return true;
}

// The near side of the body's outer face, seen along the column, is a strip without the face's holes. The
// column's part of it lies in a hole if no edge but the joint's own, which lie around the column, enters it,
// and its middle is not on the face.
bool duct_face_keeps_clear(const TopoDS_Face& face, const gp_Cylinder& body, const JointFaces& joint,
                           const Column& column) {
  for (TopExp_Explorer it(face, TopAbs_EDGE); it.More(); it.Next())
    if (const TopoDS_Edge& edge = TopoDS::Edge(it.Current());
        joint.edges.Contains(edge) ? !lies_around(edge, column) : !edge_keeps_clear(edge, column))
      return false;
  // where the column's axis comes out of the body
  const gp_Vec along(body.Axis().Direction());
  const gp_Vec up(column.axis.Direction());
  const gp_Vec from(body.Location(), column.axis.Location());
  const gp_Vec across = up - up.Dot(along) * along;
  const gp_Vec aside = from - from.Dot(along) * along;
  const double a = across.Dot(across);
  const double b = across.Dot(aside);
  const double inside = b * b - a * (aside.Dot(aside) - body.Radius() * body.Radius());
  if (!(a > 0.0) || !(inside > 0.0)) return false;
  const gp_Pnt out = column.axis.Location().Translated((-b + std::sqrt(inside)) / a * up);
  if (height(out, column.away) <= column.floor) return false;
  double u = 0.0;
  double v = 0.0;
  ElSLib::Parameters(body, out, u, v);
  return BRepTopAdaptor_FClass2d(face, k_touching).Perform(gp_Pnt2d(u, v)) == TopAbs_OUT;
}

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

// A flat face: the branch lies on one side of its plane, or the plane cuts the column, in an ellipse, farther
// out than the face reaches.
bool flat_face_keeps_clear(const TopoDS_Face& face, const gp_Pln& plane, const TopoDS_Shape& branch,
                           const Column& column) {
  const gp_Vec normal(plane.Axis().Direction());
  const double level = height(plane.Location(), normal);
  if (highest(branch, normal) <= level + k_touching || -highest(branch, -normal) >= level - k_touching)
    return true;
  const gp_Vec up(column.axis.Direction());
  const double rise = up.Dot(normal);
  const double over = up.Dot(column.away);  // the column leans in the plane of `away` and the normal
  if (std::fabs(normal.Dot(column.away)) > k_same || std::fabs(rise) < k_same ||
      std::fabs(rise * rise + over * over - 1.0) > k_same)
    return false;
  const gp_Pnt middle =
      column.axis.Location().Translated((level - height(column.axis.Location(), normal)) / rise * up);
  return height(middle, column.away) - column.radius / std::fabs(rise) >= highest(face, column.away);
}

bool faces_keep_clear(const TopoDS_Shape& body, const TopoDS_Shape& branch, const JointFaces& joint,
                      const Column& column) {
  for (TopExp_Explorer it(body, TopAbs_FACE); it.More(); it.Next()) {
    const TopoDS_Face& face = TopoDS::Face(it.Current());
    if (joint.faces.Contains(face)) continue;
    const BRepAdaptor_Surface surface(face, false);
    if (surface.GetType() == GeomAbs_Plane) {
      if (!flat_face_keeps_clear(face, surface.Plane(), branch, column)) return false;
    } else if (surface.GetType() == GeomAbs_Cylinder) {
      const bool outward = surface.Cylinder().Direct() == (face.Orientation() == TopAbs_FORWARD);
      if (outward && !duct_face_keeps_clear(face, surface.Cylinder(), joint, column)) return false;
    } else {
      if (!is_ruled(surface) || !ruled_face_keeps_clear(surface, column)) return false;
    }
  }
  return true;
}

bool stands_on(const TopoDS_Shape& branch, const TopoDS_Shape& body) {
  const std::optional<gp_Cylinder> round = round_of(body);
  const std::optional<gp_Cylinder> pipe = round_of(branch);
  if (!round || !pipe || pipe->Radius() > round->Radius()) return false;
  const gp_Vec along(round->Axis().Direction());
  for (const double sign : {1.0, -1.0}) {
    const gp_Vec up = sign * gp_Vec(pipe->Axis().Direction());
    const gp_Vec across = up - up.Dot(along) * along;
    if (!(across.Magnitude() > 0.1)) continue;
    const gp_Vec away = across.Normalized();
    const double middle = height(round->Location(), away);
    const Column column{gp_Lin(pipe->Location(), gp_Dir(up)), pipe->Radius(), away, -highest(branch, -away)};
    const JointFaces joint = joint_under(branch, body, up);
    // the branch's walls run along the column, so that any slope of the joint will do
    constexpr double k_any_slope = 1e3;
    if (joint.faces.IsEmpty() || column.floor < middle + k_touching ||
        !lies_under(branch, joint, -up, -joint.high, k_any_slope) ||
        lowest_end(branch, up, away) < highest(body, away) - k_touching)
      continue;
    if (faces_keep_clear(body, branch, joint, column)) return true;
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
