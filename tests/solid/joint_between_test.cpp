// Joints that lie between two pieces, and bodies that overlap all the same.
#include "joint_between.hpp"

#include <gtest/gtest.h>

#include <BRepPrimAPI_MakeBox.hxx>
#include <BRep_Builder.hxx>
#include <TopoDS_Compound.hxx>

#include "shape.hpp"
#include "support/requests.hpp"

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

}  // namespace
}  // namespace linerwright
