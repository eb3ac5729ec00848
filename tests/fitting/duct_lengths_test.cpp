// One lining over several lengths of duct.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "helpers.hpp"

namespace linerwright {
namespace {

// The lengths say how long the duct is.
Fitting straight(const std::string& lengths, const Flags& more = {}) {
  return fitting_from("straight",
                      with({{"diameter", "600"}, {"thickness", "25"}, {"duct_lengths", lengths}}, more));
}

// Heights of the joints between rings of board.
std::vector<double> liner_joints(const Fitting& fitting) {
  std::vector<double> joints;
  for (std::size_t w = 0; w + 1 < fitting.walls.size(); ++w)
    joints.push_back(liner_end(fitting, static_cast<int>(w), End::high, 0.0, 0.0));
  return joints;
}

const Flags k_board{{"board_width", "1220"}, {"board_length", "3050"}, {"min_panel", "100"}};

TEST(DuctLengths, SayTheLength) {
  const Fitting fitting = straight("1200 & 1000 & 700");
  EXPECT_NEAR(fitting.passages.front().stations.back().distance, 2900.0, 1e-9);
  EXPECT_NEAR(fact(fitting, "length"), 2900.0, 1e-9);
  EXPECT_NEAR(fact(fitting, "duct_joint_1"), 1200.0, 1e-9);
  EXPECT_NEAR(fact(fitting, "duct_joint_2"), 2200.0, 1e-9);
  EXPECT_THROW(fact(fitting, "duct_joint_3"), std::out_of_range);
  // both may be said where they agree
  EXPECT_NO_THROW(straight("1200 & 1000 & 700", {{"length", "2900"}}));
  EXPECT_TRUE(has(
      refusal(
          "straight",
          {{"diameter", "600"}, {"length", "3600"}, {"thickness", "25"}, {"duct_lengths", "2000 & 1800"}}),
      "the lengths of duct add up to 3800 mm, and length says 3600 mm"));
  EXPECT_TRUE(has(refusal("straight", {{"diameter", "600"}, {"thickness", "25"}}), "is missing"));
  EXPECT_TRUE(
      has(refusal("straight", {{"diameter", "600"}, {"thickness", "25"}, {"duct_lengths", "20000 & 18000"}}),
          "add up to 38000 mm"));
}

// A board of 1220 would end in the opening: the cut keeps 25 mm from its edge, and off the duct's joint as
// before.
TEST(DuctLengths, BoardJointsKeepOffOpenings) {
  Flags more = k_board;
  more["openings"] = "sensor at 1200mm around 90 diameter 60mm metal yes";
  const Fitting fitting = straight("1800 & 1800", more);
  const std::vector<double> joints = liner_joints(fitting);
  ASSERT_FALSE(joints.empty());
  double before = 0.0;
  for (const double joint : joints) {
    EXPECT_GE(std::fabs(joint - 1200.0), 30.0 + 25.0 - 1e-6);
    EXPECT_GE(std::fabs(joint - 1800.0), 100.0 - 1e-9);
    EXPECT_LE(joint - before, 1220.0 + 0.01);
    before = joint;
  }
  std::size_t holes = 0;
  for (const Wall& wall : fitting.walls) holes += wall.holes.size();
  EXPECT_EQ(holes, 1u);
}

// Three boards of 1220 would meet at 1220 and 2440, 20 and 40 from where the duct does. The first joint may
// stand at 1100 at most, the second then at 2300, and 1300 is left: three boards do not do.
TEST(DuctLengths, BoardJointsKeepOffThem) {
  const Fitting fitting = straight("1200 & 1200 & 1200", k_board);
  const std::vector<double> joints = liner_joints(fitting);
  ASSERT_EQ(joints.size(), 3u);
  double before = 0.0;
  for (const double joint : joints) {
    for (const double duct : {1200.0, 2400.0}) EXPECT_GE(std::fabs(joint - duct), 100.0 - 1e-9) << joint;
    EXPECT_LE(joint - before, 1220.0 + 0.01);
    before = joint;
  }
  EXPECT_LE(3600.0 - before, 1220.0 + 0.01);
  EXPECT_EQ(liner_joints(
                fitting_from("straight",
                             with({{"diameter", "600"}, {"length", "3600"}, {"thickness", "25"}}, k_board)))
                .size(),
            2u);
}

// Rings are as long as the board, the last one what is left: the offcuts of the boards are then in one.
TEST(DuctLengths, FullBoardsFirst) {
  const std::vector<double> joints = liner_joints(straight("1500 & 1500", k_board));
  ASSERT_EQ(joints.size(), 2u);
  EXPECT_NEAR(joints[0], 1220.0, 1e-9);
  EXPECT_NEAR(joints[1], 2440.0, 1e-9);
  // the rest is never shorter than the smallest panel
  const std::vector<double> near = liner_joints(straight("1250 & 1240", k_board));
  ASSERT_EQ(near.size(), 2u);
  EXPECT_GE(2490.0 - near[1], 100.0 - 1e-9);
  EXPECT_LE(near[1] - near[0], 1220.0 + 0.01);
}

// Of all ways to place joints in steps of a hundredth, tried one by one from the start, none has fewer rings.
TEST(DuctLengths, NoFewerBoardsDo) {
  std::size_t tried = 0;
  for (const char* lengths : {"700 & 700 & 700 & 700 & 700", "1500 & 900 & 1500 & 333", "400 & 2000 & 400",
                              "1220 & 1220 & 1220", "1330 & 1330 & 1330", "900 & 900 & 900"}) {
    const Fitting fitting = straight(lengths, k_board);
    std::vector<double> ducts;
    for (int i = 1; i < 10; ++i) try {
        ducts.push_back(fact(fitting, "duct_joint_" + std::to_string(i)));
      } catch (const std::out_of_range&) {
        break;
      }
    const int whole = static_cast<int>(std::lround(fact(fitting, "length")));
    // fewest rings that reach each millimetre
    std::vector<int> rings(static_cast<std::size_t>(whole) + 1, 1000);
    rings[0] = 0;
    for (int at = 1; at <= whole; ++at) {
      const bool free = at == whole || std::all_of(ducts.begin(), ducts.end(), [&](double duct) {
                          return std::fabs(duct - at) >= 100.0;
                        });
      for (int from = std::max(0, at - 1220); free && from <= at - 100; ++from)
        rings[static_cast<std::size_t>(at)] =
            std::min(rings[static_cast<std::size_t>(at)], rings[static_cast<std::size_t>(from)] + 1);
    }
    EXPECT_EQ(liner_joints(fitting).size() + 1, static_cast<std::size_t>(rings.back())) << lengths;
    ++tried;
  }
  EXPECT_EQ(tried, 6u);
}

TEST(DuctLengths, TheLiningIsOne) {
  const Fitting fitting = straight("1200 & 1200 & 1200");
  EXPECT_EQ(fitting.pieces.size(), 1u);
  EXPECT_NEAR(
      metal_volume(fitting),
      metal_volume(fitting_from("straight", {{"diameter", "600"}, {"length", "3600"}, {"thickness", "25"}})),
      1e-6);
}

}  // namespace
}  // namespace linerwright
