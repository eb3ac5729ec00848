#include "linerwright/solid/mesh_fit.hpp"

#include <BRep_Tool.hxx>
#include <GeomAdaptor_Surface.hxx>
#include <Geom_BSplineSurface.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Vertex.hxx>
#include <algorithm>
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "edge_search.hpp"
#include "kernel_side.hpp"
#include "linerwright/units/error.hpp"
#include "on_surface.hpp"

namespace linerwright {

namespace {

constexpr double k_far = std::numeric_limits<double>::infinity();

// Distance of a point from a ruled face's surface: from the nearest of many rulings, Newton's steps.
double away_from_ruled(const GeomAdaptor_Surface& surface, const gp_Pnt& p) {
  const Handle(Geom_BSplineSurface) spline = surface.BSpline();
  double u = 0.0;
  double v = 0.0;
  double nearest = k_far;
  const auto try_ruling = [&](double at) {
    const gp_Pnt a = surface.Value(at, 0.0);
    const gp_Vec along(a, surface.Value(at, 1.0));
    const double length2 = along.SquareMagnitude();
    const double share = length2 > 0.0 ? std::clamp(gp_Vec(a, p).Dot(along) / length2, 0.0, 1.0) : 0.0;
    const double away = p.Distance(a.Translated(share * along));
    if (away >= nearest) return;
    nearest = away;
    u = at;
    v = share;
  };
  const double first = surface.FirstUParameter();
  const double last = surface.LastUParameter();
  for (int i = 1; i <= spline->NbUKnots(); ++i) try_ruling(std::clamp(spline->UKnot(i), first, last));
  constexpr int k_most_steps = 20;
  for (int step = 0; step < k_most_steps; ++step) {
    gp_Pnt on;
    gp_Vec du;
    gp_Vec dv;
    surface.D1(u, v, on, du, dv);
    nearest = std::min(nearest, on.Distance(p));
    const gp_Vec away(on, p);
    const double a = du.Dot(du);
    const double b = du.Dot(dv);
    const double c = dv.Dot(dv);
    const double det = a * c - b * b;
    if (!(det > 0.0)) break;
    const double step_u = (c * away.Dot(du) - b * away.Dot(dv)) / det;
    const double step_v = (a * away.Dot(dv) - b * away.Dot(du)) / det;
    u = std::clamp(u + step_u, first, last);
    v = std::clamp(v + step_v, 0.0, 1.0);
    if (std::fabs(step_u) + std::fabs(step_v) < 1e-14) break;
  }
  return nearest;
}

double away_from_surface(const GeomAdaptor_Surface& surface, const gp_Pnt& p) {
  if (has_closed_feet(surface)) {
    const gp_Pnt2d foot = foot_on(surface, p);
    return p.Distance(surface.Value(foot.X(), foot.Y()));
  }
  const bool ruled =
      surface.GetType() == GeomAbs_BSplineSurface && surface.VDegree() == 1 && surface.NbVPoles() == 2;
  if (!ruled) throw GeometryError("mesh: the solid has a face of a form that is not known");
  return away_from_ruled(surface, p);
}

class Fit {
 public:
  Fit(const Mesh& mesh, const Solid& solid, double within)
      : mesh_(mesh), within_(within), search_(solid), on_edge_(search_.edges().size()) {
    for (TopExp_Explorer faces(solid.shape().shape, TopAbs_FACE); faces.More(); faces.Next())
      surfaces_.emplace_back(BRep_Tool::Surface(TopoDS::Face(faces.Current())));
    neighbours_.resize(mesh.points.size());
    for (const auto& triangle : mesh.triangles)
      for (std::size_t k = 0; k < 3; ++k)
        neighbours_[static_cast<std::size_t>(triangle[k])].push_back(triangle[(k + 1) % 3]);
    place_points();
  }

  MeshFit result() {
    MeshFit fit{points_off_, mesh_.points.size(), {}};
    for (std::size_t e = 0; e < search_.edges().size(); ++e) {
      const BRepAdaptor_Curve& curve = search_.edges()[e].curve;
      Vec3 axis{};
      if (curve.GetType() == GeomAbs_Circle) {
        const gp_Dir along = curve.Circle().Axis().Direction();
        axis = {along.X(), along.Y(), along.Z()};
      }
      fit.edges.push_back({follow(e), axis});
    }
    return fit;
  }

 private:
  struct Corner {
    double parameter;
    int point;
  };

  gp_Pnt at(int point) const { return to_kernel(mesh_.points[static_cast<std::size_t>(point)]); }

  void place_points() {
    for (std::size_t i = 0; i < mesh_.points.size(); ++i) {
      const gp_Pnt p = to_kernel(mesh_.points[i]);
      const std::vector<EdgeSearch::Place> places = search_.near(p, within_);
      for (const EdgeSearch::Place& place : places) {
        on_edge_[place.edge].push_back({place.parameter, static_cast<int>(i)});
        points_off_ = std::max(points_off_, place.away);
      }
      if (!places.empty()) continue;
      double nearest = k_far;
      for (const GeomAdaptor_Surface& surface : surfaces_) {
        nearest = std::min(nearest, away_from_surface(surface, p));
        if (nearest <= within_) break;
      }
      points_off_ = std::max(points_off_, nearest);
    }
  }

  // How far the curve strays from the chord between two corners.
  double stray(const EdgeSearch::Edge& edge, const Corner& from, const Corner& to) const {
    const gp_Pnt a = at(from.point);
    const gp_Vec along(a, at(to.point));
    const double length2 = along.SquareMagnitude();
    double off = 0.0;
    for (const double share : {0.25, 0.5, 0.75}) {
      const gp_Pnt on = edge.curve.Value((1.0 - share) * from.parameter + share * to.parameter);
      const double t = length2 > 0.0 ? std::clamp(gp_Vec(a, on).Dot(along) / length2, 0.0, 1.0) : 0.0;
      off = std::max(off, on.Distance(a.Translated(t * along)));
    }
    return off;
  }

  // The least that a chain of mesh edges along the solid's edge strays from it.
  double follow(std::size_t index) {
    const EdgeSearch::Edge& edge = search_.edges()[index];
    std::vector<Corner> corners;
    const double first = edge.curve.FirstParameter();
    const double last = edge.curve.LastParameter();
    const gp_Pnt start = edge.curve.Value(first);
    const gp_Pnt end = edge.curve.Value(last);
    std::vector<Corner> starts;
    std::vector<Corner> ends;
    for (const Corner& corner : on_edge_[index]) {
      const bool at_start = at(corner.point).Distance(start) <= within_;
      const bool at_end = at(corner.point).Distance(end) <= within_;
      if (at_start) starts.push_back({first, corner.point});
      if (at_end) ends.push_back({last, corner.point});
      if (!at_start && !at_end) corners.push_back(corner);
    }
    std::sort(corners.begin(), corners.end(),
              [](const Corner& a, const Corner& b) { return a.parameter < b.parameter; });
    corners.insert(corners.begin(), starts.begin(), starts.end());
    corners.insert(corners.end(), ends.begin(), ends.end());
    // by corner: the least that a chain from the start to it strays
    std::vector<double> best(corners.size(), k_far);
    std::fill(best.begin(), best.begin() + static_cast<std::ptrdiff_t>(starts.size()), 0.0);
    place_of_.assign(mesh_.points.size(), {});
    for (std::size_t i = 0; i < corners.size(); ++i) {
      const Corner& here = corners[i];
      for (const int other : neighbours_[static_cast<std::size_t>(here.point)])
        for (const std::size_t before : place_of_[static_cast<std::size_t>(other)])
          best[i] = std::min(best[i], std::max(best[before], stray(edge, corners[before], here)));
      place_of_[static_cast<std::size_t>(here.point)].push_back(i);
    }
    double least = k_far;
    for (std::size_t i = corners.size() - ends.size(); i < corners.size(); ++i)
      least = std::min(least, best[i]);
    if (least == k_far && start.Distance(end) <= within_ && !starts.empty() &&
        edge.curve.Value(0.5 * (first + last)).Distance(start) <= within_)
      return within_;  // an edge too short for the file's single precision
    if (least == k_far)
      throw GeometryError(fmt::format("no edges of the mesh follow the solid's edge from ({}) to ({})",
                                      words(start), words(end)));
    return least;
  }

  static std::string words(const gp_Pnt& p) {
    return fmt::format("{} {} {}", trimmed(p.X(), 2), trimmed(p.Y(), 2), trimmed(p.Z(), 2));
  }

  const Mesh& mesh_;
  double within_;
  EdgeSearch search_;
  std::vector<std::vector<Corner>> on_edge_;
  std::vector<GeomAdaptor_Surface> surfaces_;
  std::vector<std::vector<int>> neighbours_;
  std::vector<std::vector<std::size_t>> place_of_;
  double points_off_ = 0.0;
};

}  // namespace

MeshFit kernel::mesh_fit(const Mesh& mesh, const Solid& solid, double within) {
  return Fit(mesh, solid, within).result();
}

}  // namespace linerwright
