#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "linerwright/nest/nest.hpp"
#include "shapes.hpp"

namespace linerwright {
namespace {

using test::part;
using test::rectangle;

// Parts laid where the test says, on one board for each entry of `boards`.
struct Laid {
  NestJob job = test::job_to_fill();
  NestResult result;

  void lay(NestPart piece, double x, double y, std::size_t board = 0) {
    result.placements.push_back({job.parts.size(), 0, board, x, y, false});
    job.parts.push_back(std::move(piece));
    job.boards = {test::board(1000.0, 1000.0)};
    while (result.boards.size() <= board) result.boards.push_back({0, 1000.0, 1000.0, 0.0, 0.0, {}});
  }
};

double length(const std::vector<Vec2>& line) {
  return polyline_length(line, false);
}

TEST(CutOrder, MarksFirstThenHolesThenTheOutline) {
  Laid laid;
  NestPart plate = part("plate", rectangle(100.0, 60.0));
  plate.holes = {rectangle(20.0, 20.0, {40.0, 20.0})};
  plate.marks = {{{0.0, 30.0}, {30.0, 30.0}}};
  laid.lay(plate, 100.0, 0.0);
  const CutPlan plan = cut_order(laid.job, laid.result);
  ASSERT_EQ(plan.steps.size(), 3U);
  EXPECT_EQ(plan.steps[0].kind, CutKind::mark);
  EXPECT_EQ(plan.steps[0].points, (std::vector<Vec2>{{100.0, 30.0}, {130.0, 30.0}}));
  EXPECT_EQ(plan.steps[1].kind, CutKind::inner);
  EXPECT_EQ(plan.steps[2].kind, CutKind::outer);
  // The outline is entered in the middle of its first longest side and left there.
  EXPECT_EQ(plan.steps[2].points.front(), (Vec2{150.0, 0.0}));
  EXPECT_EQ(plan.steps[2].points.back(), (Vec2{150.0, 0.0}));
  EXPECT_DOUBLE_EQ(plan.mark_length, 30.0);
  EXPECT_DOUBLE_EQ(plan.cut_length, 2 * (100.0 + 60.0) + 4 * 20.0);
  EXPECT_DOUBLE_EQ(plan.shared_length, 0.0);
  // From the corner to the mark's near end, to the middle of the hole's lower side, to the middle of the
  // plate's.
  const double travel = norm(Vec2{100.0, 30.0}) + norm(Vec2{20.0, 10.0}) + 20.0;
  EXPECT_NEAR(plan.travel_length, travel, 1e-9);
}

TEST(CutOrder, EdgesInLineAreCutOnceHoweverShortTheStretch) {
  // the second plate's side goes on where the first one's ends, but for an overlap of half a millimetre
  for (const double overlap : {0.5, 0.01}) {
    Laid laid;
    laid.lay(part("plate", rectangle(100.0, 50.0)), 0.0, 0.0);
    laid.lay(part("plate", rectangle(100.0, 50.0)), 100.0, 50.0 - overlap);
    const CutPlan plan = cut_order(laid.job, laid.result);
    EXPECT_NEAR(plan.cut_length, 2.0 * 2.0 * (100.0 + 50.0) - overlap, 1e-9);
    EXPECT_NEAR(plan.shared_length, overlap, 1e-9);
  }
}

TEST(CutOrder, DoesNotPartSegmentsThatAreShortToEnter) {
  // a round hole of 20 mm in segments just under a millimetre, one of them a little longer
  Ring round;
  for (int i = 0; i < 64; ++i) {
    const double turn = k_two_pi * (i == 0 ? -0.1 : i) / 64.0;
    round.push_back({50.0 + 10.0 * std::cos(turn), 50.0 - 10.0 * std::sin(turn)});
  }
  NestPart plate = part("plate", rectangle(100.0, 100.0));
  plate.holes = {round};
  Laid laid;
  laid.lay(plate, 0.0, 0.0);
  const CutPlan plan = cut_order(laid.job, laid.result);
  ASSERT_EQ(plan.steps.size(), 2U);
  const std::vector<Vec2>& way = plan.steps[0].points;
  EXPECT_EQ(way.size(), 65U);
  for (std::size_t i = 0; i + 1 < way.size(); ++i) EXPECT_GT(distance(way[i], way[i + 1]), 0.85) << i;
  EXPECT_NEAR(distance(way[0], way[1]), 1.1 * k_two_pi * 10.0 / 64.0, 2e-3);
}

TEST(CutOrder, EntersInTheMiddleOfTheLongestStraightRun) {
  // The upper side is drawn in three edges of 20, 40 and 60 mm; together it is the longest.
  Laid laid;
  laid.lay(part("plate", {{0.0, 0.0}, {70.0, 0.0}, {120.0, 50.0}, {60.0, 50.0}, {20.0, 50.0}, {0.0, 50.0}}),
           0.0, 0.0);
  const CutPlan plan = cut_order(laid.job, laid.result);
  ASSERT_EQ(plan.steps.size(), 1U);
  EXPECT_EQ(plan.steps[0].points.front(), (Vec2{60.0, 50.0}));
  EXPECT_NEAR(plan.cut_length, 70.0 + norm(Vec2{50.0, 50.0}) + 120.0 + 50.0, 1e-9);
}

TEST(CutOrder, ASharedEdgeIsCutOnce) {
  Laid laid;
  laid.lay(part("left", rectangle(100.0, 100.0)), 0.0, 0.0);
  laid.lay(part("right", rectangle(100.0, 100.0)), 100.0, 0.0);
  const CutPlan plan = cut_order(laid.job, laid.result);
  ASSERT_EQ(plan.steps.size(), 2U);
  EXPECT_NEAR(plan.cut_length, 700.0, 1e-9);
  EXPECT_NEAR(plan.shared_length, 100.0, 1e-9);
  EXPECT_NEAR(length(plan.steps[0].points), 400.0, 1e-9);
  EXPECT_NEAR(length(plan.steps[1].points), 300.0, 1e-9);
  // The second is one open line between the ends of the shared edge.
  const Vec2 ends[] = {plan.steps[1].points.front(), plan.steps[1].points.back()};
  for (Vec2 end : ends) EXPECT_EQ(end.x, 100.0);
}

TEST(CutOrder, EdgesSharedInPartAreCutOnceInThatPart) {
  Laid laid;
  laid.lay(part("left", rectangle(100.0, 100.0)), 0.0, 0.0);
  laid.lay(part("right", rectangle(100.0, 100.0)), 100.0 + 0.5 * k_nest_rounding, 60.0);
  const CutPlan plan = cut_order(laid.job, laid.result);
  EXPECT_NEAR(plan.shared_length, 40.0, 1e-3);
  EXPECT_NEAR(plan.cut_length, 760.0, 1e-3);
}

TEST(CutOrder, APieceAllRoundWhichIsCutNeedsNoCut) {
  // Nine squares, three by three, with 12 inner edges of 100; all are cut once.
  Laid laid;
  for (int i = 0; i < 9; ++i)
    laid.lay(part("square", rectangle(100.0, 100.0)), 100.0 * (i % 3), 100.0 * (i / 3));
  const CutPlan plan = cut_order(laid.job, laid.result);
  EXPECT_NEAR(plan.cut_length, 3600.0 - 1200.0, 1e-6);
  EXPECT_NEAR(plan.shared_length, 1200.0, 1e-6);
}

TEST(CutOrder, PiecesApartShareNothing) {
  Laid laid;
  laid.lay(part("left", rectangle(100.0, 100.0)), 0.0, 0.0);
  laid.lay(part("right", rectangle(100.0, 100.0)), 100.01, 0.0);
  EXPECT_DOUBLE_EQ(cut_order(laid.job, laid.result).shared_length, 0.0);
}

TEST(CutOrder, APieceInAHoleIsCutBeforeTheHole) {
  Laid laid;
  NestPart frame = part("frame", rectangle(300.0, 300.0));
  frame.holes = {rectangle(200.0, 200.0, {50.0, 50.0})};
  laid.lay(frame, 0.0, 0.0);
  laid.lay(part("square", rectangle(100.0, 100.0)), 150.0, 150.0);  // in the far corner of the hole
  const CutPlan plan = cut_order(laid.job, laid.result);
  ASSERT_EQ(plan.steps.size(), 3U);
  EXPECT_EQ(plan.steps[0].placement, 1U);
  EXPECT_EQ(plan.steps[1].kind, CutKind::inner);
  EXPECT_EQ(plan.steps[2].kind, CutKind::outer);
  EXPECT_NEAR(plan.shared_length, 200.0, 1e-9);  // two sides against the hole
}

TEST(CutOrder, TakesTheNearestNextBoardByBoard) {
  Laid laid;
  laid.lay(part("far", rectangle(50.0, 50.0)), 800.0, 0.0);
  laid.lay(part("other board", rectangle(50.0, 50.0)), 0.0, 0.0, 1);
  laid.lay(part("near", rectangle(50.0, 50.0)), 0.0, 0.0);
  laid.lay(part("middle", rectangle(50.0, 50.0)), 400.0, 0.0);
  const CutPlan plan = cut_order(laid.job, laid.result);
  std::vector<std::size_t> order;
  for (const CutStep& step : plan.steps) order.push_back(step.placement);
  EXPECT_EQ(order, (std::vector<std::size_t>{2, 3, 0, 1}));
  EXPECT_EQ(plan.steps[3].board, 1U);
  EXPECT_NEAR(plan.travel_length, 25.0 + 400.0 + 400.0 + 25.0, 1e-9);
}

TEST(CutOrder, OfARandomNestCutsEveryEdgeOnce) {
  nesting::Random random(3);
  NestJob job = test::job_to_fill();
  for (int i = 0; i < 5; ++i) {
    job.parts.push_back(part("star", test::star(random, 12, 40.0, 90.0), 3));
    job.parts.push_back(part("plate", rectangle(60.0, random.between(40.0, 120.0)), 2));
    job.parts.back().holes = {rectangle(20.0, 20.0, {5.0, 5.0})};
  }
  job.boards = {test::board(700.0, 500.0)};
  job.options.effort = 0.1;
  const NestResult result = nest(job);
  const CutPlan plan = cut_order(job, result);
  double edges = 0.0, cut = 0.0;
  for (const NestPart& piece : job.parts) {
    edges += piece.count * polyline_length(piece.outline, true);
    for (const Ring& hole : piece.holes) edges += piece.count * polyline_length(hole, true);
  }
  for (const CutStep& step : plan.steps) cut += length(step.points);
  EXPECT_NEAR(cut, plan.cut_length, 1e-6);
  EXPECT_NEAR(plan.cut_length + plan.shared_length, edges, 1e-6);
  EXPECT_GT(plan.shared_length, 0.0);
  // Every hole before the outline of its piece.
  for (std::size_t p = 0; p < result.placements.size(); ++p) {
    bool outer_cut = false;
    for (const CutStep& step : plan.steps) {
      if (step.placement != p) continue;
      EXPECT_FALSE(outer_cut && step.kind == CutKind::inner);
      outer_cut = outer_cut || step.kind == CutKind::outer;
    }
  }
}

}  // namespace
}  // namespace linerwright
