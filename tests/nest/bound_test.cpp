// Bounds by hand: what no nest takes less than, and where a nest reaches it.
#include <gtest/gtest.h>

#include "linerwright/nest/nest.hpp"
#include "shapes.hpp"

namespace linerwright {
namespace {

using test::board;
using test::part;
using test::rectangle;
using test::roll;

NestResult nested(NestPart piece, std::vector<NestBoard> boards) {
  NestJob job = test::job_to_fill();
  job.parts = {std::move(piece)};
  job.boards = std::move(boards);
  return nest(job);
}

// Six rectangles of 700 by 700 on boards of 1000 by 1200: their area would do with 3 boards (2.94 / 1.2), but
// no two of them lie on one.
TEST(Bound, RectanglesThatCannotShareABoardNeedOneEach) {
  const NestResult result = nested(part("square", rectangle(700.0, 700.0), 6), {board(1000.0, 1200.0)});
  EXPECT_EQ(result.least_boards, 6U);
  EXPECT_EQ(result.boards.size(), 6U);
  EXPECT_NEAR(result.bound, 0.49 / 1.2, 1e-12);
}

// Too high to lie above each other, 400 wide on a length of 1000: two a board, though 5 x 400 are 2 lengths.
TEST(Bound, HighRectanglesFillALength) {
  const NestResult result = nested(part("high", rectangle(400.0, 600.0), 5), {board(1000.0, 1000.0)});
  EXPECT_EQ(result.least_boards, 3U);
  EXPECT_EQ(result.boards.size(), 3U);
}

// 2.2 m2 on boards of 1 and of 1.5 m2: one of 1 and one of 1.5 (2.5 m2) is the least of whole boards, of
// which the area alone would take 2.2.
TEST(Bound, SeveralStocksAreWholeBoards) {
  const NestResult result =
      nested(part("piece", rectangle(440.0, 500.0), 10), {board(1000.0, 1000.0), board(1000.0, 1500.0)});
  EXPECT_NEAR(result.bound, 2.2 / 2.5, 1e-12);
  EXPECT_EQ(result.least_boards, 2U);
}

// A roll is cut off where the last piece ends: no number of boards, but the area of its width.
TEST(Bound, OfARollOnlyTheAreaCounts) {
  const NestResult result = nested(part("square", rectangle(500.0, 500.0), 4), {roll(1000.0, 10000.0)});
  EXPECT_EQ(result.least_boards, 0U);
  EXPECT_NEAR(result.bound, 1.0, 1e-9);
}

}  // namespace
}  // namespace linerwright
