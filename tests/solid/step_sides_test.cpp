// Edges along the sides of ruled faces get their curves there without a search.
#include "step_sides.hpp"

#include <gtest/gtest.h>
#include <BRepBuilderAPI_MakeVertex.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Geom2d_Curve.hxx>
#include <GeomAPI_PointsToBSpline.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_BSplineSurface.hxx>
#include <Geom_Line.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TColgp_Array1OfPnt.hxx>
#include <TColgp_Array2OfPnt.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Wire.hxx>

#include <algorithm>
#include <cmath>
#include <vector>

namespace linerwright {
namespace {

// A cubic over a quarter of a circle, and the same wider and higher up.
Handle(Geom_BSplineCurve) quarter(double radius, double height) {
  TColgp_Array1OfPnt points(1, 9);
  for (int i = 0; i < 9; ++i)
    points(i + 1) = {radius * std::cos(0.2 * i), radius * std::sin(0.2 * i), height};
  return GeomAPI_PointsToBSpline(points, 3, 3, GeomAbs_C2, 1e-9).Curve();
}

TopoDS_Edge edge_along(const Handle(Geom_Curve) & curve, double first, double last) {
  BRep_Builder builder;
  TopoDS_Edge edge;
  builder.MakeEdge(edge, curve, 1e-7);
  builder.Add(edge, BRepBuilderAPI_MakeVertex(curve->Value(first)).Vertex().Oriented(TopAbs_FORWARD));
  builder.Add(edge, BRepBuilderAPI_MakeVertex(curve->Value(last)).Vertex().Oriented(TopAbs_REVERSED));
  builder.Range(edge, first, last);
  return edge;
}

TopoDS_Edge straight_edge(const gp_Pnt& from, const gp_Pnt& to) {
  return edge_along(new Geom_Line(from, gp_Vec(from, to)), 0.0, from.Distance(to));
}

// Between two rows of poles that may differ from the curves'.
TopoDS_Face face_between(const Geom_BSplineCurve& low, const Geom_BSplineCurve& high, double moved = 0.0) {
  TColgp_Array2OfPnt poles(1, low.NbPoles(), 1, 2);
  for (int i = 1; i <= low.NbPoles(); ++i) {
    poles(i, 1) = low.Pole(i);
    poles(i, 2) = high.Pole(i);
  }
  poles.ChangeValue(3, 1).SetZ(poles(3, 1).Z() + moved);
  TColStd_Array1OfReal across(1, 2);
  across(1) = 0.0;
  across(2) = 1.0;
  TColStd_Array1OfInteger twice(1, 2);
  twice.Init(2);
  const Handle(Geom_BSplineSurface) surface =
      new Geom_BSplineSurface(poles, low.Knots(), across, low.Multiplicities(), twice, low.Degree(), 1);
  BRep_Builder builder;
  TopoDS_Face face;
  builder.MakeFace(face, surface, 1e-7);
  return face;
}

void bound(TopoDS_Face& face, const std::vector<TopoDS_Edge>& edges) {
  BRep_Builder builder;
  TopoDS_Wire wire;
  builder.MakeWire(wire);
  for (const TopoDS_Edge& edge : edges) builder.Add(wire, edge);
  builder.Add(face, wire);
}

// How far an edge's curve in space and that on the face part; infinite where it has none there.
double parted(const TopoDS_Edge& edge, const TopoDS_Face& face) {
  double first = 0.0;
  double last = 0.0;
  const Handle(Geom2d_Curve) on_face = BRep_Tool::CurveOnSurface(edge, face, first, last);
  if (on_face.IsNull()) return HUGE_VAL;
  const Handle(Geom_Curve) curve = BRep_Tool::Curve(edge, first, last);
  double worst = 0.0;
  for (int i = 0; i <= 20; ++i) {
    const double at = first + (last - first) * i / 20.0;
    const gp_Pnt2d place = on_face->Value(at);
    worst = std::max(worst, curve->Value(at).Distance(BRep_Tool::Surface(face)->Value(place.X(), place.Y())));
  }
  return worst;
}

}  // namespace

TEST(StepSides, EachSideOfARuledFace) {
  const Handle(Geom_BSplineCurve) low = quarter(200.0, 0.0);
  const Handle(Geom_BSplineCurve) high = quarter(250.0, 100.0);
  ASSERT_EQ(low->NbPoles(), high->NbPoles());
  TopoDS_Face face = face_between(*low, *high);
  const std::vector<TopoDS_Edge> edges{edge_along(low, low->FirstParameter(), low->LastParameter()),
                                       straight_edge(low->EndPoint(), high->EndPoint()),
                                       edge_along(high, high->FirstParameter(), high->LastParameter()),
                                       straight_edge(high->StartPoint(), low->StartPoint())};
  bound(face, edges);
  for (const TopoDS_Edge& edge : edges) EXPECT_EQ(parted(edge, face), HUGE_VAL);
  lay_sides(face);
  for (const TopoDS_Edge& edge : edges) EXPECT_LT(parted(edge, face), 1e-10);
}

TEST(StepSides, WhatIsBesideTheSidesIsLeftToTheReader) {
  const Handle(Geom_BSplineCurve) low = quarter(200.0, 0.0);
  const Handle(Geom_BSplineCurve) high = quarter(250.0, 100.0);
  TopoDS_Face face = face_between(*low, *high, 1e-6);  // the lower row bulges by a nanometre
  const TopoDS_Edge beside = edge_along(low, low->FirstParameter(), low->LastParameter());
  const TopoDS_Edge diagonal = straight_edge(low->StartPoint(), high->EndPoint());
  const TopoDS_Edge upper = edge_along(high, high->FirstParameter(), high->LastParameter());
  bound(face, {beside, diagonal, upper});
  lay_sides(face);
  EXPECT_EQ(parted(beside, face), HUGE_VAL);
  EXPECT_EQ(parted(diagonal, face), HUGE_VAL);
  EXPECT_LT(parted(upper, face), 1e-10);
}

// A cone of rulings from one point, as the corners of a square-to-round have: their side at the point has no
// length, the others are laid.
TEST(StepSides, FromAPoint) {
  const Handle(Geom_BSplineCurve) high = quarter(250.0, 100.0);
  TColgp_Array1OfPnt poles(1, high->NbPoles());
  poles.Init(gp_Pnt(300.0, 300.0, 0.0));
  const Handle(Geom_BSplineCurve) point =
      new Geom_BSplineCurve(poles, high->Knots(), high->Multiplicities(), high->Degree());
  TopoDS_Face face = face_between(*point, *high);
  const std::vector<TopoDS_Edge> edges{edge_along(high, high->FirstParameter(), high->LastParameter()),
                                       straight_edge(high->EndPoint(), poles(1)),
                                       straight_edge(poles(1), high->StartPoint())};
  bound(face, edges);
  lay_sides(face);
  for (const TopoDS_Edge& edge : edges) EXPECT_LT(parted(edge, face), 1e-10);
}

}  // namespace linerwright
