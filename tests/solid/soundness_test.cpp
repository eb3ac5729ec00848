// What is held for sound is what the kernel's analyzer holds for it.
#include "soundness.hpp"

#include <gtest/gtest.h>
#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakeTorus.hxx>
#include <BRep_Builder.hxx>
#include <Geom2d_Line.hxx>
#include <Geom_BSplineCurve.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TColgp_Array1OfPnt.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Shell.hxx>
#include <TopoDS_Solid.hxx>
#include <gp_Circ.hxx>
#include <gp_Pln.hxx>

#include <vector>

namespace linerwright {
namespace {

struct Case {
  const char* name;
  std::vector<gp_Pnt> top;  // poles of a cubic from (100, 50) to (0, 50)
  bool sound;
};

// Between y = 0 and a spline, x from 0 to 100.
TopoDS_Face face_under(const std::vector<gp_Pnt>& top) {
  const int n = static_cast<int>(top.size());
  TColgp_Array1OfPnt poles(1, n);
  for (int i = 0; i < n; ++i) poles(i + 1) = top[static_cast<std::size_t>(i)];
  TColStd_Array1OfReal knots(1, n - 2);
  TColStd_Array1OfInteger multiplicities(1, n - 2);
  for (int i = 1; i <= n - 2; ++i) {
    knots(i) = i;
    multiplicities(i) = i == 1 || i == n - 2 ? 4 : 1;
  }
  const Handle(Geom_BSplineCurve) spline = new Geom_BSplineCurve(poles, knots, multiplicities, 3);
  BRepBuilderAPI_MakeWire wire;
  wire.Add(BRepBuilderAPI_MakeEdge(gp_Pnt(0, 0, 0), gp_Pnt(100, 0, 0)));
  wire.Add(BRepBuilderAPI_MakeEdge(gp_Pnt(100, 0, 0), top.front()));
  wire.Add(BRepBuilderAPI_MakeEdge(spline));
  wire.Add(BRepBuilderAPI_MakeEdge(top.back(), gp_Pnt(0, 0, 0)));
  return BRepBuilderAPI_MakeFace(gp_Pln(), wire.Wire(), Standard_True);
}

class Soundness : public testing::TestWithParam<Case> {};

TEST_P(Soundness, IsTheAnalyzers) {
  const TopoDS_Face face = face_under(GetParam().top);
  EXPECT_EQ(is_sound(face), GetParam().sound);
  EXPECT_EQ(BRepCheck_Analyzer(face).IsValid(), GetParam().sound);
}

INSTANTIATE_TEST_SUITE_P(
    Solid, Soundness,
    testing::Values(
        Case{"over the other", {{100, 50, 0}, {70, 60, 0}, {50, 40, 0}, {30, 60, 0}, {0, 50, 0}}, true},
        Case{"poles below, curve above",
             {{100, 50, 0}, {70, 60, 0}, {50, -30, 0}, {30, 60, 0}, {0, 50, 0}},
             true},
        Case{
            "through the other", {{100, 50, 0}, {70, -60, 0}, {50, -90, 0}, {30, -60, 0}, {0, 50, 0}}, false},
        Case{"a loop", {{100, 50, 0}, {-60, 50, 0}, {50, 160, 0}, {160, 50, 0}, {0, 50, 0}}, false},
        Case{"back over its own way",
             {{100, 50, 0}, {-100, 60, 0}, {50, 55, 0}, {200, 60, 0}, {0, 50, 0}},
             false},
        Case{"through an upright side",
             {{100, 50, 0}, {160, 20, 0}, {60, 20, 0}, {30, 60, 0}, {0, 50, 0}},
             false}),
    [](const auto& tested) {
      std::string name = tested.param.name;
      for (char& c : name)
        if (c == ' ' || c == ',') c = '_';
      return name;
    });

TEST(Soundness, OfSolids) {
  EXPECT_TRUE(is_sound(BRepPrimAPI_MakeBox(10, 20, 30).Shape()));
  EXPECT_TRUE(is_sound(BRepPrimAPI_MakeTorus(30, 10).Shape()));
  // one face left out
  BRep_Builder builder;
  TopoDS_Shell shell;
  builder.MakeShell(shell);
  BRepPrimAPI_MakeBox box(10, 20, 30);
  for (const TopoDS_Face& face :
       {box.TopFace(), box.BottomFace(), box.LeftFace(), box.RightFace(), box.FrontFace()})
    builder.Add(shell, face);
  TopoDS_Solid solid;
  builder.MakeSolid(solid);
  builder.Add(solid, shell);
  EXPECT_EQ(is_sound(solid), BRepCheck_Analyzer(solid).IsValid());
}

TEST(Soundness, EdgesLieOnTheirFaces) {
  const TopoDS_Shape cylinder = BRepPrimAPI_MakeCylinder(10, 30).Shape();
  EXPECT_TRUE(is_sound(cylinder));
  const BRepAdaptor_Surface side(TopoDS::Face(TopExp_Explorer(cylinder, TopAbs_FACE).Current()));
  ASSERT_EQ(side.GetType(), GeomAbs_Cylinder);
  for (TopExp_Explorer edges(side.Face(), TopAbs_EDGE); edges.More(); edges.Next()) {
    const TopoDS_Edge& edge = TopoDS::Edge(edges.Current());
    if (BRepAdaptor_Curve(edge).GetType() != GeomAbs_Circle) continue;
    BRep_Builder().UpdateEdge(edge, new Geom2d_Line({0.0, 0.5}, {1.0, 0.0}), side.Face(), 1e-7);
    break;
  }
  EXPECT_FALSE(is_sound(cylinder));
  EXPECT_FALSE(BRepCheck_Analyzer(cylinder).IsValid());
}

TEST(Soundness, HolesLieWithin) {
  for (const double x : {50.0, 95.0}) {
    TopoDS_Face face = face_under({{100, 50, 0}, {70, 60, 0}, {50, 40, 0}, {30, 60, 0}, {0, 50, 0}});
    const TopoDS_Edge circle = BRepBuilderAPI_MakeEdge(gp_Circ(gp_Ax2({x, 25, 0}, {0, 0, -1}), 10));
    BRep_Builder().Add(face, BRepBuilderAPI_MakeWire(circle).Wire());
    EXPECT_EQ(is_sound(face), x == 50.0);
    EXPECT_EQ(BRepCheck_Analyzer(face).IsValid(), x == 50.0);
  }
}

}  // namespace
}  // namespace linerwright
