// STL files as drawn metal: ours of every kind, and those of the kernel's own mesher, whose facets follow no
// rulings.
#include <fmt/format.h>

#include <gtest/gtest.h>
#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCone.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakeTorus.hxx>
#include <StlAPI_Writer.hxx>

#include <fstream>

#include "linerwright/solid/solid.hpp"
#include "recognise/drawing.hpp"
#include "support/cases.hpp"

namespace linerwright::testing {
namespace {

constexpr double k_inch = 25.4;

// The kernel's mesh of a shape, as text or not, in a unit of so many millimetres.
std::filesystem::path meshed(const TopoDS_Shape& shape, const support::Folder& folder, bool text,
                             double unit) {
  gp_Trsf scale;
  scale.SetScale(gp_Pnt(), 1.0 / unit);
  const TopoDS_Shape scaled = transformed(shape, scale);
  BRepMesh_IncrementalMesh(scaled, 0.2 / unit, false, 0.15);
  const std::filesystem::path file = folder.path() / "drawn.stl";
  StlAPI_Writer writer;
  writer.ASCIIMode() = text;
  EXPECT_TRUE(writer.Write(scaled, file.c_str()));
  return file;
}

RecognisedBody mesh_read(const TopoDS_Shape& shape, bool text = false, double unit = 1.0) {
  const support::Folder folder;
  const Recognised recognised = recognise(read_drawn_mesh(meshed(shape, folder, text, unit), unit));
  EXPECT_EQ(recognised.bodies.size(), 1u);
  return recognised.bodies.empty() ? RecognisedBody{} : recognised.bodies.front();
}

TopoDS_Shape hollow(const TopoDS_Shape& outside, const TopoDS_Shape& inside) {
  return BRepAlgoAPI_Cut(outside, inside).Shape();
}

TopoDS_Shape tee_shape() {
  const gp_Ax2 out(gp_Pnt(0, 30, 800), gp_Dir(1, 0, 0.4));
  const auto both = [&](double grow) {
    return BRepAlgoAPI_Fuse(BRepPrimAPI_MakeCylinder(300 + grow, 1700).Shape(),
                            BRepPrimAPI_MakeCylinder(out, 180 + grow, 900).Shape())
        .Shape();
  };
  return hollow(both(1.5), both(0.0));
}

TEST(Meshes, OfTheKernelsMesher) {
  for (const bool elsewhere : {false, true}) {
    const auto placed = [&](const TopoDS_Shape& shape) {
      return elsewhere ? transformed(shape, moved()) : shape;
    };
    // far away a number of 24 bits tells a thousandth of a millimetre
    const double within = elsewhere ? 0.02 : 0.005;
    const RecognisedBody straight = mesh_read(placed(
        hollow(BRepPrimAPI_MakeCylinder(251, 900).Shape(), BRepPrimAPI_MakeCylinder(250, 900).Shape())));
    EXPECT_EQ(straight.kind, "straight") << straight.fault;
    EXPECT_NEAR(key(straight, "diameter"), 500, within);
    EXPECT_NEAR(key(straight, "length"), 900, within);
    EXPECT_LT(straight.residual, within);
    const RecognisedBody taper = mesh_read(placed(
        hollow(BRepPrimAPI_MakeCone(301, 201, 500).Shape(), BRepPrimAPI_MakeCone(300, 200, 500).Shape())));
    EXPECT_EQ(taper.kind, "reducer") << taper.fault;
    EXPECT_NEAR(key(taper, "length"), 500, within);
    EXPECT_NEAR(key(taper, "diameter") + key(taper, "to_diameter"), 1000, 2.0 * within);
    const RecognisedBody bend = mesh_read(placed(
        hollow(BRepPrimAPI_MakeTorus(600, 201, 1.2).Shape(), BRepPrimAPI_MakeTorus(600, 200, 1.2).Shape())));
    EXPECT_EQ(bend.kind, "elbow") << bend.fault;
    EXPECT_NEAR(key(bend, "centreline_radius"), 600, within);
    EXPECT_NEAR(key(bend, "angle"), degrees(1.2), 0.005);
    const RecognisedBody tee = mesh_read(placed(tee_shape()));
    EXPECT_EQ(tee.kind, "tee") << tee.fault;
    EXPECT_NEAR(key(tee, "branch_diameter"), 360, within);
    EXPECT_NEAR(std::fabs(key(tee, "offset")), 30, within);
    EXPECT_LT(tee.residual, within);
  }
}

TEST(Meshes, TextInInches) {
  const RecognisedBody tee = mesh_read(tee_shape(), true, k_inch);
  EXPECT_EQ(tee.kind, "tee") << tee.fault;
  EXPECT_NEAR(key(tee, "diameter"), 600, 0.01);
  EXPECT_NEAR(key(tee, "length"), 1700, 0.01);
  EXPECT_NEAR(key(tee, "gauge"), 1.5, 0.01);
}

TEST(Meshes, SurfacesWithoutThickness) {
  // the side of a cylinder alone, facet by facet
  std::string text = "solid side\n";
  const auto corner = [](int i, double z) {
    const double u = k_two_pi * i / 64;
    return fmt::format("vertex {} {} {}\n", 200.0 * std::cos(u), 200.0 * std::sin(u), z);
  };
  const auto facet = [&](const std::string& a, const std::string& b, const std::string& c) {
    text += "facet normal 0 0 0\nouter loop\n" + a + b + c + "endloop\nendfacet\n";
  };
  for (int i = 0; i < 64; ++i) {
    const int next = (i + 1) % 64;
    facet(corner(i, 0), corner(next, 0), corner(next, 700));
    facet(corner(i, 0), corner(next, 700), corner(i, 700));
  }
  const support::Folder folder;
  const std::filesystem::path file = folder.path() / "side.stl";
  std::ofstream(file) << text << "endsolid side\n";
  const Recognised recognised = recognise(read_drawn_mesh(file, 1.0));
  ASSERT_EQ(recognised.bodies.size(), 1u);
  EXPECT_EQ(recognised.bodies[0].kind, "straight") << recognised.bodies[0].fault;
  EXPECT_NEAR(key(recognised.bodies[0], "diameter"), 400, 1e-3);
}

TEST(Meshes, WhatIsNoDuctIsRefusedWithItsFaces) {
  const RecognisedBody box = mesh_read(BRepPrimAPI_MakeBox(100, 200, 300).Shape());
  EXPECT_EQ(box.fault, "has no hollow round wall");
  const RecognisedBody blind =
      mesh_read(hollow(BRepPrimAPI_MakeCylinder(251, 900).Shape(),
                       BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(0, 0, 1), gp_Dir(0, 0, 1)), 250, 900).Shape()));
  EXPECT_EQ(blind.fault.substr(0, 38), "the opening at (0, 0, 1) is closed by ") << blind.fault;
  EXPECT_NE(blind.fault.find("faces of its inside: cylinder "), std::string::npos) << blind.fault;
}

class MeshesOf : public ::testing::TestWithParam<std::string> {};

TEST_P(MeshesOf, RandomFittingsAreRecognised) {
  const support::Folder folder;
  const std::filesystem::path file = folder.path() / "metal.stl";
  const int wanted = support::cases(2);
  const auto read_mesh = [&](const Fitting& fitting, const std::string& what, int, support::Chance&) {
    const Model model = build_model(fitting);
    ASSERT_EQ(model.parts.front().name, "metal");
    std::ofstream out(file, std::ios::binary);
    write_stl(out, {mesh_of(model.parts.front().solid, {}, fitting.liner.gauge)}, "metal");
    out.close();
    const Recognised recognised = recognise(
        read_drawn_mesh(file, 1.0), fitting.kind == "elbow" ? fitting.request.values.integer("pieces") : 5);
    ASSERT_EQ(recognised.bodies.size(), 1u) << what;
    const RecognisedBody& body = recognised.bodies.front();
    ASSERT_EQ(body.fault, "") << what;
    // errors of a path's angles add up along it
    EXPECT_LT(body.residual, fitting.kind == "path" ? 0.1 : 0.02) << what;
    const FittingRequest request = request_of(body);
    if (fitting.kind == "path") {
      Told drawn, read;
      tell_walls(fitting, drawn, false);
      tell_walls(make_fitting(request), read, false);
      EXPECT_EQ(differences(drawn, read, 0.1), "") << what;
      return;
    }
    EXPECT_EQ(body.kind, fitting.kind) << what;
    EXPECT_EQ(differences(told_by(fitting.request, fitting), told_by(request, make_fitting(request)), 0.1),
              "")
        << what;
  };
  EXPECT_EQ(for_random_fittings(GetParam(), 4242, wanted, read_mesh), wanted);
}

INSTANTIATE_TEST_SUITE_P(Kinds, MeshesOf, ::testing::ValuesIn(support::drawn("kinds", kinds_read())),
                         [](const auto& one) { return one.param; });

}  // namespace
}  // namespace linerwright::testing
