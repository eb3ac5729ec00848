// Stock that does not do, and what is said about it.
#include <gtest/gtest.h>

#include "boards/jobs.hpp"
#include "linerwright/units/error.hpp"

using namespace linerwright;

namespace {

const support::Flags k_duct{{"diameter", "400mm"}, {"length", "1000mm"}, {"thickness", "25mm"}};

std::string said(const std::string& text) {
  try {
    const Job job = read_job_text(text, "job.toml", job_schema());
    board_stock(job.lists.at("stock"), job.units, "job.toml");
  } catch (const InputError& error) {
    return error.what();
  }
  return "(taken)";
}

const std::string k_head =
    "[job]\nunits = \"mm\"\n[liner]\nthickness = 25\n[[fitting]]\ntag = \"A\"\nkind = \"straight\"\ndiameter "
    "= "
    "400\nlength = 1000\n[[stock]]\n";

}  // namespace

TEST(Stock, IsReadFromAJob) {
  const Job job =
      read_job_text(k_head +
                        "name = \"board\"\nwidth = 1220\nlength = 3050\nquantity = 4\nedge_trim = 10\ngap = "
                        "4\ncost = 31.5\n[[stock]]\nwidth = 1000\nlength = \"30 m\"\nform = \"roll\"\n",
                    "job.toml", job_schema());
  const std::vector<BoardStock> stock = board_stock(job.lists.at("stock"), job.units, "job.toml");
  ASSERT_EQ(stock.size(), 2u);
  EXPECT_EQ(stock[0].name, "board");
  EXPECT_EQ(stock[0].quantity, 4);
  for (const double edge : {stock[0].trim.start, stock[0].trim.end, stock[0].trim.below, stock[0].trim.above})
    EXPECT_EQ(edge, 10.0);
  EXPECT_EQ(stock[0].cost, 31.5);
  EXPECT_FALSE(stock[0].roll);
  EXPECT_TRUE(stock[1].roll);
  EXPECT_EQ(stock[1].length, 30000.0);
  EXPECT_FALSE(stock[1].quantity);
  EXPECT_EQ(stock[1].name, "1000 x 30000 mm");
}

TEST(Stock, ASingleTableWillDo) {
  std::string text = k_head;
  text.replace(text.find("[[stock]]"), 9, "[stock]");
  EXPECT_EQ(said(text + "width = 1220\nlength = 3050\n"), "(taken)");
}

TEST(Stock, MistakesNameFileLineAndKey) {
  const auto expect = [&](const std::string& keys, const std::vector<std::string>& words) {
    const std::string message = said(k_head + keys);
    for (const std::string& word : words) EXPECT_NE(message.find(word), std::string::npos) << message;
  };
  expect("width = 1220\n", {"job.toml:10", "length", "is missing"});
  expect("width = 0\nlength = 3050\n", {"job.toml:11", "width = 0", "50 mm"});
  expect("width = 1220\nlength = 3050\nform = \"slab\"\n", {"job.toml:13", "form = slab", "sheet", "roll"});
  expect("width = 1220\nlength = 3050\nquantity = -1\n", {"job.toml:13", "quantity = -1"});
  expect("width = 1220\nlenght = 3050\n", {"job.toml:12", "lenght", "length"});
  expect("width = 100\nlength = 3050\nedge_trim = 50\n",
         {"job.toml:13", "edge_trim = 50", "under 50 mm", "nothing is left"});
}

TEST(Stock, APieceThatFitsNoneIsNamedWithItsSize) {
  const BoardPlan plan =
      planned(parts_of("straight", support::with(k_duct, {{"tag", "LONG"}, {"length", "3m"}})) +
                  parts_of("straight", support::with(k_duct, {{"tag", "SHORT"}})),
              {sheet(1220, 3050), sheet(1000, 2000)});
  EXPECT_EQ(complaints(plan),
            "LONG/1: piece = 1237.59 mm around by 3000 mm along: fits no stock: the board bends only around "
            "the duct, so "
            "it cannot be turned (allowed: at most 3050 mm around by 1220 mm along on stock 1220 x 3050, "
            "2000 mm around "
            "by 1000 mm along on stock 1000 x 2000)\n");
  // the other one is placed all the same
  ASSERT_EQ(plan.boards.size(), 1u);
  EXPECT_EQ(plan.parts[plan.boards[0].pieces.at(0).part].tag, "SHORT");
}

TEST(Stock, WhatIsUsedUpIsSaid) {
  BoardStock stock = sheet(1000, 2000);
  stock.quantity = 2;
  const BoardPlan plan = planned(parts_of("straight", support::with(k_duct, {{"tag", "S"}}), 3), {stock});
  EXPECT_EQ(plan.boards.size(), 2u);
  EXPECT_NE(complaints(plan).find("S/1: piece"), std::string::npos);
  EXPECT_NE(complaints(plan).find("the stock is used up: 1 of 3 left over"), std::string::npos)
      << complaints(plan);
}

TEST(Stock, OneLimitHoldsForAllThicknesses) {
  BoardStock stock = sheet(1000, 2000);
  stock.quantity = 1;
  const BoardPlan plan =
      planned(parts_of("straight", support::with(k_duct, {{"tag", "THIN"}})) +
                  parts_of("straight", support::with(k_duct, {{"tag", "THICK"}, {"thickness", "50mm"}})),
              {stock});
  EXPECT_EQ(plan.boards.size(), 1u);
  EXPECT_EQ(plan.problems.size(), 1u) << complaints(plan);
}

TEST(Stock, OfAnotherThicknessIsNotTaken) {
  BoardStock thick = sheet(1220, 3050);
  thick.thickness = 50.0;
  BoardPlan plan = planned(parts_of("straight", k_duct), {thick});
  EXPECT_TRUE(plan.boards.empty());
  EXPECT_NE(complaints(plan).find("no stock is of this thickness"), std::string::npos) << complaints(plan);
  BoardStock thin = sheet(1220, 3050);
  thin.thickness = 25.0;
  plan = planned(parts_of("straight", k_duct), {thick, thin});
  ASSERT_EQ(plan.boards.size(), 1u);
  EXPECT_EQ(plan.boards[0].stock, 1u);
}

// Pieces never share a board with others of another thickness, density or face up.
TEST(Stock, OnlyLikeSharesABoard) {
  const auto small = [&](const char* tag, support::Flags more) {
    return parts_of(
        "straight",
        support::with(support::with({{"diameter", "100mm"}, {"length", "100mm"}, {"thickness", "25mm"}},
                                    {{"tag", tag}}),
                      more));
  };
  const BoardPlan plan = planned(small("A", {}) + small("B", {}) + small("C", {{"thickness", "30mm"}}) +
                                     small("D", {{"density", "60"}}) + small("E", {{"face_up", "air"}}),
                                 {sheet(1220, 3050)});
  ASSERT_EQ(plan.boards.size(), 4u);
  for (const PlannedBoard& board : plan.boards)
    for (const PlacedPiece& piece : board.pieces) {
      EXPECT_EQ(plan.parts[piece.part].thickness, board.thickness);
      EXPECT_EQ(plan.parts[piece.part].density, board.density);
      EXPECT_EQ(plan.parts[piece.part].face_up, board.face_up);
    }
}

TEST(Stock, NoneIsAMistake) {
  try {
    planned(parts_of("straight", k_duct), {});
    FAIL();
  } catch (const InputError& error) {
    EXPECT_NE(std::string(error.what()).find("--stock-width"), std::string::npos) << error.what();
  }
}

// An elbow's blank that is too wide gives way to its pieces.
TEST(Stock, ABlankThatFitsNoneIsTakenApart) {
  const support::Flags elbow{{"diameter", "600mm"},
                             {"angle", "90"},
                             {"pieces", "5"},
                             {"radius_ratio", "1.5"},
                             {"thickness", "25mm"}};
  const BoardPlan whole = planned(parts_of("elbow", elbow), {sheet(1600, 3000)});
  ASSERT_EQ(whole.boards.size(), 1u);
  EXPECT_EQ(whole.boards[0].pieces.size(), 1u);
  const BoardPlan apart = planned(parts_of("elbow", elbow), {sheet(1220, 3000)});
  EXPECT_EQ(complaints(apart), "");
  std::size_t pieces = 0;
  for (const PlannedBoard& board : apart.boards) pieces += board.pieces.size();
  EXPECT_EQ(pieces, 5u);
  EXPECT_NEAR(apart.piece_area, whole.piece_area, 0.05 * whole.piece_area);
}
