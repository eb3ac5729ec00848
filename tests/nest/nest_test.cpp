#include "linerwright/nest/nest.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "nest_sets.hpp"
#include "shapes.hpp"

namespace linerwright {
namespace {

using test::board;
using test::part;
using test::rectangle;
using test::roll;

bool same(const NestResult& a, const NestResult& b) {
  return a.steps == b.steps && a.boards.size() == b.boards.size() &&
         std::equal(a.placements.begin(), a.placements.end(), b.placements.begin(), b.placements.end(),
                    [](const NestedPiece& p, const NestedPiece& q) {
                      return p.part == q.part && p.copy == q.copy && p.board == q.board && p.x == q.x &&
                             p.y == q.y && p.turned == q.turned;
                    });
}

NestJob tiling_job(const NestBoard& stock) {
  NestJob job = test::job_to_fill();
  job.parts = nest_sets::exact_tiling().parts;
  job.boards = {stock};
  return job;
}

// Two pieces of one outline, one of them with a hole of 100 by 60: the board holds 2 x 400 x 200 less the
// hole.
TEST(Nest, PiecesThatDifferInTheirHolesAloneKeepTheirAreas) {
  for (const bool first : {false, true}) {
    NestJob job = test::job_to_fill();
    job.parts = {part("plain", rectangle(400.0, 200.0)), part("pierced", rectangle(400.0, 200.0))};
    job.parts[first ? 0 : 1].holes = {rectangle(100.0, 60.0, {150.0, 70.0})};
    job.boards = {board(900.0, 200.0)};
    const NestResult result = nest(job);
    ASSERT_EQ(result.boards.size(), 1U);
    EXPECT_NEAR(result.boards[0].part_area, 2.0 * 400.0 * 200.0 - 100.0 * 60.0, 1e-6) << first;
  }
}

TEST(Nest, SixSquaresFillABoardOfTheirSize) {
  NestJob job = test::job_to_fill();
  job.parts = {part("square", rectangle(100.0, 100.0), 6)};
  job.boards = {board(300.0, 200.0)};
  const NestResult result = nest(job);
  ASSERT_EQ(result.boards.size(), 1U);
  EXPECT_EQ(result.placements.size(), 6U);
  EXPECT_TRUE(result.unplaced.empty());
  EXPECT_NEAR(result.yield, 1.0, 1e-12);
  EXPECT_NEAR(result.bound, 1.0, 1e-12);
  EXPECT_NEAR(result.boards[0].used_length, 300.0, k_nest_rounding);
  EXPECT_TRUE(result.boards[0].offcuts.empty());
}

TEST(Nest, TheGapLiesBetweenPiecesAndNotAtTheEdge) {
  // Three and two squares with gaps of 10 between them: 3 x 100 + 2 x 10 by 2 x 100 + 10.
  NestJob job = test::job_to_fill();
  job.parts = {part("square", rectangle(100.0, 100.0), 6)};
  job.options.gap = 10.0;
  // The rounded corners of the gap are kept outside the arc by 0.05 mm for each piece: 0.1 mm of slack for
  // each gap.
  job.boards = {board(320.2, 210.1)};
  EXPECT_EQ(nest(job).boards.size(), 1U);
  job.boards = {board(319.9, 210.1)};
  EXPECT_EQ(nest(job).boards.size(), 2U);
  job.boards = {board(320.2, 209.9)};
  EXPECT_EQ(nest(job).boards.size(), 2U);
}

TEST(Nest, TheTrimStaysFree) {
  NestJob job = test::job_to_fill();
  job.parts = {part("square", rectangle(100.0, 100.0), 6)};
  job.boards = {board(330.0, 230.0)};
  job.boards[0].trim = 15.0;  // leaves 300 by 200
  const NestResult result = nest(job);
  ASSERT_EQ(result.boards.size(), 1U);
  for (const NestedPiece& placement : result.placements) {
    const Box box = *bounding_box(placed(job.parts[0].outline, placement));
    EXPECT_GE(box.low.x, 15.0 - k_nest_rounding);
    EXPECT_GE(box.low.y, 15.0 - k_nest_rounding);
    EXPECT_LE(box.high.x, 315.0 + k_nest_rounding);
    EXPECT_LE(box.high.y, 215.0 + k_nest_rounding);
  }
  // Six squares on the 330 by 230 that had to be bought.
  EXPECT_NEAR(result.yield, 60000.0 / (330.0 * 230.0), 1e-12);
}

TEST(Nest, TrianglesPairUpOnlyWhenTheyMayTurn) {
  // Right triangles with legs of 100 on a strip as wide as a leg: two make a square. Unturned ones can only
  // follow each other along the strip, and at the foot each is 100 long.
  NestJob job = test::job_to_fill();
  job.parts = {part("triangle", {{0.0, 0.0}, {100.0, 0.0}, {0.0, 100.0}}, 2)};
  job.boards = {roll(1000.0, 100.0)};
  const NestResult turned = nest(job);
  EXPECT_NEAR(turned.boards.at(0).used_length, 100.0, k_nest_rounding);
  EXPECT_NE(turned.placements[0].turned, turned.placements[1].turned);
  job.parts[0].may_turn = false;
  const NestResult upright = nest(job);
  EXPECT_NEAR(upright.boards.at(0).used_length, 200.0, k_nest_rounding);
  EXPECT_FALSE(upright.placements[0].turned || upright.placements[1].turned);
}

TEST(Nest, PlacesPiecesInTheSlotsOfOthers) {
  // Two combs of three teeth, 30 by 26, tooth and slot 5 wide: one turned into the other's slots makes a full
  // rectangle of 30 by 32, the height of a comb and the other's bar.
  NestJob job = test::job_to_fill();
  job.parts = {part("comb", test::comb(3, 10.0, 6.0, 20.0), 2)};
  job.boards = {roll(500.0, 32.0)};
  const NestResult result = nest(job);
  EXPECT_NEAR(result.boards.at(0).used_length, 30.0, k_nest_rounding);
}

TEST(Nest, ReportsPiecesTooLargeForEveryBoard) {
  NestJob job = test::job_to_fill();
  job.parts = {part("plate", rectangle(500.0, 500.0), 3), part("long", rectangle(390.0, 310.0)),
               part("small", rectangle(100.0, 100.0))};
  job.boards = {board(400.0, 300.0), board(300.0, 450.0)};
  const NestResult result = nest(job);
  ASSERT_EQ(result.unplaced.size(), 2U);
  EXPECT_EQ(result.unplaced[0].part, 0U);
  EXPECT_EQ(result.unplaced[0].copies, 3);
  EXPECT_EQ(result.unplaced[0].reason, Unplaced::too_large);
  EXPECT_EQ(result.unplaced[1].part, 1U);
  EXPECT_EQ(result.placements.size(), 1U);
}

TEST(Nest, ReportsPiecesLeftOverWhenStockIsUsedUp) {
  NestJob job = test::job_to_fill();
  job.parts = {part("plate", rectangle(90.0, 90.0), 5)};
  job.boards = {board(100.0, 100.0, 2), board(100.0, 100.0, 1)};
  const NestResult result = nest(job);
  EXPECT_EQ(result.boards.size(), 3U);
  EXPECT_EQ(result.placements.size(), 3U);
  ASSERT_EQ(result.unplaced.size(), 1U);
  EXPECT_EQ(result.unplaced[0].copies, 2);
  EXPECT_EQ(result.unplaced[0].reason, Unplaced::stock_used_up);
}

TEST(Nest, NothingPlacedIsAResultWithoutBoards) {
  NestJob job = test::job_to_fill();
  job.parts = {part("plate", rectangle(500.0, 500.0))};
  job.boards = {board(400.0, 300.0)};
  const NestResult result = nest(job);
  EXPECT_TRUE(result.boards.empty());
  EXPECT_EQ(result.yield, 0.0);
  EXPECT_EQ(result.unplaced.at(0).copies, 1);
}

TEST(Nest, BoundIsTheYieldOnTheFewestBoardsForThePieces) {
  // Three squares of 100 on boards of 150: the area asks for two boards, the shapes for three.
  NestJob job = test::job_to_fill();
  job.parts = {part("square", rectangle(100.0, 100.0), 3)};
  job.boards = {board(150.0, 150.0)};
  const NestResult result = nest(job);
  EXPECT_EQ(result.boards.size(), 3U);
  EXPECT_NEAR(result.yield, 30000.0 / (3 * 22500.0), 1e-12);
  EXPECT_EQ(result.least_boards, 3U);
  EXPECT_NEAR(result.bound, 30000.0 / (3 * 22500.0), 1e-12);
}

TEST(Nest, TakesTheCheaperBoardThatDoes) {
  NestJob job = test::job_to_fill();
  job.parts = {part("square", rectangle(100.0, 100.0))};
  job.boards = {board(1000.0, 1000.0), board(120.0, 110.0)};
  NestResult result = nest(job);
  ASSERT_EQ(result.boards.size(), 1U);
  EXPECT_EQ(result.boards[0].stock, 1U);
  EXPECT_NEAR(result.cost, 0.0132, 1e-12);  // m2, without a price
  job.boards[0].cost = 5.0;
  job.boards[1].cost = 6.0;
  result = nest(job);
  EXPECT_EQ(result.boards.at(0).stock, 0U);
  EXPECT_NEAR(result.cost, 5.0, 1e-12);
}

TEST(Nest, TheSearchSavesABoardThatTheFirstFillTakes) {
  NestJob job = tiling_job(board(1000.0, 600.0));
  job.options.effort = k_effort_fill;
  EXPECT_EQ(nest(job).boards.size(), 2U);
  job.options.effort = k_effort_quick;
  const NestResult result = nest(job);
  ASSERT_EQ(result.boards.size(), 1U);
  EXPECT_NEAR(result.yield, 1.0, 1e-12);
}

TEST(Nest, RectanglesThatTileAStripReachNearlyAllOfIt) {
  const NestResult result = nest(tiling_job(roll(5000.0, 600.0)));
  EXPECT_GE(result.yield, 0.98);
  EXPECT_LE(result.yield, 1.0 + 1e-5);
}

TEST(Nest, ARollCostsWhatIsUsedOfIt) {
  NestJob job = test::job_to_fill();
  job.parts = {part("square", rectangle(100.0, 100.0), 4)};
  job.boards = {roll(1000.0, 120.0)};
  job.boards[0].trim = 10.0;
  job.boards[0].cost = 50.0;
  const NestResult result = nest(job);
  ASSERT_EQ(result.boards.size(), 1U);
  EXPECT_NEAR(result.boards[0].used_length, 410.0, 2 * k_nest_rounding);
  EXPECT_NEAR(result.boards[0].length, 420.0, 2 * k_nest_rounding);
  EXPECT_NEAR(result.cost, 50.0 * 420.0 / 1000.0, 1e-3);
  EXPECT_NEAR(result.bound, 40000.0 / (120.0 * 420.0), 1e-12);
  EXPECT_LE(result.yield, result.bound + 1e-5);
}

TEST(Nest, UsesHolesOnlyWhenAsked) {
  NestJob job = test::job_to_fill();
  job.parts = {part("frame", rectangle(200.0, 200.0)), part("square", rectangle(100.0, 100.0))};
  job.parts[0].holes = {rectangle(120.0, 120.0, {40.0, 40.0})};
  job.boards = {board(200.0, 200.0)};
  EXPECT_EQ(nest(job).boards.size(), 2U);
  job.options.use_holes = true;
  job.options.gap = 8.0;  // 120 - 100 leaves 10 all round
  const NestResult result = nest(job);
  ASSERT_EQ(result.boards.size(), 1U);
  EXPECT_NEAR(result.yield, (40000.0 - 14400.0 + 10000.0) / 40000.0, 1e-12);
  job.options.gap = 10.5;
  EXPECT_EQ(nest(job).boards.size(), 2U);
}

TEST(Nest, ClockwiseOutlinesAndRepeatedFirstPointsAreTaken) {
  NestJob job = test::job_to_fill();
  job.parts = {part("square", {{0.0, 0.0}, {0.0, 100.0}, {100.0, 100.0}, {100.0, 0.0}, {0.0, 0.0}}, 4)};
  job.boards = {board(200.0, 200.0)};
  EXPECT_NEAR(nest(job).yield, 1.0, 1e-12);
}

TEST(Nest, SameSeedSameResultOnOneThreadOrTwo) {
  NestJob job = test::job_to_fill();
  nesting::Random random(11);
  for (int i = 0; i < 6; ++i) {
    job.parts.push_back(part("star " + std::to_string(i), test::star(random, 11, 30.0, 90.0), 3));
  }
  job.options.effort = 0.2;
  for (const bool strip : {true, false}) {
    job.boards = {strip ? roll(5000.0, 400.0) : board(500.0, 400.0)};
    job.options.threads = 2;
    const NestResult two = nest(job);
    EXPECT_TRUE(same(two, nest(job)));
    job.options.threads = 1;
    EXPECT_TRUE(same(two, nest(job)));
    EXPECT_GT(two.steps, 0U);
  }
}

// Whoever watches sees nests that are free of faults, and changes nothing by looking on.
TEST(Nest, ASearchCanBeWatched) {
  NestJob job = test::job_to_fill();
  job.parts = nest_sets::gores_and_tees().parts;
  job.boards = {board(2400.0, 1220.0)};
  job.options.effort = 0.05;
  const NestResult alone = nest(job);
  std::vector<double> done;
  std::size_t pieces = 0;
  job.options.watch = [&](double share, const NestResult& now) {
    done.push_back(share);
    pieces = now.placements.size();
    EXPECT_FALSE(now.boards.empty());
    for (const NestedPiece& piece : now.placements) EXPECT_LT(piece.board, now.boards.size());
  };
  EXPECT_TRUE(same(alone, nest(job)));
  EXPECT_GT(done.size(), 10U);
  EXPECT_TRUE(std::is_sorted(done.begin(), done.end()));
  EXPECT_GT(done.back(), 0.5);
  EXPECT_LE(done.back(), 1.0);
  EXPECT_GT(pieces, 0U);
}

TEST(Nest, MoreEffortShortensTheStrip) {
  NestJob job = test::job_to_fill();
  job.parts = nest_sets::gores_and_tees().parts;
  job.boards = {roll(20000.0, 1220.0)};
  job.options.effort = k_effort_fill;
  const double first = nest(job).boards.at(0).used_length;
  job.options.effort = 0.3;
  const double searched = nest(job).boards.at(0).used_length;
  EXPECT_LT(searched, first);
}

}  // namespace
}  // namespace linerwright
