// The check of finished nests must find what is wrong with nests that were spoilt on purpose.
#include <gtest/gtest.h>

#include "linerwright/nest/nest.hpp"
#include "shapes.hpp"

namespace linerwright {
namespace {

using test::part;
using test::rectangle;

class NestFaults : public testing::Test {
 protected:
  NestJob job = test::job_to_fill();
  NestResult result;

  void SetUp() override {
    job.parts = {part("square", rectangle(100.0, 100.0), 2), part("bar", rectangle(50.0, 20.0))};
    job.parts[1].may_turn = false;
    job.boards = {test::board(400.0, 200.0, 1)};
    job.options.gap = 5.0;
    result.boards = {{0, 400.0, 300.0, 21000.0, 0.25, {}}};
    result.placements = {
        {0, 0, 0, 0.0, 0.0, false}, {0, 1, 0, 205.0, 100.0, true}, {1, 0, 0, 210.0, 0.0, false}};
  }
  void expect_only(const std::string& words) {
    const auto faults = nest_faults(job, result);
    ASSERT_EQ(faults.size(), 1U);
    EXPECT_NE(faults[0].find(words), std::string::npos) << faults[0];
  }
};

TEST_F(NestFaults, ASoundNestHasNone) {
  EXPECT_EQ(nest_faults(job, result), std::vector<std::string>{});
}

TEST_F(NestFaults, FindsAnOverlap) {
  result.placements[1].x = 199.0;
  expect_only("square piece 1 and square piece 2 overlap");
}

TEST_F(NestFaults, FindsAPieceWithinAnother) {
  result.placements[2] = {1, 0, 0, 20.0, 20.0, false};
  expect_only("overlap by 999");  // 50 by 20 less the rounding
}

TEST_F(NestFaults, FindsAGapThatIsTooSmall) {
  result.placements[1].x = 204.99;
  expect_only("square piece 1 and square piece 2 are 4.9900 mm apart");
}

TEST_F(NestFaults, AllowsTheRoundingAndNoMore) {
  result.placements[1].x = 205.0 - 0.9 * k_nest_rounding;
  EXPECT_EQ(nest_faults(job, result), std::vector<std::string>{});
  result.placements[1].x = 205.0 - 1.1 * k_nest_rounding;
  expect_only("apart");
  job.options.gap = 0.0;
  result.placements[1].x = 200.0 - 0.9 * k_nest_rounding;
  EXPECT_EQ(nest_faults(job, result), std::vector<std::string>{});
  result.placements[1].x = 200.0 - 1.1 * k_nest_rounding;
  expect_only("overlap");
}

TEST_F(NestFaults, FindsAPieceBeyondTheEdge) {
  result.placements[2].y = -0.01;
  expect_only("bar piece 1 leaves board 1");
  result.placements[2].y = 0.0;
  job.boards[0].trim = 1.0;
  EXPECT_EQ(nest_faults(job, result).size(), 3U);
}

TEST_F(NestFaults, FindsALostAndADoubledPiece) {
  result.placements[1] = {0, 0, 0, 205.0, 100.0, true};
  expect_only("there twice");
  result.placements.erase(result.placements.begin() + 1);
  expect_only("1 placed and 0 left over of 2");
  result.unplaced = {{0, 1, Unplaced::stock_used_up}};
  EXPECT_TRUE(nest_faults(job, result).empty());
}

TEST_F(NestFaults, FindsAForbiddenTurn) {
  result.placements[2] = {1, 0, 0, 260.0, 20.0, true};
  expect_only("bar piece 1 is turned");
}

TEST_F(NestFaults, FindsMoreBoardsThanThereAre) {
  result.boards.push_back(result.boards[0]);
  expect_only("2 boards board are used, 1 are there");
}

TEST_F(NestFaults, FindsWhatDoesNotExist) {
  result.placements[0].board = 7;
  result.placements[1].part = 9;
  EXPECT_EQ(nest_faults(job, result).size(), 2U);
}

TEST_F(NestFaults, APieceInAHoleIsNoOverlap) {
  job.parts[0].count = 1;
  job.parts[0].holes = {rectangle(70.0, 40.0, {10.0, 10.0})};
  result.placements = {{0, 0, 0, 0.0, 0.0, false}, {1, 0, 0, 20.0, 20.0, false}};
  EXPECT_EQ(nest_faults(job, result), std::vector<std::string>{});
  result.placements[1].x = 14.0;  // 4 from the hole's edge
  expect_only("are 4.0000 mm apart");
}

}  // namespace
}  // namespace linerwright
