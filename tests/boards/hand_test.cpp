// A job that can be nested with pencil and paper.
#include <gtest/gtest.h>

#include "boards/jobs.hpp"
#include "linerwright/report/cut_list.hpp"

using namespace linerwright;

namespace {

// A straight length whose pattern is a rectangle of this size: girth = around + fit allowance.
std::vector<BoardPart> rectangle(const std::string& tag, double around, double along, long count) {
  constexpr double k_allowance = 20.0;
  return parts_of("straight",
                  {{"tag", tag},
                   {"diameter", fixed((around + k_allowance) / k_pi, 9)},
                   {"fit_allowance", "20"},
                   {"length", fixed(along, 9)},
                   {"thickness", "25"}},
                  count);
}

}  // namespace

// Boards of 1200 (width) x 3000 (length), gap 10. Pieces, around x along: A 1490 x 1200, twice: 1490 + 10 +
// 1490 = 2990, so both fill one board. B 1000 x 590, four: two rows of 590 (590 + 10 + 590 = 1190) in two
// columns (1000 + 10 + 1000 = 2010) fill 2010 of a second board, and C 900 x 1200 stands beside them: 2010 +
// 10 + 900 = 2920. By area two boards are the fewest, so this is the best there is. Area placed: 2 x 1490 x
// 1200 + 4 x 1000 x 590 + 900 x 1200 = 3,576,000 + 2,360,000 + 1,080,000 = 7,016,000 mm2 of 7,200,000: 97.44
// %.
TEST(Boards, HandSum) {
  BoardStock stock = sheet(1200, 3000);
  stock.gap = 10.0;
  stock.cost = 40.0;
  const BoardPlan plan = planned(
      rectangle("A", 1490, 1200, 2) + rectangle("B", 1000, 590, 4) + rectangle("C", 900, 1200, 1), {stock});
  EXPECT_EQ(complaints(plan), "");
  ASSERT_EQ(plan.boards.size(), 2u);
  EXPECT_NEAR(plan.piece_area, 7016000.0, 10.0);
  EXPECT_NEAR(plan.yield(), 7016000.0 / 7200000.0, 1e-5);
  EXPECT_NEAR(plan.bound, plan.yield(), 1e-6);
  std::vector<double> areas{plan.boards[0].piece_area, plan.boards[1].piece_area};
  std::sort(areas.begin(), areas.end());
  EXPECT_NEAR(areas[0], 2360000.0 + 1080000.0, 10.0);
  EXPECT_NEAR(areas[1], 3576000.0, 10.0);
  // Knife: the contours' lengths, nothing is shared with a gap between: 2 (1490 + 1200) twice, 2 (1000 + 595)
  // four times, 2 (900 + 1200): 10760 + 12720 + 4200 = 27680 mm.
  double knife = 0.0, cost = 0.0, mass = 0.0;
  for (const PlannedBoard& board : plan.boards) {
    knife += board.knife_length;
    cost += board.cost.value();
    mass += board.mass;
    EXPECT_NEAR(board.shared_length, 0.0, 1e-6);
    // at least the knife's way at 0.25 m/s and the board's two minutes
    EXPECT_GT(board.time, board.knife_length / 250.0 + 120.0);
  }
  EXPECT_NEAR(knife, 27680.0, 0.1);
  EXPECT_DOUBLE_EQ(cost, 80.0);
  // two boards of 3.6 m2, 25 mm of 48 kg/m3
  EXPECT_NEAR(mass, 2 * 3.6 * 0.025 * 48, 1e-9);

  const std::vector<TotalsStock> totals = stock_totals(plan);
  ASSERT_EQ(totals.size(), 1u);
  EXPECT_EQ(totals[0].boards, 2);
  EXPECT_NEAR(totals[0].yield(), 7016000.0 / 7200000.0, 1e-5);
  EXPECT_NEAR(totals[0].knife_length, 27680.0, 0.1);
  EXPECT_DOUBLE_EQ(totals[0].cost.value(), 80.0);
}

// What is left of a board of 1000 x 2000 beside one piece of 1200 x 1000 is 800 x 1000.
TEST(Boards, OffcutByHand) {
  const BoardPlan plan = planned(rectangle("A", 1200, 1000, 1), {sheet(1000, 2000)});
  ASSERT_EQ(plan.boards.size(), 1u);
  ASSERT_EQ(plan.boards[0].offcuts.size(), 1u);
  const Box offcut = plan.boards[0].offcuts[0];
  EXPECT_NEAR(offcut.high.x - offcut.low.x, 800.0, 0.01);
  EXPECT_NEAR(offcut.high.y - offcut.low.y, 1000.0, 0.01);
}

// Without a gap neighbours share a cut: 3 rectangles of 500 x 1000 side by side on 1000 x 1500 have 3 x 3000
// mm of contour, of which two edges of 1000 are cut once instead of twice.
TEST(Boards, SharedCutsAreCutOnce) {
  const BoardPlan plan = planned(rectangle("A", 500, 1000, 3), {sheet(1000, 1500)});
  ASSERT_EQ(plan.boards.size(), 1u);
  EXPECT_NEAR(plan.boards[0].knife_length, 9000.0 - 2000.0, 0.1);
  EXPECT_NEAR(plan.boards[0].shared_length, 2000.0, 0.1);
  EXPECT_NEAR(plan.yield(), 1.0, 1e-5);
}

// The cut list holds every copy once, in the order they come free.
TEST(Boards, CutListHoldsEveryCopyOnce) {
  const BoardPlan plan =
      planned(rectangle("A", 500, 400, 5) + rectangle("B", 300, 200, 7), {sheet(1000, 1500)});
  const std::string csv = cut_list_csv(plan);
  for (int copy = 1; copy <= 7; ++copy) {
    std::size_t lines = 0;
    for (std::size_t at = 0; (at = csv.find(",B,1," + std::to_string(copy) + ",", at)) != std::string::npos;
         ++at)
      ++lines;
    EXPECT_EQ(lines, 1u) << csv;
  }
  EXPECT_EQ(std::count(csv.begin(), csv.end(), '\n'), 1 + 5 + 7);
}

TEST(Boards, RollIsCutOffAtTheUsedLength) {
  BoardStock roll = sheet(1000, 30000);
  roll.roll = true;
  roll.cost = 300.0;
  const BoardPlan plan = planned(rectangle("A", 2000, 1000, 2), {roll});
  ASSERT_EQ(plan.boards.size(), 1u);
  EXPECT_NEAR(plan.boards[0].length, 4000.0, 0.01);
  EXPECT_NEAR(plan.boards[0].cost.value(), 40.0, 1e-3);
  EXPECT_NEAR(plan.yield(), 1.0, 1e-5);
}
