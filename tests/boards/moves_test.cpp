// Other ways to cut fittings, chosen by the boards.
#include <gtest/gtest.h>

#include <set>

#include "board_moves.hpp"
#include "boards/jobs.hpp"

using namespace linerwright;

namespace {

const support::Flags k_reducer{{"tag", "R-1"},
                               {"diameter", "800mm"},
                               {"to_diameter", "500mm"},
                               {"length", "600mm"},
                               {"thickness", "25mm"}};

FittingRequest asked_for(const std::string& kind, const support::Flags& flags, long count) {
  FittingRequest request = support::request_from(kind, flags);
  request.count = count;
  return request;
}

BoardStock board_with_gap() {
  BoardStock stock = sheet(1220, 3050);
  stock.gap = 3.0;
  stock.trim = 6.0;
  return stock;
}

std::set<std::pair<std::string, int>> on_boards(const BoardPlan& plan) {
  std::set<std::pair<std::string, int>> all;
  for (const PlannedBoard& board : plan.boards)
    for (const PlacedPiece& piece : board.pieces)
      EXPECT_TRUE(all.emplace(plan.parts[piece.part].piece, piece.copy).second) << "a copy is there twice";
  return all;
}

}  // namespace

// Two elbows of three as blanks, the third as its five pieces; an id and a copy name each.
TEST(BoardMoves, CopiesOfABlankComeOneByOne) {
  const support::Flags elbow{
      {"tag", "E-1"}, {"diameter", "315mm"}, {"angle", "90"}, {"pieces", "5"}, {"thickness", "25mm"}};
  const std::vector<FittingRequest> requests{asked_for("elbow", elbow, 3)};
  Cutting cutting;
  cutting.one_by_one[0] = 1;
  const std::vector<BoardPart> parts = parts_of(cutting, requests, parts_of("elbow", elbow, 3), false);
  ASSERT_EQ(parts.size(), 6u);
  const BoardPlan plan = planned(parts, {board_with_gap()});
  EXPECT_EQ(on_boards(plan),
            (std::set<std::pair<std::string, int>>{
                {"blank", 0}, {"blank", 1}, {"1", 2}, {"2", 2}, {"3", 2}, {"4", 2}, {"5", 2}}));
  std::string words;
  for (const PlannedBoard& board : plan.boards)
    for (const Text& text : board.texts) words += text.text + "\n";
  EXPECT_NE(words.find("3/3"), std::string::npos) << words;
  EXPECT_EQ(complaints(plan), "");
  for (std::size_t b = 0; b < plan.boards.size(); ++b) EXPECT_NO_THROW(board_dxf(plan, b, {}));
  cutting.one_by_one[0] = 3;
  EXPECT_EQ(parts_of(cutting, requests, parts_of("elbow", elbow, 3), false).size(), 5u);
}

// Four sectors 2263 mm wide and 904 high: a board of 3050 x 1220 holds one. In panels they take fewer, where
// the rules let pieces be divided that fit their board; each panel is there once for each reducer.
TEST(BoardMoves, PanelsOfTapersSaveBoards) {
  const std::vector<FittingRequest> requests{asked_for("reducer", k_reducer, 4)};
  const std::vector<BoardPart> parts = parts_of("reducer", k_reducer, 4);
  JobStock setup{{board_with_gap()}, plain_knife(), {}};
  setup.options.effort = 0.1;
  const DrawnBoards even =
      draw_boards(parts, setup.stock, setup.knife, setup.options, Units::metric, DxfOptions{});
  EXPECT_EQ(even.plan.boards.size(), 4u);
  PieceRules rules;
  EXPECT_FALSE(plan_boards(requests, parts, even, setup, rules, Units::metric, {}).has_value());
  rules.division.divide = Divide::if_it_saves;
  const auto planned = plan_boards(requests, parts, even, setup, rules, Units::metric, {});
  ASSERT_TRUE(planned.has_value());
  EXPECT_LT(planned->drawn.plan.boards.size(), 4u);
  ASSERT_EQ(planned->divided.count(0), 1u);
  const std::size_t cut = planned->divided.at(0).fitting.pieces.size();
  EXPECT_GE(cut, 2u);
  EXPECT_EQ(on_boards(planned->drawn.plan).size(), 4 * cut);
  // a seam that must save more than it can is not taken
  rules.division.seam_cost = 10.0;
  EXPECT_FALSE(plan_boards(requests, parts, even, setup, rules, Units::metric, {}).has_value());
}
