// Volume of a solid whose faces are cylinders, cones, planes, ruled surfaces and tori: by Green's theorem
// from the faces' own surfaces and boundary curves. The kernel's adaptive integration gives the same number
// (tested) at ten times the cost.
#include <BRepAdaptor_Surface.hxx>
#include <BRepTools.hxx>
#include <BRep_Tool.hxx>
#include <Geom2d_BSplineCurve.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_BSplineSurface.hxx>
#include <Geom_Line.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <algorithm>
#include <vector>

#include "linerwright/units/error.hpp"
#include "on_surface.hpp"
#include "shape.hpp"

namespace linerwright {

namespace {

// Gauss-Legendre nodes and weights with five points on [-1, 1] (Abramowitz and Stegun, table 25.4): exact up
// to degree 9.
constexpr int k_points = 5;
constexpr double k_node[k_points] = {-0.906179845938664, -0.538469310105683, 0.0, 0.538469310105683,
                                     0.906179845938664};
constexpr double k_weight[k_points] = {0.236926885056189, 0.478628670499366, 0.568888888888889,
                                       0.478628670499366, 0.236926885056189};

// A face's surface, and the point that P is counted from.
struct Seen {
  BRepAdaptor_Surface surface;
  gp_Pnt from;
};

double flux(const Seen& seen, double u, double v) {
  gp_Pnt p;
  gp_Vec pu;
  gp_Vec pv;
  seen.surface.D1(u, v, p, pu, pv);
  return gp_Vec(seen.from, p).Dot(pu.Crossed(pv));
}

// Integral over v from 0 of P.(Pu x Pv). On straight rulings P = a + v d, Pu = b + v c, Pv = d, so the
// integrand is a.(b x d) + v a.(c x d): its values at the two ends give the integral exactly. Around a
// torus's section it takes panels.
double flux_up_to(const Seen& seen, double u, double v) {
  if (seen.surface.GetType() != GeomAbs_Torus) return 0.5 * v * (flux(seen, u, 0.0) + flux(seen, u, v));
  constexpr int k_panels = 16;
  const double half = 0.5 * v / k_panels;
  double sum = 0.0;
  for (int panel = 0; panel < k_panels; ++panel)
    for (int i = 0; i < k_points; ++i)
      sum += k_weight[i] * flux(seen, u, half * (2.0 * panel + 1.0 + k_node[i]));
  return half * sum;
}

constexpr int k_cuts = 32;

// Splines are cut at their knots, all else finely enough for the turn it takes.
std::vector<double> spans(const Handle(Geom_Curve) & curve, double first, double last) {
  std::vector<double> ends{first};
  if (const auto spline = Handle(Geom_BSplineCurve)::DownCast(curve); !spline.IsNull()) {
    for (int i = 1; i <= spline->NbKnots(); ++i)
      if (spline->Knot(i) > first && spline->Knot(i) < last) ends.push_back(spline->Knot(i));
  } else if (Handle(Geom_Line)::DownCast(curve).IsNull()) {
    for (int i = 1; i < k_cuts; ++i) ends.push_back(first + (last - first) * i / k_cuts);
  }
  ends.push_back(last);
  return ends;
}

// The same of curves on a surface: lines along a spline are cut at its knots. Between two knots the integrand
// has degree 8 at most.
std::vector<double> spans(const BRepAdaptor_Surface& surface, const Handle(Geom2d_Curve) & curve,
                          double first, double last) {
  std::vector<double> ends{first};
  const auto cut_at = [&](double at) {
    if (at > first && at < last) ends.push_back(at);
  };
  const Handle(Geom2d_BSplineCurve) spline = Handle(Geom2d_BSplineCurve)::DownCast(curve);
  if (!spline.IsNull()) {
    for (int i = 1; i <= spline->NbKnots(); ++i) cut_at(spline->Knot(i));
  } else if (surface.GetType() != GeomAbs_BSplineSurface) {
    for (int i = 1; i < k_cuts; ++i) ends.push_back(first + (last - first) * i / k_cuts);
  } else {
    const double from = curve->Value(first).X();
    const double to = curve->Value(last).X();
    const Handle(Geom_BSplineSurface) patch = surface.BSpline();
    if (from != to)
      for (int i = 1; i <= patch->NbUKnots(); ++i)
        cut_at(first + (last - first) * (patch->UKnot(i) - from) / (to - from));
    std::sort(ends.begin(), ends.end());
  }
  ends.push_back(last);
  return ends;
}

// How fast u grows along a curve in space at a point of it.
double turning(const BRepAdaptor_Surface& surface, const gp_Pnt2d& foot, const gp_Vec& slope) {
  gp_Pnt p;
  gp_Vec pu;
  gp_Vec pv;
  surface.D1(foot.X(), foot.Y(), p, pu, pv);
  return pu.Crossed(pv).Dot(slope.Crossed(pv)) / pu.Crossed(pv).SquareMagnitude();
}

// Integral of f over the spans between these parameters.
template <class F>
double over_spans(const std::vector<double>& ends, const F& f) {
  double sum = 0.0;
  for (std::size_t span = 0; span + 1 < ends.size(); ++span) {
    const double half = 0.5 * (ends[span + 1] - ends[span]);
    for (int i = 0; i < k_points; ++i) sum += k_weight[i] * half * f(ends[span] + half * (1.0 + k_node[i]));
  }
  return sum;
}

// Of an edge in space, by its points' feet: what a reader makes of it on the surface does not enter.
double along_curve(const Seen& seen, const TopoDS_Edge& edge) {
  double first = 0.0;
  double last = 0.0;
  const Handle(Geom_Curve) curve = BRep_Tool::Curve(edge, first, last);
  if (curve.IsNull()) throw GeometryError("an edge has no curve");
  return over_spans(spans(curve, first, last), [&](double t) {
    gp_Pnt at;
    gp_Vec slope;
    curve->D1(t, at, slope);
    const gp_Pnt2d foot = foot_on(seen.surface, at);
    const double turns = turning(seen.surface, foot, slope);
    return turns != 0.0 ? turns * flux_up_to(seen, foot.X(), foot.Y()) : 0.0;
  });
}

double along_curve_on(const Seen& seen, const TopoDS_Edge& edge, const TopoDS_Face& face) {
  double first = 0.0;
  double last = 0.0;
  const Handle(Geom2d_Curve) curve = BRep_Tool::CurveOnSurface(edge, face, first, last);
  if (curve.IsNull()) throw GeometryError("an edge has no curve on its face");
  return over_spans(spans(seen.surface, curve, first, last), [&](double t) {
    gp_Pnt2d at;
    gp_Vec2d slope;
    curve->D1(t, at, slope);
    return slope.X() != 0.0 ? slope.X() * flux_up_to(seen, at.X(), at.Y()) : 0.0;
  });
}

double along_edge(const Seen& seen, const TopoDS_Edge& edge, const TopoDS_Face& face) {
  if (BRep_Tool::Degenerated(edge)) return 0.0;
  // a torus closes in v, too: a foot there does not say which way around it was reached
  const bool by_feet = has_closed_feet(seen.surface) && seen.surface.GetType() != GeomAbs_Torus;
  const double sum = by_feet ? along_curve(seen, edge) : along_curve_on(seen, edge, face);
  return edge.Orientation() == TopAbs_REVERSED ? -sum : sum;
}

// Divergence theorem: V = 1/3 sum over faces of the integral of P.(Pu x Pv) du dv; Green: that is minus the
// integral of (its antiderivative in v) du around the face's boundary, which runs counter-clockwise on a face
// turned forward.
double flux_through(const TopoDS_Face& forward, const gp_Pnt& from) {
  const Seen seen{BRepAdaptor_Surface(forward, false), from};
  double flux = 0.0;
  for (TopExp_Explorer edges(forward, TopAbs_EDGE); edges.More(); edges.Next())
    flux -= along_edge(seen, TopoDS::Edge(edges.Current()), forward);
  return flux;
}

template <class Flux>
double sum_over_faces(const TopoDS_Shape& shape, const Flux& flux) {
  double volume = 0.0;
  for (TopExp_Explorer faces(shape, TopAbs_FACE); faces.More(); faces.Next()) {
    const TopoDS_Face face = TopoDS::Face(faces.Current());
    const double out = flux(TopoDS::Face(face.Oriented(TopAbs_FORWARD)));
    volume += (face.Orientation() == TopAbs_REVERSED ? -out : out) / 3.0;
  }
  return volume;
}

}  // namespace

double volume_of(const TopoDS_Shape& shape, FaceFluxes& known) {
  return sum_over_faces(shape, [&](const TopoDS_Face& face) {
    const auto [place, fresh] = known.emplace(face.TShape().get(), 0.0);
    if (fresh) place->second = flux_through(face, gp_Pnt());
    return place->second;
  });
}

double volume_of(const TopoDS_Shape& shape) {
  FaceFluxes none;
  return volume_of(shape, none);
}

double volume_from_own_corner(const TopoDS_Shape& shape) {
  const TopExp_Explorer corners(shape, TopAbs_VERTEX);
  const gp_Pnt from = corners.More() ? BRep_Tool::Pnt(TopoDS::Vertex(corners.Current())) : gp_Pnt();
  return sum_over_faces(shape, [&](const TopoDS_Face& face) { return flux_through(face, from); });
}

double measured_volume(const TopoDS_Shape& shape) {
  for (TopExp_Explorer faces(shape, TopAbs_FACE); faces.More(); faces.Next()) {
    const BRepAdaptor_Surface surface(TopoDS::Face(faces.Current()), false);
    switch (surface.GetType()) {
      case GeomAbs_Plane:
      case GeomAbs_Cylinder:
      case GeomAbs_Cone:
      case GeomAbs_Torus:
        continue;
      case GeomAbs_BSplineSurface:
        if (surface.VDegree() == 1 && surface.NbVKnots() == 2) continue;
        break;
      default:
        break;
    }
    return kernel_volume(shape);
  }
  return volume_of(shape);
}

}  // namespace linerwright
