// Drawings that are not our files: moved, turned, mirrored, in inches, as free forms, as patches, as surfaces
// alone, with flanges and rounded rims; and bodies that are no fittings. Made with the kernel's own
// operations on plain solids.
#include <gtest/gtest.h>
#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepBuilderAPI_NurbsConvert.hxx>
#include <BRepFilletAPI_MakeFillet.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCone.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakeSphere.hxx>
#include <BRepPrimAPI_MakeTorus.hxx>
#include <BRep_Builder.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Compound.hxx>

#include <fstream>
#include <functional>
#include <map>

#include "linerwright/units/error.hpp"
#include "recognise/drawing.hpp"
#include "support/cases.hpp"

namespace linerwright::testing {
namespace {

// The metal of round duct between two radii: a cylinder with its hole.
TopoDS_Shape pipe(const gp_Ax2& axes, double inside, double gauge, double length) {
  return BRepAlgoAPI_Cut(BRepPrimAPI_MakeCylinder(axes, inside + gauge, length).Shape(),
                         BRepPrimAPI_MakeCylinder(axes, inside, length).Shape())
      .Shape();
}

// A tee: both outsides united, both insides taken away.
TopoDS_Shape tee(double body, double branch, double degrees, double aside = 0.0) {
  const gp_Ax2 along(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1), gp_Dir(1, 0, 0));
  const double angle = degrees * k_pi / 180.0;
  const gp_Ax2 out(gp_Pnt(0, aside, 900), gp_Dir(std::sin(angle), 0, std::cos(angle)));
  const TopoDS_Shape outside = BRepAlgoAPI_Fuse(BRepPrimAPI_MakeCylinder(along, body + 1.0, 1800).Shape(),
                                                BRepPrimAPI_MakeCylinder(out, branch + 1.0, 900).Shape())
                                   .Shape();
  const TopoDS_Shape hollow =
      BRepAlgoAPI_Cut(outside, BRepPrimAPI_MakeCylinder(along, body, 1800).Shape()).Shape();
  return BRepAlgoAPI_Cut(hollow, BRepPrimAPI_MakeCylinder(out, branch, 900).Shape()).Shape();
}

TopoDS_Shape cone(double r1, double r2, double length) {
  return BRepAlgoAPI_Cut(BRepPrimAPI_MakeCone(r1 + 1.0, r2 + 1.0, length).Shape(),
                         BRepPrimAPI_MakeCone(r1, r2, length).Shape())
      .Shape();
}

TopoDS_Shape pressed(double rho, double radius, double degrees) {
  const double angle = degrees * k_pi / 180.0;
  return BRepAlgoAPI_Cut(BRepPrimAPI_MakeTorus(rho, radius + 1.0, angle).Shape(),
                         BRepPrimAPI_MakeTorus(rho, radius, angle).Shape())
      .Shape();
}

TEST(Elsewhere, PlainDuctTaperBendAndTee) {
  const RecognisedBody straight = body_read(pipe(gp_Ax2(), 300, 1, 1500));
  EXPECT_EQ(straight.kind, "straight") << straight.fault;
  EXPECT_NEAR(key(straight, "diameter"), 600, 1e-6);
  EXPECT_NEAR(key(straight, "length"), 1500, 1e-6);
  EXPECT_NEAR(key(straight, "gauge"), 1, 1e-6);
  const RecognisedBody taper = body_read(cone(300, 200, 400));
  EXPECT_EQ(taper.kind, "reducer") << taper.fault;
  EXPECT_NEAR(key(taper, "to_diameter"), 400, 1e-6);
  const RecognisedBody bend = body_read(pressed(900, 300, 90));
  EXPECT_EQ(bend.kind, "elbow") << bend.fault;
  EXPECT_NEAR(key(bend, "angle"), 90, 1e-6);
  EXPECT_NEAR(key(bend, "centreline_radius"), 900, 1e-6);
  EXPECT_LT(bend.residual, 1e-6);
  const RecognisedBody branched = body_read(tee(300, 200, 60, 40));
  EXPECT_EQ(branched.kind, "tee") << branched.fault;
  EXPECT_NEAR(key(branched, "branch_diameter"), 400, 1e-6);
  EXPECT_NEAR(key(branched, "angle"), 60, 1e-6);
  EXPECT_NEAR(key(branched, "position"), 900, 1e-6);
  EXPECT_NEAR(key(branched, "offset"), 40, 1e-6);
  EXPECT_LT(branched.residual, 1e-6);
}

TEST(Elsewhere, MovedTurnedInInchesAndAsFreeForms) {
  const std::vector<std::pair<std::string, std::function<RecognisedBody(const TopoDS_Shape&)>>> ways = {
      {"moved", [](const TopoDS_Shape& s) { return body_read(transformed(s, moved())); }},
      {"inches", [](const TopoDS_Shape& s) { return body_read(s, "INCH"); }},
      {"free forms",
       [](const TopoDS_Shape& s) { return body_read(BRepBuilderAPI_NurbsConvert(s, true).Shape()); }},
      {"free forms, moved", [](const TopoDS_Shape& s) {
         return body_read(transformed(BRepBuilderAPI_NurbsConvert(s, true).Shape(), moved()));
       }}};
  for (const auto& [way, read_as] : support::drawn("ways", ways)) {
    const RecognisedBody branched = read_as(tee(300, 200, 90, 40));
    EXPECT_EQ(branched.kind, "tee") << way << branched.fault;
    EXPECT_NEAR(key(branched, "diameter"), 600, 1e-5) << way;
    EXPECT_NEAR(key(branched, "branch_length"), 900, 1e-5) << way;
    EXPECT_NEAR(std::fabs(key(branched, "offset")), 40, 1e-5) << way;
    EXPECT_LT(branched.residual, 1e-4) << way;
    const RecognisedBody bend = read_as(pressed(900, 300, 75));
    EXPECT_EQ(bend.kind, "elbow") << way << bend.fault;
    EXPECT_NEAR(key(bend, "angle"), 75, 1e-5) << way;
    EXPECT_LT(bend.residual, 1e-4) << way;
    const RecognisedBody taper = read_as(cone(300, 200, 400));
    EXPECT_EQ(taper.kind, "reducer") << way << taper.fault;
    EXPECT_NEAR(std::min(key(taper, "diameter"), key(taper, "to_diameter")), 400, 1e-5) << way;
    EXPECT_NEAR(key(taper, "length"), 400, 1e-5) << way;
  }
}

TEST(Elsewhere, AMirroredTeeHasItsBranchOnTheOtherSide) {
  gp_Trsf mirror;
  mirror.SetMirror(gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(0, 1, 0)));
  const RecognisedBody body = body_read(transformed(tee(300, 200, 90, 40), mirror));
  EXPECT_EQ(body.kind, "tee") << body.fault;
  EXPECT_NEAR(key(body, "offset"), -40, 1e-6);
  EXPECT_LT(body.residual, 1e-6);
}

TEST(Elsewhere, SurfacesWithoutThickness) {
  BRep_Builder builder;
  TopoDS_Compound surfaces;
  builder.MakeCompound(surfaces);
  // the inside alone, face by face
  const gp_Ax2 along(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1), gp_Dir(1, 0, 0));
  for (const double start : {0.0, 1.0, 2.5}) {
    const double end = start == 0.0 ? 1.0 : start == 1.0 ? 2.5 : k_two_pi;
    gp_Ax2 axes = along;
    axes.Rotate(gp_Ax1(gp_Pnt(), gp_Dir(0, 0, 1)), start);
    const TopoDS_Shape wedge = BRepPrimAPI_MakeCylinder(axes, 250, 800, end - start).Shape();
    for (TopExp_Explorer faces(wedge, TopAbs_FACE); faces.More(); faces.Next()) {
      const BRepAdaptor_Surface surface(TopoDS::Face(faces.Current()));
      if (surface.GetType() == GeomAbs_Cylinder) builder.Add(surfaces, faces.Current());
    }
  }
  const RecognisedBody body = body_read(surfaces);
  EXPECT_EQ(body.kind, "straight") << body.fault;
  EXPECT_NEAR(key(body, "diameter"), 500, 1e-6);
  EXPECT_NEAR(key(body, "length"), 800, 1e-6);
}

TEST(Elsewhere, FlangesBeadsHolesAndRoundedRims) {
  const gp_Ax2 end(gp_Pnt(0, 0, 1460), gp_Dir(0, 0, 1));
  TopoDS_Shape duct = BRepAlgoAPI_Fuse(pipe(gp_Ax2(), 300, 1, 1500), pipe(end, 300.5, 60, 8)).Shape();
  duct = BRepAlgoAPI_Fuse(
             duct, BRepAlgoAPI_Cut(
                       BRepPrimAPI_MakeTorus(gp_Ax2(gp_Pnt(0, 0, 200), gp_Dir(0, 0, 1)), 301, 6).Shape(),
                       BRepPrimAPI_MakeCylinder(300.5, 1500).Shape())
                       .Shape())
             .Shape();
  for (int i = 0; i < 8; ++i) {
    const double a = k_two_pi * i / 8;
    duct = BRepAlgoAPI_Cut(
               duct, BRepPrimAPI_MakeCylinder(
                         gp_Ax2(gp_Pnt(340 * std::cos(a), 340 * std::sin(a), 1400), gp_Dir(0, 0, 1)), 6, 100)
                         .Shape())
               .Shape();
  }
  const RecognisedBody body = body_read(duct);
  EXPECT_EQ(body.kind, "straight") << body.fault;
  EXPECT_NEAR(key(body, "length"), 1500, 1e-6);
  EXPECT_GT(body.left, 10u);
  // the saddle's inner edge rounded by half a millimetre
  int rounded = 0;
  const TopoDS_Shape sharp = tee(300, 200, 90);
  BRepFilletAPI_MakeFillet fillet(sharp);
  for (TopExp_Explorer edges(sharp, TopAbs_EDGE); edges.More(); edges.Next()) {
    const BRepAdaptor_Curve curve(TopoDS::Edge(edges.Current()));
    const gp_Pnt p = curve.Value(0.5 * (curve.FirstParameter() + curve.LastParameter()));
    const bool inside_saddle = std::fabs(std::hypot(p.X(), p.Y()) - 300.0) < 1e-3 &&
                               std::fabs(std::hypot(p.Y(), p.Z() - 900.0) - 200.0) < 1e-3;
    if (!inside_saddle) continue;
    fillet.Add(0.5, TopoDS::Edge(edges.Current()));
    ++rounded;
  }
  ASSERT_GT(rounded, 0);
  fillet.Build();
  ASSERT_TRUE(fillet.IsDone());
  const RecognisedBody soft = body_read(fillet.Shape());
  EXPECT_EQ(soft.kind, "tee") << soft.fault;
  EXPECT_NEAR(key(soft, "branch_diameter"), 400, 1e-5);
  EXPECT_GT(soft.residual, 1e-4) << "a rounded edge is told";
  EXPECT_LT(soft.residual, 0.5);
}

TEST(Elsewhere, WhatIsNoFittingIsRefusedWithItsFaces) {
  const auto fault = [](const TopoDS_Shape& shape) {
    const RecognisedBody body = body_read(shape);
    EXPECT_NE(body.fault, "") << body.kind;
    return body.fault;
  };
  EXPECT_NE(fault(BRepPrimAPI_MakeBox(100, 200, 300).Shape()).find("no hollow round wall"),
            std::string::npos);
  EXPECT_NE(fault(BRepAlgoAPI_Cut(BRepPrimAPI_MakeBox(gp_Pnt(-200, -200, 0), 400, 400, 300).Shape(),
                                  BRepPrimAPI_MakeSphere(gp_Pnt(0, 0, 300), 150).Shape())
                      .Shape())
                .find("two openings"),
            std::string::npos);
  // a rectangular duct, and a round one cut aslant
  EXPECT_NE(fault(BRepAlgoAPI_Cut(BRepPrimAPI_MakeBox(400, 300, 900).Shape(),
                                  BRepPrimAPI_MakeBox(gp_Pnt(1, 1, 0), 398, 298, 900).Shape())
                      .Shape())
                .find("no hollow"),
            std::string::npos);
  gp_Trsf lean;
  lean.SetRotation(gp_Ax1(gp_Pnt(0, 0, 1200), gp_Dir(1, 0, 0)), 0.3);
  const TopoDS_Shape knife =
      transformed(BRepPrimAPI_MakeBox(gp_Pnt(-900, -900, 1200), 1800, 1800, 900).Shape(), lean);
  EXPECT_NE(fault(BRepAlgoAPI_Cut(pipe(gp_Ax2(), 300, 1, 1800), knife).Shape()).find("no circle"),
            std::string::npos);
}

TEST(Elsewhere, SeveralBodiesAreAJob) {
  const support::Folder folder;
  BRep_Builder builder;
  TopoDS_Compound all;
  builder.MakeCompound(all);
  builder.Add(all, pipe(gp_Ax2(), 300, 1, 1500));
  builder.Add(all, pipe(gp_Ax2(gp_Pnt(0, 0, 1500), gp_Dir(0, 0, 1)), 300, 1, 900));
  builder.Add(all, pipe(gp_Ax2(), 270, 30, 1500));  // the first one's liner
  const Recognised recognised = read(all, folder);
  EXPECT_EQ(recognised.contents, 1u);
  ASSERT_EQ(recognised.bodies.size(), 2u);
  const Job job = read_job_text(recognised_job(recognised, "D", "25mm"), "job.toml", job_schema());
  ASSERT_EQ(job.fittings.size(), 2u);
  EXPECT_EQ(job.fittings[1].tag, "D-2");
  EXPECT_DOUBLE_EQ(job.fittings[1].values.quantity("length"), 900.0);
}

TEST(Elsewhere, BrokenFilesAreOneLine) {
  const support::Folder folder;
  const std::filesystem::path file = folder.path() / "drawn.step";
  read(tee(300, 200, 90), folder);
  std::ifstream in(file, std::ios::binary);
  const std::string whole((std::istreambuf_iterator<char>(in)), std::istreambuf_iterator<char>());
  for (const std::string& text : {std::string(), std::string("ISO-10303-21;"), std::string("solid x\n"),
                                  whole.substr(0, whole.size() / 3)}) {
    std::ofstream(file, std::ios::binary) << text;
    try {
      const Recognised recognised = recognise(read_drawn(file));
      for (const RecognisedBody& body : recognised.bodies) EXPECT_NE(body.fault, "");
    } catch (const InputError& error) {
      ASSERT_EQ(error.problems().size(), 1u);
      EXPECT_EQ(one_line(error.problems().front()).find('\n'), std::string::npos);
    } catch (const GeometryError&) {
      SUCCEED();
    }
  }
}

}  // namespace
}  // namespace linerwright::testing
