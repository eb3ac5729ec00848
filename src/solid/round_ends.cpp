#include "linerwright/round_ends.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Face.hxx>
#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "guard.hpp"
#include "shape.hpp"

namespace linerwright {

namespace {

struct Ring {
  Vec3 centre;
  double radius;
};

// The circle through three points of the edge, if nine more lie on it.
std::optional<Ring> ring_of(const TopoDS_Edge& edge) {
  const BRepAdaptor_Curve curve(edge);
  const double first = curve.FirstParameter();
  const double last = curve.LastParameter();
  const auto at = [&](double share) { return from_kernel(curve.Value(first + (last - first) * share)); };
  const Vec3 a = at(0.05);
  const Vec3 u = at(0.35) - a;
  const Vec3 v = at(0.65) - a;
  const Vec3 n = cross(u, v);
  const double square = dot(n, n);
  if (square < 1e-9 * dot(u, u) * dot(v, v)) return std::nullopt;
  const Vec3 to = 0.5 / square * (dot(u, u) * cross(v, n) + dot(v, v) * cross(n, u));
  const Ring ring{a + to, norm(to)};
  for (int k = 0; k <= 8; ++k)
    if (std::abs(norm(at(k / 8.0) - ring.centre) - ring.radius) > 1e-4) return std::nullopt;
  return ring;
}

// The circles around a flat face, those with one centre together.
std::vector<FlatEnd> ends_of(const TopoDS_Face& face) {
  const BRepAdaptor_Surface surface(face, Standard_False);
  if (surface.GetType() != GeomAbs_Plane) return {};
  const gp_Ax3 place = surface.Plane().Position();
  gp_Dir normal = place.Direction();
  if (!place.Direct()) normal.Reverse();
  if (face.Orientation() == TopAbs_REVERSED) normal.Reverse();
  std::vector<FlatEnd> ends;
  for (TopExp_Explorer edges(face, TopAbs_EDGE); edges.More(); edges.Next()) {
    const std::optional<Ring> ring = ring_of(TopoDS::Edge(edges.Current()));
    if (!ring) continue;
    auto end = std::find_if(ends.begin(), ends.end(),
                            [&](const FlatEnd& one) { return norm(ring->centre - one.centre) <= 1e-3; });
    if (end == ends.end()) end = ends.insert(end, {ring->centre, {normal.X(), normal.Y(), normal.Z()}, {}});
    if (std::none_of(end->radii.begin(), end->radii.end(),
                     [&](double one) { return std::abs(one - ring->radius) < 1e-6; }))
      end->radii.push_back(ring->radius);
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

}  // namespace linerwright
