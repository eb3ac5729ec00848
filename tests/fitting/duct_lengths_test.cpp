// One lining over several lengths of duct.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "helpers.hpp"

namespace linerwright {
namespace {

Fitting straight(const std::string& lengths, const Flags& more = {}) {
  return fitting_from(
      "straight",
      with({{"diameter", "600"}, {"length", "3600"}, {"thickness", "25"}, {"duct_lengths", lengths}}, more));
}

// Heights of the joints between rings of board.
std::vector<double> liner_joints(const Fitting& fitting) {
  std::vector<double> joints;
  for (std::size_t w = 0; w + 1 < fitting.walls.size(); ++w)
    joints.push_back(end_height(fitting, static_cast<int>(w), true, 0.0, 0.0));
  return joints;
}

TEST(DuctLengths, BoardJointsKeepOffThem) {
  // three boards of 1220 would meet at 1200 and 2400, where the duct does
  const Flags board{{"board_width", "1220"}, {"board_length", "3050"}, {"min_panel", "100"}};
  const Fitting fitting = straight("1200 & 1200", board);
  EXPECT_NEAR(fact(fitting, "duct_joint_1"), 1200.0, 1e-9);
  EXPECT_NEAR(fact(fitting, "duct_joint_2"), 2400.0, 1e-9);
  const std::vector<double> joints = liner_joints(fitting);
  ASSERT_GE(joints.size(), 2u);
  double before = 0.0;
  for (const double joint : joints) {
    for (const double duct : {1200.0, 2400.0}) EXPECT_GE(std::fabs(joint - duct), 100.0 - 1e-9) << joint;
    EXPECT_LE(joint - before, 1220.0 + 0.01);
    before = joint;
  }
  EXPECT_LE(3600.0 - before, 1220.0 + 0.01);
  // without joints of the duct three rings do
  EXPECT_EQ(
      liner_joints(fitting_from("straight",
                                with({{"diameter", "600"}, {"length", "3600"}, {"thickness", "25"}}, board)))
          .size(),
      2u);
}

TEST(DuctLengths, TheLiningIsOne) {
  const Fitting fitting = straight("1200 & 1200 & 1200");
  EXPECT_EQ(fitting.pieces.size(), 1u);
  EXPECT_THROW(fact(fitting, "duct_joint_3"), std::out_of_range);
  EXPECT_NEAR(
      metal_volume(fitting),
      metal_volume(fitting_from("straight", {{"diameter", "600"}, {"length", "3600"}, {"thickness", "25"}})),
      1e-6);
}

TEST(DuctLengths, MoreThanTheLining) {
  EXPECT_TRUE(has(
      refusal(
          "straight",
          {{"diameter", "600"}, {"length", "3600"}, {"thickness", "25"}, {"duct_lengths", "2000 & 1800"}}),
      "the lengths of duct add up to 3800 mm, and the lining is 3600 mm long"));
}

}  // namespace
}  // namespace linerwright
