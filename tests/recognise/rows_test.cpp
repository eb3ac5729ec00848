// Metal of several walls one behind the other, and legs that part from one inlet, drawn with the kernel's own
// operations or by our own kinds where the reading has a case of its own.
#include <gtest/gtest.h>
#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakePolygon.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepOffsetAPI_MakePipeShell.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakeRevol.hxx>
#include <gp_Circ.hxx>

#include "recognise/drawing.hpp"

namespace linerwright::testing {
namespace {

using Points = std::vector<gp_Pnt>;

// A round bar along a polyline, mitred at its corners.
TopoDS_Shape bar(const Points& points, double radius) {
  BRepBuilderAPI_MakePolygon spine;
  for (const gp_Pnt& point : points) spine.Add(point);
  const gp_Ax2 start(points[0], gp_Dir(gp_Vec(points[0], points[1])));
  BRepOffsetAPI_MakePipeShell shell(spine.Wire());
  shell.SetTransitionMode(BRepBuilderAPI_RightCorner);
  shell.Add(BRepBuilderAPI_MakeWire(BRepBuilderAPI_MakeEdge(gp_Circ(start, radius)).Edge()).Wire());
  shell.Build();
  shell.MakeSolid();
  return shell.Shape();
}

TopoDS_Shape duct(const Points& points, double radius) {
  return BRepAlgoAPI_Cut(bar(points, radius + 1.0), bar(points, radius)).Shape();
}

std::string parts_of_body(const RecognisedBody& body) {
  for (const auto& [key, value] : body.keys)
    if (key == "parts") return value;
  return body.fault;
}

// The distance between the ends of what was read.
double reach_of(const RecognisedBody& body) {
  const FittingRequest request = request_of(body);
  const std::vector<Port> ports = ports_of(make_fitting(request));
  return distance(ports.front().frame.origin, ports.back().frame.origin);
}

TEST(Rows, ADuctAroundABeamComesBackToItsAxis) {
  const Points points = {{0, 0, 0}, {0, 0, 1000}, {400, 0, 1400}, {400, 0, 2200}, {0, 0, 2600}, {0, 0, 3600}};
  const RecognisedBody body = body_read(duct(points, 150));
  EXPECT_EQ(body.kind, "path") << body.fault;
  EXPECT_LT(body.residual, 1e-5);
  EXPECT_NEAR(reach_of(body), 3600.0, 1e-5) << parts_of_body(body);
}

TEST(Rows, AnElbowWhoseEndsDiffer) {
  const Points points = {{0, 0, 0}, {0, 0, 1000}, {300, 0, 1700}, {2000, 0, 2000}};
  const RecognisedBody body = body_read(duct(points, 150));
  EXPECT_EQ(body.kind, "path") << body.fault;
  EXPECT_LT(body.residual, 1e-5);
  EXPECT_NEAR(reach_of(body), std::hypot(2000.0, 2000.0), 1e-5) << parts_of_body(body);
}

TEST(Rows, ARollingOffset) {
  const Points points = {{0, 0, 0}, {0, 0, 900}, {500, 0, 1500}, {900, 700, 1900}, {900, 700, 2900}};
  const RecognisedBody body = body_read(transformed(duct(points, 120), moved()));
  EXPECT_EQ(body.kind, "path") << body.fault;
  EXPECT_LT(body.residual, 1e-5);
  EXPECT_NEAR(reach_of(body), points.front().Distance(points.back()), 1e-4) << parts_of_body(body);
}

// Walls one behind the other about z, turned from one outline of radius and height.
TopoDS_Shape turned_metal(const std::vector<std::pair<double, double>>& inside) {
  BRepBuilderAPI_MakePolygon outline;
  for (const auto& [r, z] : inside) outline.Add(gp_Pnt(r, 0, z));
  for (auto each = inside.rbegin(); each != inside.rend(); ++each)
    outline.Add(gp_Pnt(each->first + 1.5, 0, each->second));
  outline.Close();
  return BRepPrimAPI_MakeRevol(BRepBuilderAPI_MakeFace(outline.Wire()).Face(),
                               gp_Ax1(gp_Pnt(), gp_Dir(0, 0, 1)))
      .Shape();
}

TEST(Rows, TapersInARow) {
  const RecognisedBody body =
      body_read(turned_metal({{200, 0}, {200, 300}, {150, 700}, {150, 750}, {260, 1400}}));
  EXPECT_EQ(body.kind, "path") << body.fault;
  EXPECT_EQ(parts_of_body(body),
            "straight 300 mm, taper to 300 mm over 400 mm, straight 50 mm, taper to 520 mm over 650 mm");
  EXPECT_LT(body.residual, 1e-6);
}

// The steep cone's apex lies within the slow one: where both have one radius is told by radii with a sign.
TEST(Rows, ASteepTaperBehindALongOne) {
  const RecognisedBody body = body_read(turned_metal({{165, 0}, {200, 700}, {290, 900}}));
  EXPECT_EQ(body.kind, "path") << body.fault;
  EXPECT_EQ(parts_of_body(body), "taper to 400 mm over 700 mm, taper to 580 mm over 200 mm");
  EXPECT_LT(body.residual, 1e-6);
}

// Legs of the inlet's diameter: bars united, hollows taken away.
TopoDS_Shape breeches(double degrees, double radius) {
  const auto star = [&](double r, double longer) {
    const double a = degrees * k_pi / 180.0;
    const auto arm = [&](const gp_Dir& way, double length) {
      return BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(0, 0, 0), way), r, length + longer).Shape();
    };
    const TopoDS_Shape legs = BRepAlgoAPI_Fuse(arm(gp_Dir(std::sin(a), 0, std::cos(a)), 900),
                                               arm(gp_Dir(-std::sin(a), 0, std::cos(a)), 700))
                                  .Shape();
    return BRepAlgoAPI_Fuse(legs, arm(gp_Dir(0, 0, -1), 600)).Shape();
  };
  return BRepAlgoAPI_Cut(star(radius + 1.0, 0.0), star(radius, 0.0)).Shape();
}

TEST(Rows, Breeches) {
  for (const bool elsewhere : {false, true}) {
    const TopoDS_Shape shape = breeches(40, 150);
    const RecognisedBody body = body_read(elsewhere ? transformed(shape, moved()) : shape);
    EXPECT_EQ(body.kind, "wye") << body.fault;
    EXPECT_LT(body.residual, 1e-5);
    const FittingRequest request = request_of(body);
    std::vector<double> lengths = request.values.list("leg_length");
    lengths.push_back(request.values.quantity("inlet_length"));
    std::sort(lengths.begin(), lengths.end());
    const double wanted[] = {600, 700, 900};
    for (std::size_t i = 0; i < 3; ++i) EXPECT_NEAR(lengths.at(i), wanted[i], 1e-5);
  }
}

// A cap, and a plate with a smaller hole in it, are no open ends.
TEST(Rows, ClosedEndsAreNoOpenings) {
  const Points line = {{0, 0, 0}, {0, 0, 1000}};
  for (const double hole : {0.0, 60.0}) {
    TopoDS_Shape plate =
        BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(0, 0, 998), gp_Dir(0, 0, 1)), 150.5, 2).Shape();
    if (hole > 0.0) plate = BRepAlgoAPI_Cut(plate, BRepPrimAPI_MakeCylinder(hole, 1000).Shape()).Shape();
    const RecognisedBody body = body_read(BRepAlgoAPI_Fuse(duct(line, 150), plate).Shape());
    EXPECT_EQ(body.fault.substr(0, 40), "the opening at (0, 0, 998) is closed by ")
        << body.kind << body.fault;
  }
}

// What is none of ours: refused with what its faces are.
TEST(Rows, RefusalsNameTheFaces) {
  // a square hole in the wall
  const Points line = {{0, 0, 0}, {0, 0, 1000}};
  const TopoDS_Shape holed =
      BRepAlgoAPI_Cut(duct(line, 150), BRepPrimAPI_MakeBox(gp_Pnt(0, -50, 400), 400, 100, 100).Shape())
          .Shape();
  const RecognisedBody body = body_read(holed);
  EXPECT_NE(body.fault.find("is no circle square to an axis"), std::string::npos) << body.fault;
  EXPECT_NE(body.fault.find("faces of its inside: cylinder "), std::string::npos) << body.fault;
}

}  // namespace
}  // namespace linerwright::testing
