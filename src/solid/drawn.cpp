// Faces of any STEP file as points, normals and shared edges.
#include "linerwright/solid/drawn.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRepBuilderAPI_Sewing.hxx>
#include <BRepClass_FaceClassifier.hxx>
#include <BRepGProp.hxx>
#include <BRepTools.hxx>
#include <BRep_Tool.hxx>
#include <GProp_GProps.hxx>
#include <Geom2d_Curve.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Face.hxx>
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "guard.hpp"
#include "kernel_side.hpp"
#include "linerwright/units/error.hpp"
#include "shape.hpp"

namespace linerwright {

namespace {

constexpr int k_most_faces = 20'000;
constexpr double k_sewn_within = 1e-3;  // mm, for surfaces that are drawn face by face
constexpr double k_largest = 1e6;       // mm: a kilometre of duct

std::string sort_of(GeomAbs_SurfaceType type) {
  switch (type) {
    case GeomAbs_Plane:
      return "plane";
    case GeomAbs_Cylinder:
      return "cylinder";
    case GeomAbs_Cone:
      return "cone";
    case GeomAbs_Sphere:
      return "sphere";
    case GeomAbs_Torus:
      return "torus";
    case GeomAbs_BSplineSurface:
    case GeomAbs_BezierSurface:
      return "free form";
    default:
      return "swept surface";
  }
}

// Appends the point of the surface at (u, v) with its outward normal; places without a normal are left.
void add_point(const BRepAdaptor_Surface& surface, bool reversed, double u, double v,
               std::vector<DrawnPoint>& points) {
  gp_Pnt at;
  gp_Vec du, dv;
  surface.D1(u, v, at, du, dv);
  gp_Vec normal = du.Crossed(dv);
  const double size = normal.Magnitude();
  if (!(size > 1e-12 * (1.0 + du.Magnitude() * dv.Magnitude()))) return;
  normal *= (reversed ? -1.0 : 1.0) / size;
  const Vec3 place = from_kernel(at);
  if (!(std::fabs(place.x) < k_largest && std::fabs(place.y) < k_largest && std::fabs(place.z) < k_largest))
    return;
  points.push_back({place, {normal.X(), normal.Y(), normal.Z()}});
}

// A grid inside the face's outline, and places along its edges.
std::vector<DrawnPoint> points_of(const TopoDS_Face& face) {
  constexpr int k_grid = 9;
  constexpr int k_along = 6;
  std::vector<DrawnPoint> points;
  const BRepAdaptor_Surface surface(face);
  const bool reversed = face.Orientation() == TopAbs_REVERSED;
  double u0 = 0.0, u1 = 0.0, v0 = 0.0, v1 = 0.0;
  BRepTools::UVBounds(face, u0, u1, v0, v1);
  BRepClass_FaceClassifier classifier;
  for (int i = 0; i < k_grid; ++i)
    for (int k = 0; k < k_grid; ++k) {
      const double u = u0 + (u1 - u0) * (i + 0.5) / k_grid;
      const double v = v0 + (v1 - v0) * (k + 0.5) / k_grid;
      classifier.Perform(face, gp_Pnt2d(u, v), 1e-9);
      if (classifier.State() == TopAbs_IN) add_point(surface, reversed, u, v, points);
    }
  for (TopExp_Explorer edges(face, TopAbs_EDGE); edges.More(); edges.Next()) {
    double first = 0.0, last = 0.0;
    const Handle(Geom2d_Curve) curve =
        BRep_Tool::CurveOnSurface(TopoDS::Edge(edges.Current()), face, first, last);
    if (curve.IsNull()) continue;
    for (int i = 0; i < k_along; ++i) {
      const gp_Pnt2d place = curve->Value(first + (last - first) * (i + 0.5) / k_along);
      add_point(surface, reversed, place.X(), place.Y(), points);
    }
  }
  return points;
}

DrawnEdge edge_of(const TopoDS_Edge& edge) {
  constexpr int k_points = 33;
  DrawnEdge drawn;
  if (BRep_Tool::Degenerated(edge)) return drawn;
  const BRepAdaptor_Curve curve(edge);
  const double first = curve.FirstParameter();
  const double last = curve.LastParameter();
  for (int i = 0; i < k_points; ++i)
    drawn.points.push_back(from_kernel(curve.Value(first + (last - first) * i / (k_points - 1))));
  return drawn;
}

// Some programs write their solids inside out: their normals look into the material, and their volume is
// negative.
bool is_inside_out(const TopoDS_Shape& solid) {
  GProp_GProps properties;
  BRepGProp::VolumeProperties(solid, properties, 1e-3);
  return properties.Mass() < 0.0;
}

// Whether every edge lies between two faces, or twice in one: a shell that closes is the skin of a solid,
// whatever the file calls it.
bool is_closed(const DrawnBody& body) {
  std::vector<int> uses(body.edges.size(), 0);
  for (const DrawnFace& face : body.faces)
    for (const int edge : face.edges) ++uses[static_cast<std::size_t>(edge)];
  for (std::size_t e = 0; e < uses.size(); ++e)
    if (!body.edges[e].points.empty() && uses[e] != 2) return false;
  return true;
}

DrawnBody body_of(const TopoDS_Shape& shape, bool is_solid) {
  DrawnBody body;
  TopTools_IndexedMapOfShape edges;
  TopExp::MapShapes(shape, TopAbs_EDGE, edges);
  for (int i = 1; i <= edges.Extent(); ++i) body.edges.push_back(edge_of(TopoDS::Edge(edges(i))));
  int number = 0;
  for (TopExp_Explorer faces(shape, TopAbs_FACE); faces.More(); faces.Next()) {
    const TopoDS_Face face = TopoDS::Face(faces.Current());
    DrawnFace drawn;
    drawn.number = ++number;
    drawn.sort = sort_of(BRepAdaptor_Surface(face, false).GetType());
    drawn.points = points_of(face);
    for (TopExp_Explorer each(face, TopAbs_EDGE); each.More(); each.Next())
      if (!BRep_Tool::Degenerated(TopoDS::Edge(each.Current())))
        drawn.edges.push_back(edges.FindIndex(each.Current()) - 1);
    GProp_GProps properties;
    BRepGProp::SurfaceProperties(face, properties, 1e-3);
    drawn.area = std::fabs(properties.Mass());
    body.faces.push_back(std::move(drawn));
  }
  body.is_solid = is_solid || is_closed(body);
  if (body.is_solid && is_inside_out(shape))
    for (DrawnFace& face : body.faces)
      for (DrawnPoint& p : face.points) p.normal = -p.normal;
  return body;
}

// Faces that stand in no solid, sewn where their edges meet: a body for each connected surface.
void add_surfaces(const TopoDS_Shape& all, std::vector<DrawnBody>& bodies) {
  BRepBuilderAPI_Sewing sewing(k_sewn_within);
  int loose = 0;
  for (TopExp_Explorer faces(all, TopAbs_FACE, TopAbs_SOLID); faces.More(); faces.Next(), ++loose)
    sewing.Add(faces.Current());
  if (loose == 0) return;
  sewing.Perform();
  const TopoDS_Shape sewn = sewing.SewedShape();
  if (sewn.IsNull()) return;
  for (TopExp_Explorer shells(sewn, TopAbs_SHELL); shells.More(); shells.Next())
    bodies.push_back(body_of(shells.Current(), false));
  for (TopExp_Explorer faces(sewn, TopAbs_FACE, TopAbs_SHELL); faces.More(); faces.Next())
    bodies.push_back(body_of(faces.Current(), false));
}

}  // namespace

std::vector<DrawnBody> kernel::read_drawn(const std::filesystem::path& file) {
  const auto refuse = [&](const std::string& why) {
    throw InputError({Problem{file.string(), 0, {}, {}, {}, {}, why}});
  };
  const TopoDS_Shape all = read_step_shape(file);
  int faces = 0;
  for (TopExp_Explorer each(all, TopAbs_FACE); each.More(); each.Next())
    if (++faces > k_most_faces)
      refuse(fmt::format("holds more than {} faces, far more than drawn metal", k_most_faces));
  if (faces == 0) refuse("holds no faces");
  std::vector<DrawnBody> bodies;
  for (TopExp_Explorer solids(all, TopAbs_SOLID); solids.More(); solids.Next())
    bodies.push_back(body_of(solids.Current(), true));
  add_surfaces(all, bodies);
  return bodies;
}

}  // namespace linerwright
