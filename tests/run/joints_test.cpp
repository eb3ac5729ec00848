// What is told of joints.
#include <gtest/gtest.h>

#include <algorithm>

#include "helpers.hpp"

namespace linerwright {
namespace {

using support::elbow;
using support::k_head;
using support::laid;
using support::Laid;
using support::straight;

std::vector<std::string> notes(const LaidRun& run, const std::string& kind) {
  std::vector<std::string> found;
  for (const RunNote& note : run.notes)
    if (note.kind == kind) found.push_back(note.text);
  return found;
}

TEST(Joints, StepOfTheAirFace) {
  const Laid run =
      laid(std::string(k_head) + straight("A", 600, 1000, "thickness = 25\n") +
           straight("B", 600, 1000, "thickness = 40\n") + straight("C", 600, 1000, "thickness = 25\n") +
           "[[run]]\nname = \"a\"\npath = [\"A\", \"B\", \"C\"]\n");
  ASSERT_EQ(run.problems.size(), 0u) << run.all_problems();
  const LaidRun& laid_run = run.only();
  EXPECT_NEAR(laid_run.joints[0].step, 15.0, 1e-9);
  EXPECT_NEAR(laid_run.joints[1].step, -15.0, 1e-9);
  ASSERT_EQ(notes(laid_run, "step").size(), 2u);
  EXPECT_NE(
      notes(laid_run, "step")[0].find("A to B: the air face steps inward by 15 mm at 1000 mm along the run"),
      std::string::npos);
  EXPECT_EQ(notes(laid_run, "thickness").size(), 2u);
  // air goes from A on: the edge that stands in the air is B's; the lining begins at A
  ASSERT_EQ(notes(laid_run, "nosing").size(), 2u);
  EXPECT_NE(notes(laid_run, "nosing")[0].find("A start: the lining begins here"), std::string::npos);
  EXPECT_NE(notes(laid_run, "nosing")[1].find("A to B: the edge of the lining that stands 15 mm"),
            std::string::npos);
}

TEST(Joints, StepAgainstTheFlow) {
  const std::string flow = "flow_arrow = \"against\"\n";
  const Laid run = laid(std::string(k_head) + straight("A", 600, 1000, "thickness = 25\n" + flow) +
                        straight("B", 600, 1000, "thickness = 40\n" + flow) +
                        "[[run]]\nname = \"a\"\npath = [\"A\", \"B\"]\n");
  ASSERT_EQ(run.problems.size(), 0u) << run.all_problems();
  EXPECT_EQ(run.only().joints[0].flow, RunFlow::against);
  ASSERT_EQ(notes(run.only(), "nosing").size(), 1u);
  EXPECT_NE(notes(run.only(), "nosing")[0].find("B end: the lining begins here"), std::string::npos);
}

TEST(Joints, StraightsAreTurnedToStaggerSeams) {
  const Laid run = laid(std::string(k_head) + straight("A", 600, 1000) + elbow("E", 600, 90, 900) +
                        straight("B", 600, 1000) + straight("C", 600, 1000) +
                        "[[run]]\nname = \"a\"\npath = [\"A\", \"E\", \"B\", \"C\"]\nseam_stagger = 45\n");
  ASSERT_EQ(run.problems.size(), 0u) << run.all_problems();
  EXPECT_TRUE(notes(run.only(), "seam").empty());
  std::size_t turned = 0;
  for (const Placed& placed : run.only().fittings) {
    EXPECT_TRUE(placed.ring_turn == 0.0 || placed.fitting->straight_run);
    turned += placed.ring_turn != 0.0 ? 1 : 0;
  }
  EXPECT_GE(turned, 2u);
  for (const RunJoint& joint : run.only().joints) {
    ASSERT_TRUE(joint.seam_apart);
    EXPECT_GE(*joint.seam_apart, 0.25 * k_pi - 1e-9);
  }
}

TEST(Joints, SeamsOfElbowsAreToldAndStay) {
  const Laid run =
      laid(std::string(k_head) + elbow("A", 600, 90, 900, "pieces = 4\n") + elbow("B", 600, 90, 900) +
           "[[run]]\nname = \"a\"\npath = [\"A\", \"B\"]\nturns = [0, 10]\n");
  ASSERT_EQ(run.problems.size(), 0u) << run.all_problems();
  // four gores: throat, heel, throat, heel; the next elbow's first seam lies in its throat
  EXPECT_NEAR(*run.only().joints[0].seam_apart, 170.0 / 180.0 * k_pi, 1e-9);
  const Laid near =
      laid(std::string(k_head) + elbow("A", 600, 90, 900, "pieces = 5\n") + elbow("B", 600, 90, 900) +
           "[[run]]\nname = \"a\"\npath = [\"A\", \"B\"]\nturns = [0, 10]\n");
  EXPECT_NEAR(*near.only().joints[0].seam_apart, 10.0 / 180.0 * k_pi, 1e-9);
  ASSERT_EQ(notes(near.only(), "seam").size(), 1u);
  EXPECT_NE(notes(near.only(), "seam")[0].find("10 degrees apart about the axis, less than 30"),
            std::string::npos);
}

TEST(Joints, FlowArrowsAgainstEachOther) {
  const std::string job = std::string(k_head) + straight("A", 600, 1000) + straight("N", 300, 400) +
                          support::tee("T") + straight("B", 600, 1000, "flow_arrow = \"against\"\n");
  const Laid run = laid(job + "[[run]]\nname = \"a\"\npath = [\"A\", \"B\"]\n");
  ASSERT_EQ(run.problems.size(), 0u) << run.all_problems();
  ASSERT_EQ(notes(run.only(), "flow").size(), 1u);
  // air enters a tee by its branch: allowed, and its arrows then point against what comes
  const Laid by_branch = laid(job + "[[run]]\nname = \"a\"\npath = [\"N\", \"T:branch1>end\"]\n");
  ASSERT_EQ(by_branch.problems.size(), 0u) << by_branch.all_problems();
  EXPECT_EQ(notes(by_branch.only(), "flow").size(), 1u);
}

}  // namespace
}  // namespace linerwright
