#include "heights.hpp"

#include <BRepAdaptor_Surface.hxx>
#include <BRep_Tool.hxx>
#include <Geom_BSplineCurve.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Circ.hxx>
#include <gp_Elips.hxx>
#include <gp_Pln.hxx>
#include <limits>

#include "shape.hpp"

namespace linerwright {

namespace {

// Of one cubic of a spline: its slope is a parabola, known from its values at the ends and in the middle.
template <class F>
void add_turns_of_span(const Geom_BSplineCurve& spline, const gp_Vec& normal, double from, double to,
                       F&& add) {
  const double width = to - from;
  const auto slope = [&](double share) {
    gp_Pnt p;
    gp_Vec along;
    // a hair inside, so that this span's own cubic answers
    spline.D1(from + width * std::clamp(share, 1e-9, 1.0 - 1e-9), p, along);
    return along.Dot(normal);
  };
  const double s0 = slope(0.0);
  const double s1 = slope(0.5);
  const double s2 = slope(1.0);
  const double a = 2.0 * (s0 - 2.0 * s1 + s2);
  const double b = -3.0 * s0 + 4.0 * s1 - s2;
  const double inside = b * b - 4.0 * a * s0;
  if (inside < 0.0) return;
  const double q = -0.5 * (b + std::copysign(std::sqrt(inside), b));
  for (const double root : {q / a, s0 / q})
    if (root > 0.0 && root < 1.0) add(from + width * root);
}

struct Heights {
  double low = std::numeric_limits<double>::infinity();
  double high = -std::numeric_limits<double>::infinity();
};

Heights heights_of(const std::vector<BRepAdaptor_Curve>& edges, const gp_Pln& plane) {
  const gp_Vec normal(plane.Axis().Direction());
  Heights heights;
  for (const BRepAdaptor_Curve& curve : edges)
    for (const double at : turning_points(curve, normal)) {
      const double height = gp_Vec(plane.Location(), curve.Value(at)).Dot(normal);
      heights.low = std::min(heights.low, height);
      heights.high = std::max(heights.high, height);
    }
  return heights;
}

std::vector<BRepAdaptor_Curve> curves_of(const TopoDS_Shape& body) {
  TopTools_IndexedMapOfShape edges;
  TopExp::MapShapes(body, TopAbs_EDGE, edges);
  std::vector<BRepAdaptor_Curve> curves;
  for (int i = 1; i <= edges.Extent(); ++i) {
    if (BRep_Tool::Degenerated(TopoDS::Edge(edges(i)))) continue;  // a point: its neighbours' end
    curves.emplace_back(TopoDS::Edge(edges(i)));
  }
  return curves;
}

// The planes of the flat faces; throws where another face is not straight between its edges.
std::vector<gp_Pln> planes_of(const TopoDS_Shape& body) {
  std::vector<gp_Pln> planes;
  for (TopExp_Explorer faces(body, TopAbs_FACE); faces.More(); faces.Next()) {
    const BRepAdaptor_Surface surface(TopoDS::Face(faces.Current()), false);
    switch (surface.GetType()) {
      case GeomAbs_Plane:
        planes.push_back(surface.Plane());
        break;
      case GeomAbs_Cylinder:
      case GeomAbs_Cone:
        break;
      case GeomAbs_BSplineSurface:
        if (surface.VDegree() == 1 && surface.NbVPoles() == 2) break;
        throw UnknownForm();
      default:
        throw UnknownForm();
    }
  }
  return planes;
}

constexpr double k_on_plane = 1e-7;  // mm, the kernel's own smallest length

// The planes of a body's faces with the body under them; nothing where a face is not flat or the body not
// convex.
std::vector<gp_Pln> planes_over(const TopoDS_Shape& body) {
  const std::vector<BRepAdaptor_Curve> edges = curves_of(body);
  std::vector<gp_Pln> planes = planes_of(body);
  TopTools_IndexedMapOfShape faces;
  TopExp::MapShapes(body, TopAbs_FACE, faces);
  if (planes.size() != static_cast<std::size_t>(faces.Extent())) return {};
  for (gp_Pln& plane : planes) {
    const Heights heights = heights_of(edges, plane);
    if (heights.high <= k_on_plane) continue;
    if (heights.low < -k_on_plane) return {};
    plane = gp_Pln(plane.Location(), plane.Axis().Direction().Reversed());
  }
  return planes;
}

bool reaches_out(const TopoDS_Shape& body, const TopoDS_Shape& other) {
  const Bnd_Box box = box_of(other);
  TopTools_IndexedMapOfShape corners;
  TopExp::MapShapes(body, TopAbs_VERTEX, corners);
  for (int i = 1; i <= corners.Extent(); ++i)
    if (box.IsOut(BRep_Tool::Pnt(TopoDS::Vertex(corners(i))))) return true;
  return false;
}

bool stands_beside(const TopoDS_Shape& convex, const TopoDS_Shape& other) {
  const std::vector<gp_Pln> planes = planes_over(convex);
  if (planes.empty() || !reaches_out(convex, other)) return false;
  planes_of(other);  // throws where a face may reach further than its edges
  for (TopExp_Explorer faces(other, TopAbs_FACE); faces.More(); faces.Next()) {
    const std::vector<BRepAdaptor_Curve> edges = curves_of(faces.Current());
    if (std::none_of(planes.begin(), planes.end(),
                     [&](const gp_Pln& plane) { return heights_of(edges, plane).low >= -k_on_plane; }))
      return false;
  }
  return true;
}

}  // namespace

std::vector<double> turning_points(const BRepAdaptor_Curve& curve, const gp_Vec& normal) {
  const double first = curve.FirstParameter();
  const double last = curve.LastParameter();
  std::vector<double> turns{first, last};
  const auto add = [&](double at) {
    if (at > first && at < last) turns.push_back(at);
  };
  switch (curve.GetType()) {
    case GeomAbs_Line:
      break;
    case GeomAbs_Circle:
    case GeomAbs_Ellipse: {
      const bool circle = curve.GetType() == GeomAbs_Circle;
      const gp_Ax2 axes = circle ? curve.Circle().Position() : curve.Ellipse().Position();
      const double a = circle ? curve.Circle().Radius() : curve.Ellipse().MajorRadius();
      const double b = circle ? curve.Circle().Radius() : curve.Ellipse().MinorRadius();
      const double top =
          std::atan2(b * gp_Vec(axes.YDirection()).Dot(normal), a * gp_Vec(axes.XDirection()).Dot(normal));
      for (int k = -4; k <= 8; ++k) add(top + k * k_pi);
      break;
    }
    case GeomAbs_BSplineCurve: {
      const Handle(Geom_BSplineCurve) spline = curve.BSpline();
      if (spline->IsRational() || spline->Degree() > 3) throw UnknownForm();
      for (int i = 1; i <= spline->NbKnots(); ++i) add(spline->Knot(i));
      for (int i = 1; i < spline->NbKnots(); ++i)
        add_turns_of_span(*spline, normal, spline->Knot(i), spline->Knot(i + 1), add);
      break;
    }
    default:
      throw UnknownForm();
  }
  std::sort(turns.begin(), turns.end());
  return turns;
}

bool plane_between(const TopoDS_Shape& a, const TopoDS_Shape& b) {
  try {
    const std::vector<BRepAdaptor_Curve> edges_a = curves_of(a);
    const std::vector<BRepAdaptor_Curve> edges_b = curves_of(b);
    std::vector<gp_Pln> planes = planes_of(a);
    const std::vector<gp_Pln> others = planes_of(b);
    planes.insert(planes.end(), others.begin(), others.end());
    return std::any_of(planes.begin(), planes.end(), [&](const gp_Pln& plane) {
      const Heights of_a = heights_of(edges_a, plane);
      const Heights of_b = heights_of(edges_b, plane);
      return (of_a.low >= -k_on_plane && of_b.high <= k_on_plane) ||
             (of_b.low >= -k_on_plane && of_a.high <= k_on_plane);
    });
  } catch (const UnknownForm&) {
    return false;
  }
}

bool convex_beside(const TopoDS_Shape& a, const TopoDS_Shape& b) {
  try {
    return stands_beside(a, b) || stands_beside(b, a);
  } catch (const UnknownForm&) {
    return false;
  }
}

}  // namespace linerwright
