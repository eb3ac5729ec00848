// Why it proves what it says. Let z be the height along `up`, and f the joint's height over the plane square
// to it, with slopes of at most L; f is carried on over the whole plane with slope L, between its own lowest
// and highest values (E. J. McShane, "Extension of range of functions", Bull. Amer. Math. Soc. 40, 1934). Of
// the lower body take the point where h = z - f is greatest. It is not inside and not on a face that looks
// down, for straight up h grows; not on a face with rulings that lean from `up` by less than 1 / L, for along
// them h grows. So it lies on an edge; and there h <= 0: on the joint, on a ruling that runs up to the joint,
// or no higher than the joint's lowest point. The upper body is the same, upside down. So h <= 0 in one and h
// >= 0 in the other.
#include "joint_faces.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRep_Tool.hxx>
#include <Geom_BSplineSurface.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Vertex.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Cone.hxx>
#include <gp_Cylinder.hxx>
#include <gp_Pln.hxx>
#include <limits>
#include <vector>

#include "heights.hpp"
#include "linerwright/units/vector.hpp"

namespace linerwright {

namespace {

constexpr double k_touching = 1e-7;  // mm, the kernel's own smallest length
constexpr double k_never = std::numeric_limits<double>::infinity();

}  // namespace

bool is_ruled(const BRepAdaptor_Surface& surface) {
  return surface.GetType() == GeomAbs_BSplineSurface && surface.VDegree() == 1 && surface.NbVPoles() == 2 &&
         !surface.IsVRational() && !surface.IsURational();
}

std::vector<gp_Vec> normals_of(const TopoDS_Face& face) {
  const BRepAdaptor_Surface surface(face);
  const double sign = face.Orientation() == TopAbs_REVERSED ? -1.0 : 1.0;
  std::vector<double> places{surface.FirstUParameter(), surface.LastUParameter()};
  if (is_ruled(surface)) {
    const Handle(Geom_BSplineSurface) spline = surface.BSpline();
    for (int i = 1; i < spline->NbUKnots(); ++i)
      for (const double share : {0.0, 0.5})
        places.push_back((1.0 - share) * spline->UKnot(i) + share * spline->UKnot(i + 1));
  } else if (surface.GetType() == GeomAbs_Plane) {
    places.resize(1);
  } else if (surface.GetType() == GeomAbs_Cone) {
    constexpr int k_places = 96;
    for (int i = 1; i < k_places; ++i)
      places.push_back(((k_places - i) * places[0] + i * places[1]) / k_places);
  } else {
    return {};
  }
  // along a ruling of a spline the normal turns, of a cone it does not
  const bool turns = surface.GetType() == GeomAbs_BSplineSurface;
  const std::vector<double> heights =
      turns ? std::vector<double>{0.0, 0.5, 1.0} : std::vector<double>{surface.FirstVParameter()};
  std::vector<gp_Vec> normals;
  for (const double u : places)
    for (const double v : heights) {
      gp_Pnt on;
      gp_Vec along_u;
      gp_Vec along_v;
      surface.D1(u, v, on, along_u, along_v);
      const gp_Vec normal = along_u.Crossed(along_v);
      if (!(normal.Magnitude() > 0.0)) return {};
      normals.push_back((sign / normal.Magnitude()) * normal);
    }
  return normals;
}

double lean_of(const gp_Vec& along, const gp_Vec& up) {
  const double rise = std::fabs(along.Dot(up));
  return rise > 0.0 ? along.Crossed(up).Magnitude() / rise : k_never;
}

double lean_of(const TopoDS_Face& face, const gp_Vec& up) {
  const BRepAdaptor_Surface surface(face, false);
  switch (surface.GetType()) {
    case GeomAbs_Plane: {
      const gp_Vec normal(surface.Plane().Axis().Direction());
      const double flat = normal.Crossed(up).Magnitude();
      return flat > 0.0 ? std::fabs(normal.Dot(up)) / flat : k_never;
    }
    case GeomAbs_Cylinder:
      return lean_of(gp_Vec(surface.Cylinder().Axis().Direction()), up);
    case GeomAbs_Cone: {
      const double angle = std::atan(lean_of(gp_Vec(surface.Cone().Axis().Direction()), up)) +
                           std::fabs(surface.Cone().SemiAngle());
      return angle < 0.49 * k_pi ? std::tan(angle) : k_never;
    }
    default:
      break;
  }
  if (!is_ruled(surface)) return k_never;
  // a ruling is a mean of those between opposite poles, and leans no more than the worst of them
  const Handle(Geom_BSplineSurface) spline = surface.BSpline();
  double most = 0.0;
  double first_rise = 0.0;
  for (int i = 1; i <= spline->NbUPoles(); ++i) {
    const gp_Vec along(spline->Pole(i, 1), spline->Pole(i, 2));
    const double rise = along.Dot(up);
    if (i == 1) first_rise = rise;
    if (!(rise * first_rise > 0.0)) return k_never;
    most = std::max(most, lean_of(along, up));
  }
  return most;
}

double highest(const TopoDS_Shape& shape, const gp_Vec& up) {
  double most = -k_never;
  for (TopExp_Explorer it(shape, TopAbs_EDGE); it.More(); it.Next()) {
    const BRepAdaptor_Curve curve(TopoDS::Edge(it.Current()));
    for (const double at : turning_points(curve, up))
      most = std::max(most, gp_Vec(curve.Value(at).XYZ()).Dot(up));
  }
  return most;
}

void JointFaces::add(const TopoDS_Face& face, const gp_Vec& up) {
  faces.Add(face);
  TopExp::MapShapes(face, TopAbs_EDGE, edges);
  TopExp::MapShapes(face, TopAbs_VERTEX, vertices);
  for (const gp_Vec& normal : normals_of(face)) slope = std::max(slope, lean_of(normal, up));
  high = std::max(high, highest(face, up));
  low = std::min(low, -highest(face, -up));
}

bool lies_under(const TopoDS_Shape& body, const JointFaces& joint, const gp_Vec& up, double low,
                double slope) {
  constexpr double k_most = 0.9;
  constexpr double k_down = -1e-9;
  constexpr double k_down_between_samples = -0.05;
  for (TopExp_Explorer it(body, TopAbs_FACE); it.More(); it.Next()) {
    const TopoDS_Face& face = TopoDS::Face(it.Current());
    if (joint.faces.Contains(face) || highest(face, up) <= low + k_touching) continue;
    const std::vector<gp_Vec> normals = normals_of(face);
    const bool flat = BRepAdaptor_Surface(face, false).GetType() == GeomAbs_Plane;
    const bool down = !normals.empty() && std::all_of(normals.begin(), normals.end(), [&](const gp_Vec& n) {
      return n.Dot(up) < (flat ? k_down : k_down_between_samples);
    });
    if (!down && !(slope * lean_of(face, up) <= k_most)) return false;
  }
  TopTools_IndexedMapOfShape edges;
  TopExp::MapShapes(body, TopAbs_EDGE, edges);
  for (int i = 1; i <= edges.Extent(); ++i) {
    const TopoDS_Edge edge = TopoDS::Edge(edges(i).Oriented(TopAbs_FORWARD));
    if (joint.edges.Contains(edge)) continue;
    if (highest(edge, up) <= low + k_touching) continue;
    const BRepAdaptor_Curve curve(edge);
    if (curve.GetType() != GeomAbs_Line) return false;
    const bool rises = gp_Vec(curve.Line().Direction()).Dot(up) > 0.0;
    const TopoDS_Vertex top = rises ? TopExp::LastVertex(edge) : TopExp::FirstVertex(edge);
    if (!joint.vertices.Contains(top) || !(slope * lean_of(gp_Vec(curve.Line().Direction()), up) <= k_most))
      return false;
  }
  return true;
}

}  // namespace linerwright
