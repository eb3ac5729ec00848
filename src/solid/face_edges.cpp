#include "linerwright/solid/face_edges.hpp"

#include <BRepAdaptor_Surface.hxx>
#include <BRep_Tool.hxx>
#include <Geom2d_Curve.hxx>
#include <Geom_Curve.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Vertex.hxx>
#include <algorithm>

#include "guard.hpp"
#include "linerwright/units/error.hpp"
#include "on_surface.hpp"
#include "shape.hpp"

namespace linerwright {

namespace {

double off_face(const TopoDS_Edge& edge, const TopoDS_Face& face) {
  if (BRep_Tool::Degenerated(edge)) return 0.0;
  double first = 0.0;
  double last = 0.0;
  const Handle(Geom_Curve) curve = BRep_Tool::Curve(edge, first, last);
  double flat_first = 0.0;
  double flat_last = 0.0;
  const Handle(Geom2d_Curve) flat = BRep_Tool::CurveOnSurface(edge, face, flat_first, flat_last);
  if (curve.IsNull() || flat.IsNull()) throw GeometryError("an edge has no curve on one of its faces");
  const BRepAdaptor_Surface surface(face, false);
  // a file holds no curves on faces: where a foot has no closed form, the one that the reader found stands in
  const bool closed = has_closed_feet(surface);
  constexpr int k_places = 16;
  double worst = 0.0;
  for (int i = 0; i <= k_places; ++i) {
    const double share = static_cast<double>(i) / k_places;
    const gp_Pnt point = curve->Value(first + share * (last - first));
    const gp_Pnt2d at =
        closed ? foot_on(surface, point) : flat->Value(flat_first + share * (flat_last - flat_first));
    worst = std::max(worst, surface.Value(at.X(), at.Y()).Distance(point));
  }
  return worst;
}

// An edge's vertices from its curve's ends.
double off_vertices(const TopoDS_Edge& edge) {
  if (BRep_Tool::Degenerated(edge)) return 0.0;
  double first = 0.0;
  double last = 0.0;
  const Handle(Geom_Curve) curve = BRep_Tool::Curve(edge, first, last);
  if (curve.IsNull()) throw GeometryError("an edge has no curve");
  TopoDS_Vertex from;
  TopoDS_Vertex to;
  TopExp::Vertices(edge, from, to);
  if (from.IsNull() || to.IsNull()) throw GeometryError("an edge has no ends");
  return std::max(BRep_Tool::Pnt(from).Distance(curve->Value(first)),
                  BRep_Tool::Pnt(to).Distance(curve->Value(last)));
}

}  // namespace

double edges_off_faces(const Solid& solid) {
  return guarded("edges on faces", [&] {
    double worst = 0.0;
    for (TopExp_Explorer faces(solid.shape().shape, TopAbs_FACE); faces.More(); faces.Next()) {
      const TopoDS_Face& face = TopoDS::Face(faces.Current());
      for (TopExp_Explorer edges(face, TopAbs_EDGE); edges.More(); edges.Next())
        worst = std::max({worst, off_face(TopoDS::Edge(edges.Current()), face),
                          off_vertices(TopoDS::Edge(edges.Current()))});
    }
    return worst;
  });
}

}  // namespace linerwright
