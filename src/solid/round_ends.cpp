#include "linerwright/solid/round_ends.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRep_Tool.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Vertex.hxx>
#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>
#include <vector>

#include "guard.hpp"
#include "shape.hpp"

namespace linerwright {

namespace {

constexpr double k_off = 1e-4;  // mm that a curve may lie off a circle

struct Ring {
  Vec3 centre;
  double radius;
};

Ring through(Vec3 a, Vec3 b, Vec3 c) {
  const Vec3 u = b - a;
  const Vec3 v = c - a;
  const Vec3 n = cross(u, v);
  const Vec3 to = 0.5 / dot(n, n) * (dot(u, u) * cross(v, n) + dot(v, v) * cross(n, u));
  return {a + to, norm(to)};
}

template <class Measure>
Vec3 furthest(const std::vector<Vec3>& points, const Measure& measure) {
  return *std::max_element(points.begin(), points.end(),
                           [&](Vec3 one, Vec3 other) { return measure(one) < measure(other); });
}

// The circle that all points lie on, through three of them that are far apart.
std::optional<Ring> ring_of(const std::vector<Vec3>& points) {
  const Vec3 a = points.front();
  const Vec3 b = furthest(points, [&](Vec3 p) { return norm(p - a); });
  const Vec3 c = furthest(points, [&](Vec3 p) { return norm(cross(p - a, b - a)); });
  const Vec3 n = cross(b - a, c - a);
  if (dot(n, n) < 1e-9 * dot(b - a, b - a) * dot(c - a, c - a)) return std::nullopt;
  const Ring ring = through(a, b, c);
  const bool round = std::all_of(points.begin(), points.end(), [&](Vec3 p) {
    return std::abs(norm(p - ring.centre) - ring.radius) <= k_off;
  });
  return round ? std::optional<Ring>(ring) : std::nullopt;
}

std::vector<Vec3> points_on(const TopoDS_Edge& edge) {
  constexpr int k_pieces = 12;
  const BRepAdaptor_Curve curve(edge);
  const double first = curve.FirstParameter();
  const double last = curve.LastParameter();
  std::vector<Vec3> points;
  for (int i = 0; i <= k_pieces; ++i)
    points.push_back(from_kernel(curve.Value(first + (last - first) * i / k_pieces)));
  return points;
}

// The circles on a face's edge: arcs that lie on one are one.
std::vector<Ring> rings_around(const TopoDS_Face& face) {
  std::vector<std::pair<Ring, std::vector<Vec3>>> found;
  for (TopExp_Explorer edges(face, TopAbs_EDGE); edges.More(); edges.Next()) {
    const std::vector<Vec3> points = points_on(TopoDS::Edge(edges.Current()));
    const std::optional<Ring> own = ring_of(points);
    if (!own) continue;
    const auto joined = [&](const std::pair<Ring, std::vector<Vec3>>& other) {
      std::vector<Vec3> both = other.second;
      both.insert(both.end(), points.begin(), points.end());
      return ring_of(both);
    };
    const auto one = std::find_if(found.begin(), found.end(), joined);
    if (one == found.end()) {
      found.push_back({*own, points});
      continue;
    }
    one->first = *joined(*one);
    one->second.insert(one->second.end(), points.begin(), points.end());
  }
  std::vector<Ring> rings;
  for (const auto& [ring, points] : found) rings.push_back(ring);
  return rings;
}

// Of a flat face, out of the material.
std::optional<Vec3> outward_of(const TopoDS_Face& face) {
  const BRepAdaptor_Surface surface(face, Standard_False);
  if (surface.GetType() != GeomAbs_Plane) return std::nullopt;
  const gp_Ax3 place = surface.Plane().Position();
  gp_Dir normal = place.Direction();
  if (!place.Direct()) normal.Reverse();
  if (face.Orientation() == TopAbs_REVERSED) normal.Reverse();
  return Vec3{normal.X(), normal.Y(), normal.Z()};
}

// The circles around a flat face, those with one centre together.
std::vector<FlatEnd> ends_of(const TopoDS_Face& face) {
  const std::optional<Vec3> outward = outward_of(face);
  if (!outward) return {};
  std::vector<FlatEnd> ends;
  for (const Ring& ring : rings_around(face)) {
    auto end = std::find_if(ends.begin(), ends.end(),
                            [&](const FlatEnd& one) { return norm(ring.centre - one.centre) <= 1e-5; });
    if (end == ends.end()) end = ends.insert(end, {ring.centre, *outward, {}});
    end->radii.push_back(ring.radius);
  }
  for (FlatEnd& end : ends) std::sort(end.radii.begin(), end.radii.end());
  return ends;
}

}  // namespace

std::vector<FlatEnd> flat_ends(const Solid& solid) {
  return guarded("ends", [&] {
    std::vector<FlatEnd> ends;
    for (TopExp_Explorer faces(solid.shape().shape, TopAbs_FACE); faces.More(); faces.Next())
      for (FlatEnd& end : ends_of(TopoDS::Face(faces.Current()))) ends.push_back(std::move(end));
    return ends;
  });
}

std::vector<FlatFace> flat_faces(const Solid& solid) {
  return guarded("flat faces", [&] {
    std::vector<FlatFace> found;
    for (TopExp_Explorer faces(solid.shape().shape, TopAbs_FACE); faces.More(); faces.Next()) {
      const std::optional<Vec3> outward = outward_of(TopoDS::Face(faces.Current()));
      if (!outward) continue;
      found.push_back({*outward, {}});
      TopTools_IndexedMapOfShape corners;
      TopExp::MapShapes(faces.Current(), TopAbs_VERTEX, corners);
      for (int i = 1; i <= corners.Extent(); ++i)
        found.back().corners.push_back(from_kernel(BRep_Tool::Pnt(TopoDS::Vertex(corners(i)))));
    }
    return found;
  });
}

}  // namespace linerwright
