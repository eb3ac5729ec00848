#include "step_sides.hpp"

#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Geom2d_BSplineCurve.hxx>
#include <Geom2d_Line.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_BSplineSurface.hxx>
#include <Geom_Line.hxx>
#include <Interface_Static.hxx>
#include <Precision.hxx>
#include <ShapeExtend_MsgRegistrator.hxx>
#include <ShapeFix_Face.hxx>
#include <ShapeFix_Shape.hxx>
#include <ShapeFix_Solid.hxx>
#include <ShapeFix_Wire.hxx>
#include <ShapeProcess_ShapeContext.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TColgp_Array1OfPnt2d.hxx>
#include <TopExp_Explorer.hxx>
#include <TopLoc_Location.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <XSAlgo.hxx>
#include <XSAlgo_AlgoContainer.hxx>
#include <cmath>
#include <string_view>
#include <vector>

namespace linerwright {

namespace {

constexpr double k_same = 1e-9;  // mm: a file's points are read from the same digits

bool same(const gp_Pnt& a, const gp_Pnt& b) {
  return a.Distance(b) <= k_same;
}

// Whether a curve is one row of the surface's poles, run through at the same parameters.
bool is_row(const Geom_BSplineCurve& curve, const Geom_BSplineSurface& surface, int row) {
  if (curve.Degree() != surface.UDegree() || curve.NbPoles() != surface.NbUPoles() ||
      curve.NbKnots() != surface.NbUKnots() || curve.IsRational())
    return false;
  for (int i = 1; i <= curve.NbKnots(); ++i)
    if (std::fabs(curve.Knot(i) - surface.UKnot(i)) > k_same ||
        curve.Multiplicity(i) != surface.UMultiplicity(i))
      return false;
  for (int i = 1; i <= curve.NbPoles(); ++i)
    if (!same(curve.Pole(i), surface.Pole(i, row))) return false;
  return true;
}

// From one place on the face at the edge's first parameter to another at its last.
Handle(Geom2d_Curve) straight_from(double first, double last, gp_Pnt2d from, gp_Pnt2d to) {
  TColgp_Array1OfPnt2d poles(1, 2);
  poles(1) = from;
  poles(2) = to;
  TColStd_Array1OfReal knots(1, 2);
  knots(1) = first;
  knots(2) = last;
  TColStd_Array1OfInteger multiplicities(1, 2);
  multiplicities.Init(2);
  return new Geom2d_BSplineCurve(poles, knots, multiplicities, 1);
}

// The curve of an edge on a surface that is straight from its first row of poles to its second; none where it
// does not run along one of its sides.
Handle(Geom2d_Curve) side_of(const Geom_BSplineSurface& surface, const TopoDS_Edge& edge) {
  double first = 0.0;
  double last = 0.0;
  const Handle(Geom_Curve) curve = BRep_Tool::Curve(edge, first, last);
  if (curve.IsNull() || !(last > first)) return {};
  double u1 = 0.0;
  double u2 = 0.0;
  double v1 = 0.0;
  double v2 = 0.0;
  surface.Bounds(u1, u2, v1, v2);
  const int ends[] = {1, surface.NbUPoles()};
  if (const auto spline = Handle(Geom_BSplineCurve)::DownCast(curve); !spline.IsNull()) {
    for (const int row : {1, 2})
      if (is_row(*spline, surface, row))
        return new Geom2d_Line(gp_Pnt2d(0.0, row == 1 ? v1 : v2), gp_Dir2d(1.0, 0.0));
  } else if (curve->IsKind(STANDARD_TYPE(Geom_Line))) {
    const gp_Pnt from = curve->Value(first);
    const gp_Pnt to = curve->Value(last);
    for (const int end : ends) {
      const double u = end == 1 ? u1 : u2;
      const gp_Pnt low = surface.Pole(end, 1);
      const gp_Pnt high = surface.Pole(end, 2);
      if (same(low, high)) continue;
      if (same(from, low) && same(to, high)) return straight_from(first, last, {u, v1}, {u, v2});
      if (same(from, high) && same(to, low)) return straight_from(first, last, {u, v2}, {u, v1});
    }
  }
  return {};
}

// The edges that bound a face once: twice does one where the face closes on itself.
std::vector<TopoDS_Edge> single_edges(const TopoDS_Face& face) {
  TopTools_IndexedMapOfShape all;
  std::vector<int> uses;
  for (TopExp_Explorer edges(face, TopAbs_EDGE); edges.More(); edges.Next()) {
    const auto index = static_cast<std::size_t>(all.Add(edges.Current()));
    if (index > uses.size()) uses.push_back(0);
    ++uses[index - 1];
  }
  std::vector<TopoDS_Edge> single;
  for (std::size_t i = 0; i < uses.size(); ++i)
    if (uses[i] == 1) single.push_back(TopoDS::Edge(all(static_cast<int>(i) + 1)));
  return single;
}

// What the kernel does to each shape that it reads, and what it leaves: sides are laid first, and wires are
// not searched for crossings, which it would mend. They are not in our own files, and in others' a mended
// wire would only hide them.
class LaysSides : public XSAlgo_AlgoContainer {
 public:
  TopoDS_Shape ProcessShape(const TopoDS_Shape& shape, const Standard_Real precision,
                            const Standard_Real most, const Standard_CString resource,
                            const Standard_CString sequence, Handle(Standard_Transient) & info,
                            const Message_ProgressRange& progress,
                            const Standard_Boolean non_manifold) const override {
    lay_sides(shape);
    if (shape.IsNull() || std::string_view(sequence).substr(0, 5) != "read.")
      return XSAlgo_AlgoContainer::ProcessShape(shape, precision, most, resource, sequence, info, progress,
                                                non_manifold);
    const Handle(ShapeProcess_ShapeContext) context =
        new ShapeProcess_ShapeContext(shape, Interface_Static::CVal(resource));
    context->SetDetalisation(TopAbs_EDGE);
    context->SetNonManifold(non_manifold);
    info = context;
    mend(shape, precision, most, *context, progress);
    return context->Result();
  }

 private:
  static void mend(const TopoDS_Shape& shape, double precision, double most,
                   ShapeProcess_ShapeContext& context, const Message_ProgressRange& progress) {
    const Handle(ShapeExtend_MsgRegistrator) messages = new ShapeExtend_MsgRegistrator;
    const Handle(ShapeFix_Shape) fix = new ShapeFix_Shape(shape);
    fix->SetMsgRegistrator(messages);
    fix->SetPrecision(precision);
    fix->SetMaxTolerance(most);
    fix->FixSolidTool()->CreateOpenSolidMode() = Standard_False;
    const Handle(ShapeFix_Face) faces = fix->FixFaceTool();
    faces->FixIntersectingWiresMode() = 0;
    faces->FixWireTool()->FixSameParameterMode() = 0;
    faces->FixWireTool()->FixSelfIntersectionMode() = 0;
    fix->Perform(progress);
    if (fix->Shape() == shape) return;
    context.RecordModification(fix->Context(), messages);
    context.SetResult(fix->Shape());
  }
};

}  // namespace

void lay_sides(const TopoDS_Shape& shape) {
  const BRep_Builder builder;
  for (TopExp_Explorer faces(shape, TopAbs_FACE); faces.More(); faces.Next()) {
    const TopoDS_Face& face = TopoDS::Face(faces.Current());
    TopLoc_Location place;
    const auto surface = Handle(Geom_BSplineSurface)::DownCast(BRep_Tool::Surface(face, place));
    if (surface.IsNull() || surface->VDegree() != 1 || surface->NbVPoles() != 2 || surface->IsURational() ||
        surface->IsVRational() || surface->IsUPeriodic() || surface->IsUClosed() || !place.IsIdentity())
      continue;
    for (const TopoDS_Edge& edge : single_edges(face)) {
      double first = 0.0;
      double last = 0.0;
      if (!edge.Location().IsIdentity() || BRep_Tool::Degenerated(edge) ||
          !BRep_Tool::CurveOnSurface(edge, face, first, last).IsNull())
        continue;
      if (const Handle(Geom2d_Curve) side = side_of(*surface, edge); !side.IsNull())
        builder.UpdateEdge(edge, side, surface, place, Precision::Confusion());
    }
  }
}

void lay_sides_when_read() {
  XSAlgo::SetAlgoContainer(new LaysSides);
}

}  // namespace linerwright
