// Ways, times and sums of boards, worked out by hand.
#include "ways.hpp"

#include <gtest/gtest.h>

namespace linerwright::asked {
namespace {

std::string line(const std::string& layer, bool closed, const std::vector<Point>& points) {
  std::string text = "0\nLWPOLYLINE\n8\n" + layer + "\n90\n" + std::to_string(points.size()) + "\n70\n" +
                     (closed ? "1" : "0") + "\n";
  for (const Point& point : points)
    text += "10\n" + std::to_string(point[0]) + "\n20\n" + std::to_string(point[1]) + "\n";
  return text;
}

// A pen's line of 30 mm from (30, 40), 50 mm off the board's zero; then, 80 mm on, a square of 100 mm.
std::string drawing(double scale = 100.0, bool closed_scale = false, double up = 10.0) {
  return "0\nSECTION\n2\nENTITIES\n" + line("MARK", false, {{30, 40}, {60, 40}}) +
         line("CUT", true, {{140, 40}, {240, 40}, {240, 140}, {140, 140}}) +
         line("STOCK", true, {{0, 0}, {1000, 0}, {1000, 500}, {0, 500}}) +
         line("SCALE", closed_scale, {{0, up}, {scale, up}}) + "0\nENDSEC\n0\nEOF\n";
}

MadeBoards plan() {
  MadeBoards made;
  MadeBoard board;
  board.stock = "S";
  board.width = 500;
  board.length = 1000;
  board.area = 10000;
  board.yield = 0.02;
  board.knife = 400;
  board.pen = 30;
  board.travel = 130;
  board.cost = 12.5;
  // 0.4 m at 0.25 m/s, 0.03 m at 0.5 m/s, 0.13 m at 1 m/s, 2 s for the cut, 1 s for the line, 60 s
  board.time = 1.6 + 0.06 + 0.13 + 2.0 + 1.0 + 60.0;
  made.boards = {board};
  made.knife = {{"cut_speed", 0.25}, {"mark_speed", 0.5}, {"travel_speed", 1.0},
                {"entry_time", 2.0}, {"mark_time", 1.0},  {"board_time", 60.0}};
  made.stock_area = 500000;
  made.piece_area = 10000;
  made.yield = 0.02;
  return made;
}

bool passes(const MadeBoards& made, const Files& above = {}, const std::string& board = drawing()) {
  std::vector<Finding> findings;
  const MadeFitting fitting;
  prove_ways(made, {{"board-1.dxf", board}}, &fitting, findings);
  prove_stock(made, above, findings);
  EXPECT_EQ(findings.size(), 4u);
  for (const Finding& finding : findings)
    if (!finding.pass) return false;
  return true;
}

TEST(Ways, FollowTheDrawing) {
  EXPECT_TRUE(passes(plan()));
  for (double MadeBoard::*figure : {&MadeBoard::knife, &MadeBoard::pen, &MadeBoard::travel, &MadeBoard::time,
                                    &MadeBoard::area, &MadeBoard::yield, &MadeBoard::length}) {
    MadeBoards other = plan();
    other.boards[0].*figure *= 1.01;
    EXPECT_FALSE(passes(other));
  }
  for (double MadeBoards::*figure : {&MadeBoards::stock_area, &MadeBoards::piece_area, &MadeBoards::yield}) {
    MadeBoards other = plan();
    other.*figure *= 1.01;
    EXPECT_FALSE(passes(other));
  }
}

TEST(Ways, FramesAreDrawn) {
  EXPECT_TRUE(passes(plan(), {}, drawing(101.6)));
  EXPECT_FALSE(passes(plan(), {}, drawing(100.1)));
  EXPECT_FALSE(passes(plan(), {}, drawing(100.0, true)));
  EXPECT_FALSE(passes(plan(), {}, drawing(100.0, false, -10.0)));  // off the board
}

TEST(Ways, SumsOfTotals) {
  const auto totals = [](const std::string& cost, const std::string& all = ", \"cost\": 12.5") {
    return "{\"fittings\": [], \"rules\": {\"metal_density\": 7850}, \"stock\": [{\"name\": \"S\", "
           "\"boards\": "
           "1, \"stock_area\": 500000, \"piece_area\": 10000, \"knife_length\": 400, \"cutting_time\": "
           "64.79, "
           "\"cost\": " +
           cost +
           "}], \"boards\": {\"boards\": 1, \"stock_area\": 500000, \"piece_area\": 10000, "
           "\"knife_length\": 400, \"cutting_time\": 64.79" +
           all + "}}";
  };
  const auto table = [](const std::string& cost) {
    return "what,kind,count,cost\nS,stock,1,12.5\nall,boards,1," + cost + "\n";
  };
  EXPECT_TRUE(passes(plan(), {{"totals.json", totals("12.5")}, {"totals.csv", table("12.5")}}));
  EXPECT_FALSE(passes(plan(), {{"totals.json", totals("0")}}));
  // of all boards: another cost, none, and the old figures with another yield
  EXPECT_FALSE(passes(plan(), {{"totals.json", totals("12.5", ", \"cost\": 0")}}));
  EXPECT_FALSE(passes(plan(), {{"totals.json", totals("12.5", "")}}));
  EXPECT_FALSE(passes(plan(), {{"totals.json", totals("12.5")}, {"totals.csv", table("0")}}));
  EXPECT_FALSE(passes(plan(), {{"totals.json", totals("12.5")}, {"totals.csv", table("")}}));
}

// By what the boards say of the fittings that they were planned for a later change is noticed.
TEST(Ways, WhatBoardsWerePlannedFor) {
  const auto right = [](const std::string& of, bool older = false) {
    const Files fitting{
        {"fitting.json",
         "{\"tag\": \"S\", \"kind\": \"straight\", \"count\": 1, \"state\": \"a\", \"written\": {}, "
         "\"parameters\": {}, \"pieces\": [], \"bore\": {}, \"facts\": [], "
         "\"dxf\": {\"version\": \"r2000\", \"units\": \"mm\"}}"}};
    const Files boards{
        {"boards.json", "{\"of\": [" + of +
                            "], \"stock_area\": 0, \"piece_area\": 0, \"yield\": 0, \"bound\": 0, \"knife\": "
                            "{\"cut_speed\": 1, \"mark_speed\": 1, \"travel_speed\": 1, "
                            "\"entry_time\": 1, \"mark_time\": 1, \"board_time\": 1}, "
                            "\"boards\": []}"}};
    const Files above{{"totals.json", std::string("{\"fittings\": [], \"boards_older\": ") +
                                          (older ? "true" : "false") +
                                          ", \"rules\": {\"metal_density\": 7850}}"}};
    for (const Finding& finding : prove_job_asked({fitting}, boards, above)) {
      EXPECT_NE(finding.unit, "unread") << finding.detail;
      if (finding.name == "boards' pieces") return finding.pass;
    }
    return true;
  };
  const std::string one = "{\"tag\": \"S\", \"state\": \"a\"}";
  const std::string other = "{\"tag\": \"S\", \"state\": \"b\"}";
  EXPECT_TRUE(right(one));
  EXPECT_FALSE(right(other));
  EXPECT_FALSE(right(""));
  EXPECT_TRUE(right(other, true));
  EXPECT_FALSE(right(one + ", " + other, true));
}

}  // namespace
}  // namespace linerwright::asked
