// The boards for all fittings of a job, and the requests as they are then cut.
#include <gtest/gtest.h>

#include "boards/jobs.hpp"
#include "linerwright/boards/planned_boards.hpp"
#include "linerwright/report/cut_list.hpp"

using namespace linerwright;

// Four sectors of which a board of 3050 x 1220 holds one: in panels they take fewer, where the rules allow it
// (BoardMoves).
TEST(BoardsOfJob, RequestsAreThoseOfTheDivisionOnTheBoards) {
  const support::Flags reducer{{"tag", "R-1"},
                               {"diameter", "800mm"},
                               {"to_diameter", "500mm"},
                               {"length", "600mm"},
                               {"thickness", "25mm"}};
  std::vector<FittingRequest> requests{support::request_from("reducer", reducer)};
  requests[0].count = 4;
  const std::vector<BoardPart> parts = parts_of("reducer", reducer, 4);
  JobStock setup{{sheet(1220, 3050)}, plain_knife(), {}};
  setup.options.effort = 0.1;
  const PlannedBoards even = boards_of_job(requests, parts, setup, nullptr, Units::metric, {});
  EXPECT_TRUE(even.divided.empty());
  EXPECT_EQ(even.note, "");
  EXPECT_EQ(requests[0].values.find("division"), nullptr);
  EXPECT_EQ(boards_json(even.drawn.plan),
            boards_json(draw_boards(parts, setup.stock, setup.knife, setup.options, Units::metric, {}).plan));
  PieceRules rules;
  rules.division.divide = Divide::if_it_saves;
  const PlannedBoards planned = boards_of_job(requests, parts, setup, &rules, Units::metric, {});
  EXPECT_LT(planned.drawn.plan.boards.size(), even.drawn.plan.boards.size());
  ASSERT_EQ(planned.divided.size(), 1u);
  EXPECT_NE(planned.note, "");
  ASSERT_NE(requests[0].values.find("division"), nullptr);
  EXPECT_EQ(requests[0].values.text("division"),
            planned.divided.at(0).fitting.request.values.text("division"));
}
