#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Geom2d_BSplineCurve.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <algorithm>

#include "faces.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

// Where to look for the largest distance between an edge and its curve on a face: in every span of a spline
// near the middle and on both sides of it, where the error of a fit peaks.
std::vector<double> between_knots(const Handle(Geom2d_Curve) & curve, double first, double last) {
  std::vector<double> ends{first};
  const Handle(Geom2d_BSplineCurve) spline = Handle(Geom2d_BSplineCurve)::DownCast(curve);
  constexpr int k_even = 32;
  if (spline.IsNull()) {
    for (int i = 1; i < k_even; ++i) ends.push_back(first + (last - first) * i / k_even);
  } else {
    for (int i = 1; i <= spline->NbKnots(); ++i)
      if (spline->Knot(i) > first && spline->Knot(i) < last) ends.push_back(spline->Knot(i));
  }
  ends.push_back(last);
  std::vector<double> places{first, last};
  for (std::size_t i = 0; i + 1 < ends.size(); ++i)
    for (const double share : {0.21, 0.5, 0.79})
      places.push_back((1.0 - share) * ends[i] + share * ends[i + 1]);
  return places;
}

}  // namespace

// Edges and their curves on a face share their parameter by construction; what is left between them is the
// fit, and the edge's tolerance has to say how much.
void widen_tolerances(const TopoDS_Face& face) {
  BRep_Builder builder;
  const Handle(Geom_Surface) surface = BRep_Tool::Surface(face);
  for (TopExp_Explorer edges(face, TopAbs_EDGE); edges.More(); edges.Next()) {
    const TopoDS_Edge& edge = TopoDS::Edge(edges.Current());
    if (BRep_Tool::Degenerated(edge)) continue;
    double first = 0.0;
    double last = 0.0;
    const Handle(Geom_Curve) curve = BRep_Tool::Curve(edge, first, last);
    const Handle(Geom2d_Curve) on_face = BRep_Tool::CurveOnSurface(edge, face, first, last);
    if (curve.IsNull() || on_face.IsNull()) throw GeometryError("an edge has no curve on its face");
    double apart = 0.0;
    for (const double at : between_knots(on_face, first, last)) {
      const gp_Pnt2d uv = on_face->Value(at);
      apart = std::max(apart, curve->Value(at).Distance(surface->Value(uv.X(), uv.Y())));
    }
    builder.UpdateEdge(edge, 2.0 * apart);  // only ever grows
  }
}

}  // namespace linerwright
