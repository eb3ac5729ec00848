#include "offcut.hpp"

#include <gtest/gtest.h>

#include "linerwright/nest/nest.hpp"
#include "random.hpp"
#include "shapes.hpp"

namespace linerwright {
namespace {

void expect_box(const Box& box, Vec2 low, Vec2 high) {
  EXPECT_EQ(box.low, low);
  EXPECT_EQ(box.high, high);
}

TEST(Offcut, TheLargestRectangleComesFirst) {
  // 300 by 200 with a square of 100 in the corner: 200 by 200 beside it, then 100 by 100 above it.
  const auto boxes = nesting::offcuts({{0.0, 0.0}, {300.0, 200.0}}, {{{0.0, 0.0}, {100.0, 100.0}}}, 50.0);
  ASSERT_EQ(boxes.size(), 2U);
  expect_box(boxes[0], {100.0, 0.0}, {300.0, 200.0});
  expect_box(boxes[1], {0.0, 100.0}, {100.0, 200.0});
}

TEST(Offcut, SmallOnesAreNotWorthKeeping) {
  const Box board{{0.0, 0.0}, {300.0, 200.0}};
  EXPECT_EQ(nesting::offcuts(board, {{{0.0, 0.0}, {100.0, 100.0}}}, 150.0).size(), 1U);
  EXPECT_TRUE(nesting::offcuts(board, {board}, 1.0).empty());
  EXPECT_EQ(nesting::offcuts(board, {}, 200.0).size(), 1U);
  EXPECT_TRUE(nesting::offcuts(board, {}, 201.0).empty());
}

TEST(Offcut, IsTheLargestOfAllOnAGrid) {
  // Against all rectangles of a small integer grid.
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    nesting::Random random(seed);
    const int n = 10;
    std::vector<Box> taken;
    for (int i = 0; i < 5; ++i) {
      const double x = static_cast<double>(random.below(8)), y = static_cast<double>(random.below(8));
      taken.push_back(
          {{x, y},
           {x + 1.0 + static_cast<double>(random.below(3)), y + 1.0 + static_cast<double>(random.below(3))}});
    }
    double largest = 0.0;
    for (int x0 = 0; x0 < n; ++x0)
      for (int x1 = x0 + 1; x1 <= n; ++x1)
        for (int y0 = 0; y0 < n; ++y0)
          for (int y1 = y0 + 1; y1 <= n; ++y1) {
            bool free = true;
            for (const Box& box : taken) {
              free = free && (box.high.x <= x0 || box.low.x >= x1 || box.high.y <= y0 || box.low.y >= y1);
            }
            if (free) largest = std::max(largest, static_cast<double>((x1 - x0) * (y1 - y0)));
          }
    const auto boxes = nesting::offcuts({{0.0, 0.0}, {n * 1.0, n * 1.0}}, taken, 1.0);
    ASSERT_FALSE(boxes.empty()) << seed;
    EXPECT_EQ((boxes[0].high.x - boxes[0].low.x) * (boxes[0].high.y - boxes[0].low.y), largest) << seed;
  }
}

TEST(Offcut, TheSearchLeavesTheLastBoardInOneLargeRest) {
  // Four plates of 200 by 100 on a board of 600 by 200 fill 400 of its length: 200 by 200 is left.
  NestJob job = test::job_to_fill();
  job.parts = {test::part("plate", test::rectangle(200.0, 100.0), 4)};
  job.boards = {test::board(600.0, 200.0)};
  const NestResult result = nest(job);
  ASSERT_EQ(result.boards.size(), 1U);
  ASSERT_EQ(result.boards[0].offcuts.size(), 1U);
  EXPECT_NEAR(result.boards[0].offcuts[0].low.x, 400.0, k_nest_rounding);
  EXPECT_DOUBLE_EQ(result.boards[0].offcuts[0].high.x, 600.0);
}

}  // namespace
}  // namespace linerwright
