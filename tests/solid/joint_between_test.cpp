// Joints that lie between two pieces, and bodies that overlap all the same.
#include "joint_between.hpp"

#include <gtest/gtest.h>

#include <BRepPrimAPI_MakeBox.hxx>
#include <BRep_Builder.hxx>
#include <TopoDS_Compound.hxx>
#include <tuple>

#include "heights.hpp"
#include "shape.hpp"
#include "support/requests.hpp"
#include "support/square_to_rounds.hpp"

namespace linerwright {
namespace {

using support::fitting_from;
using support::Flags;

const Flags k_reducer{{"diameter", "400"}, {"to_diameter", "250"}, {"length", "300"},
                      {"thickness", "25"}, {"collar", "80"},       {"to_collar", "60"}};

const TopoDS_Shape& shape_of(const Model& model, const std::string& name) {
  for (const Part& part : model.parts)
    if (part.name == name) return part.solid.shape().shape;
  throw std::runtime_error("no part " + name);
}

TEST(JointBetween, LiesBetweenTapersAndTheirCollars) {
  for (const Flags& flags : std::vector<Flags>{
           k_reducer, support::with(k_reducer, {{"diameter", "250"}, {"to_diameter", "400"}}),
           support::with(k_reducer, {{"flat", "yes"}}), support::with(k_reducer, {{"offset", "0.001"}}),
           support::with(k_reducer, {{"offset", "120"}, {"length", "600"}}),
           support::with(k_reducer, {{"to_diameter", "399.99"}, {"length", "9000"}, {"offset", "3"}})}) {
    SCOPED_TRACE(support::written("reducer", flags));
    const Model model = build_model(fitting_from("reducer", flags));
    const TopoDS_Shape& collar = shape_of(model, "liner collar");
    const TopoDS_Shape& taper = shape_of(model, "liner taper");
    const TopoDS_Shape& tocollar = shape_of(model, "liner tocollar");
    EXPECT_TRUE(joint_between(collar, taper));
    EXPECT_TRUE(joint_between(taper, collar));
    EXPECT_TRUE(joint_between(tocollar, taper));
    EXPECT_FALSE(joint_between(collar, tocollar));  // they share nothing
    EXPECT_FALSE(joint_between(taper, taper));
    EXPECT_FALSE(joint_between(shape_of(model, "metal"), taper));
  }
}

TEST(JointBetween, OfPanels) {
  const Model model = build_model(fitting_from("reducer", support::with(k_reducer, {{"panels", "5"}})));
  for (int panel = 1; panel <= 5; ++panel)
    EXPECT_TRUE(joint_between(shape_of(model, "liner collar"),
                              shape_of(model, "liner taperp" + std::to_string(panel))));
}

// A lump that goes with the taper and reaches through the joint into the collar is seen, whichever way it
// lies.
TEST(JointBetween, NotWhereOneBodyReachesThrough) {
  const Model model = build_model(fitting_from("reducer", k_reducer));
  const TopoDS_Shape& collar = shape_of(model, "liner collar");
  const auto with_lump = [&](const char* piece, double low, double high) {
    TopoDS_Compound both;
    BRep_Builder().MakeCompound(both);
    BRep_Builder().Add(both, shape_of(model, piece));
    BRep_Builder().Add(both, BRepPrimAPI_MakeBox(gp_Pnt(180, -5, low), gp_Pnt(190, 5, high)).Shape());
    return TopoDS_Shape(both);
  };
  EXPECT_FALSE(joint_between(collar, with_lump("liner taper", -30.0, 20.0)));
  EXPECT_FALSE(joint_between(collar, with_lump("liner taper", -30.0, -10.0)));
  EXPECT_FALSE(joint_between(with_lump("liner collar", -10.0, 40.0), shape_of(model, "liner taper")));
  // clear of the joint it does no harm
  EXPECT_TRUE(joint_between(with_lump("liner collar", -60.0, -40.0), shape_of(model, "liner taper")));
}

// What leans too much for the joint's slope is left to the kernel.
TEST(JointBetween, LeavesSteepTapersToTheKernel) {
  const Model model = build_model(fitting_from("reducer", support::with(k_reducer, {{"length", "60"}})));
  EXPECT_FALSE(joint_between(shape_of(model, "liner collar"), shape_of(model, "liner taper")));
}

const Flags k_tee{{"diameter", "300"},
                  {"length", "1000"},
                  {"branch_diameter", "200"},
                  {"branch_length", "450"},
                  {"thickness", "25"}};

void expect_saddle(const Flags& flags) {
  SCOPED_TRACE(support::written("tee", flags));
  const Model model = build_model(fitting_from("tee", flags));
  const TopoDS_Shape& body = shape_of(model, "liner body");
  const TopoDS_Shape& branch = shape_of(model, "liner branch");
  EXPECT_TRUE(saddle_between(body, branch));
  EXPECT_TRUE(saddle_between(branch, body));
  EXPECT_FALSE(saddle_between(branch, branch));
  EXPECT_FALSE(saddle_between(shape_of(model, "bore"), shape_of(model, "metal")));
}

TEST(SaddleBetween, LiesBetweenBodyAndBranch) {
  for (const Flags& flags : std::vector<Flags>{
           k_tee, support::with(k_tee, {{"offset", "30"}}),
           support::with(k_tee, {{"angle", "45"}, {"branch_length", "700"}}),
           support::with(k_tee, {{"angle", "120"}, {"branch_length", "600"}, {"around", "70"}})}) {
    expect_saddle(flags);
  }
}

// Cones, and nearly cylinders nearly as wide as the body, for which
// the kernel's booleans take half a minute.
TEST(SaddleBetween, OfCones) {
  const Flags cone = support::with(k_tee, {{"branch_base", "230"}});
  const Flags large{
      {"diameter", "2949.50299"},        {"length", "3709.55278"},     {"thickness", "50"},
      {"branch_diameter", "2949.20804"}, {"branch_base", "2949.2142"}, {"branch_length", "3024.61904"},
      {"angle", "53.7050357"},           {"position", "779.506988"},   {"around", "-26.0741664"}};
  for (const Flags& flags :
       std::vector<Flags>{cone, support::with(cone, {{"offset", "20"}}),
                          support::with(cone, {{"angle", "60"}, {"branch_length", "700"}}), large}) {
    expect_saddle(flags);
  }
}

TEST(SaddleBetween, OfTwoBranches) {
  const Model model = build_model(fitting_from("tee", {{"diameter", "300"},
                                                       {"length", "1000"},
                                                       {"branch_diameter", "150&200"},
                                                       {"branch_length", "450&500"},
                                                       {"angle", "90&75"},
                                                       {"position", "250&650"},
                                                       {"around", "0&40"},
                                                       {"thickness", "25"}}));
  EXPECT_TRUE(saddle_between(shape_of(model, "liner body"), shape_of(model, "liner branch1")));
  EXPECT_TRUE(saddle_between(shape_of(model, "liner body"), shape_of(model, "liner branch2")));
  EXPECT_FALSE(saddle_between(shape_of(model, "liner branch1"), shape_of(model, "liner branch2")));
}

// A lump of the body inside the branch's wall, or one of the branch inside the body's far wall, is seen.
void expect_lumps_seen(const Model& model) {
  int lumps = 0;
  for (const auto& [piece, other, at] :
       {std::tuple<const char*, const char*, Vec3>{"liner body", "liner branch", {250.0, 0.0, 588.0}},
        {"liner body", "liner branch", {300.0, -88.0, 500.0}},
        {"liner branch", "liner body", {-138.0, 0.0, 500.0}},
        {"liner branch", "liner body", {0.0, 138.0, 120.0}}}) {
    const TopoDS_Shape lump =
        BRepPrimAPI_MakeBox(to_kernel(at - Vec3{3, 3, 3}), to_kernel(at + Vec3{3, 3, 3})).Shape();
    const TopoDS_Shape& whole = shape_of(model, other);
    ASSERT_NEAR(common_volume(make_solid(lump), make_solid(whole)), 216.0, 1e-6);
    TopoDS_Compound both;
    BRep_Builder().MakeCompound(both);
    BRep_Builder().Add(both, shape_of(model, piece));
    BRep_Builder().Add(both, lump);
    EXPECT_FALSE(saddle_between(both, whole));
    EXPECT_FALSE(saddle_between(whole, both));
    ++lumps;
  }
  EXPECT_EQ(lumps, 4);
}

TEST(SaddleBetween, NotWhereOneBodyReachesThrough) {
  expect_lumps_seen(build_model(fitting_from("tee", k_tee)));
  expect_lumps_seen(build_model(fitting_from("tee", support::with(k_tee, {{"branch_base", "203"}}))));
}

TEST(WallBetween, LiesUnderBranchesThatStandOnTheBody) {
  const Flags tee = support::with(k_tee, {{"branch_diameter", "120"}, {"cut", "tilt"}});
  for (const Flags& flags :
       std::vector<Flags>{tee, support::with(tee, {{"offset", "30"}}),
                          support::with(tee, {{"angle", "60"}, {"branch_length", "700"}})}) {
    SCOPED_TRACE(support::written("tee", flags));
    const Model over = build_model(fitting_from("tee", support::with(flags, {{"joint", "over"}})));
    EXPECT_TRUE(wall_between(shape_of(over, "liner body"), shape_of(over, "liner branch")));
    EXPECT_TRUE(wall_between(shape_of(over, "liner branch"), shape_of(over, "liner body")));
    EXPECT_FALSE(wall_between(shape_of(over, "liner branch"), shape_of(over, "liner branch")));
    // the bore of the branch goes on inside the wall
    EXPECT_FALSE(wall_between(shape_of(over, "liner body"), shape_of(over, "bore")));
    // one that reaches to the air face does not stand on the wall
    const Model through = build_model(fitting_from("tee", support::with(flags, {{"joint", "through"}})));
    EXPECT_FALSE(wall_between(shape_of(through, "liner body"), shape_of(through, "liner branch")));
    EXPECT_FALSE(wall_between(shape_of(over, "liner body"), shape_of(through, "liner branch")));
    const Model mitre = build_model(fitting_from("tee", flags));
    EXPECT_FALSE(wall_between(shape_of(mitre, "liner body"), shape_of(mitre, "liner branch")));
  }
}

TEST(ConvexBeside, PanelsOfARectangularCollar) {
  const Flags square = support::with(support::k_square_to_round, {{"square_collar", "150"}});
  for (const Flags& flags :
       std::vector<Flags>{square, support::with(square, {{"round_collar", "100"}}),
                          support::with(square, {{"width", "500"}, {"height", "500"}}),
                          support::with(square, {{"face_up", "air"}, {"thickness", "40"}})}) {
    SCOPED_TRACE(support::written("square_to_round", flags));
    const Model model = build_model(support::square_to_round(flags));
    const TopoDS_Shape& half = shape_of(model, "liner 1");
    for (const char* name : {"liner panel1", "liner panel2", "liner panel3", "liner panel4"}) {
      const TopoDS_Shape& panel = shape_of(model, name);
      EXPECT_TRUE(convex_beside(panel, half)) << name;
      EXPECT_TRUE(convex_beside(half, panel)) << name;
      EXPECT_FALSE(convex_beside(panel, panel));
      EXPECT_FALSE(convex_beside(half, shape_of(model, "bore")));
    }
  }
}

TEST(ConvexBeside, NotWhereOneBodyReachesIntoTheOtherOrStandsInIt) {
  const auto box = [](double x, double size) {
    return BRepPrimAPI_MakeBox(gp_Pnt(x, -0.5 * size, -0.5 * size), size, size, size).Shape();
  };
  EXPECT_TRUE(convex_beside(box(0.0, 100.0), box(100.0, 50.0)));
  EXPECT_FALSE(convex_beside(box(0.0, 100.0), box(99.99, 50.0)));
  EXPECT_FALSE(convex_beside(box(25.0, 50.0), box(0.0, 100.0)));
  EXPECT_FALSE(convex_beside(box(0.0, 100.0), box(25.0, 50.0)));
}

}  // namespace
}  // namespace linerwright
