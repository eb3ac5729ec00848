// What suits boards to a table: the knife at corners, zero and turn, layers, trim of each edge, the order of
// work.
#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <sstream>

#include "boards/jobs.hpp"
#include "corners.hpp"
#include "linerwright/units/error.hpp"

using namespace linerwright;

namespace {

const Box k_board{{0.0, 0.0}, {1000.0, 1000.0}};

Knife at_corners(Corner corner, double past = 0.0) {
  Knife knife = plain_knife();
  knife.corner = corner;
  knife.past = past;
  return knife;
}

// The way around a ring from the middle of its first edge on.
std::vector<Vec2> way_around(const Ring& ring) {
  std::vector<Vec2> way{0.5 * (ring[0] + ring[1])};
  for (std::size_t i = 1; i <= ring.size(); ++i) way.push_back(ring[i % ring.size()]);
  way.push_back(way.front());
  return way;
}

BoardStock trimmed_sheet(double gap) {
  BoardStock stock = sheet(1220, 3050);
  stock.gap = gap;
  stock.trim = 6.0;
  return stock;
}

BoardPlan plan_with(const Knife& knife, const BoardOptions& options, double gap = 4.0) {
  return board_plan(mixed(), {trimmed_sheet(gap)}, knife, options, Units::metric);
}

void expect_clean(const BoardPlan& plan, const DxfOptions& options) {
  for (std::size_t b = 0; b < plan.boards.size(); ++b) {
    std::istringstream in(board_dxf(plan, b, options));  // throws where its audit finds anything
    const DxfFile file = read_dxf(in, "board");
    EXPECT_TRUE(audit_dxf(file, board_expectations(plan, b, options)).empty());
  }
}

}  // namespace

TEST(Corners, ASquareIsCutInFourStretchesThatRunOnIntoWaste) {
  const Ring square{{100, 100}, {300, 100}, {300, 300}, {100, 300}};
  const auto stretches =
      parted_at_corners(way_around(square), {square, {}}, at_corners(Corner::run_past, 3.0), k_board);
  ASSERT_EQ(stretches.size(), 4u);
  for (const CutStretch& stretch : stretches) {
    ASSERT_EQ(stretch.past, 3.0);
    // 200 mm of edge, from corner to corner by way of the start in its middle for one of them, and 3 mm more
    EXPECT_NEAR(polyline_length(stretch.line.points, false), 203.0, 1e-9);
    EXPECT_FALSE(point_in_polygon(stretch.line.points.back(), square));
  }
  for (const CutStretch& stretch :
       parted_at_corners(way_around(square), {square, {}}, at_corners(Corner::stop), k_board))
    EXPECT_NEAR(polyline_length(stretch.line.points, false), 200.0, 1e-9);
}

TEST(Corners, TheKnifeNeverRunsIntoThePieceNorOffTheBoard) {
  // an L, whose corner at (200, 200) is one of its inside
  const Ring ell{{100, 100}, {300, 100}, {300, 200}, {200, 200}, {200, 300}, {100, 300}};
  int stopped = 0;
  for (const CutStretch& stretch :
       parted_at_corners(way_around(ell), {ell, {}}, at_corners(Corner::run_past, 3.0), k_board))
    stopped += stretch.past == 0.0 ? 1 : 0;
  EXPECT_EQ(stopped, 1);
  // of a hole all corners are of its waste's inside: straight on lies the piece
  const Ring outside{{50, 50}, {350, 50}, {350, 350}, {50, 350}};
  const Ring hole{{100, 100}, {100, 300}, {300, 300}, {300, 100}};
  const auto of_hole =
      parted_at_corners(way_around(hole), {outside, {hole}}, at_corners(Corner::run_past, 3.0), k_board);
  ASSERT_EQ(of_hole.size(), 4u);
  for (const CutStretch& stretch : of_hole) EXPECT_EQ(stretch.past, 0.0);
  // a square in the board's corner has 1 mm to run on at two of its edges
  const Ring square{{1, 1}, {201, 1}, {201, 201}, {1, 201}};
  double least = 3.0;
  for (const CutStretch& stretch :
       parted_at_corners(way_around(square), {square, {}}, at_corners(Corner::run_past, 3.0), k_board))
    least = std::min(least, stretch.past);
  EXPECT_LE(least, 1.0);
}

TEST(Corners, WhatHasNoneStaysOneClosedLine) {
  Ring circle;
  for (int i = 0; i < 60; ++i)
    circle.push_back({500 + 100 * std::cos(k_pi * i / 30), 500 + 100 * std::sin(k_pi * i / 30)});
  EXPECT_TRUE(parted_at_corners(way_around(circle), {circle, {}}, at_corners(Corner::stop), k_board).empty());
}

TEST(Corners, BoardsPassTheirAuditAndLoseNoCut) {
  const BoardPlan plain = plan_with(plain_knife(), swift());
  for (const Knife& knife : {at_corners(Corner::stop), at_corners(Corner::run_past, 3.0)}) {
    const BoardPlan plan = plan_with(knife, swift());
    expect_clean(plan, {});
    ASSERT_EQ(plan.boards.size(), plain.boards.size());
    for (std::size_t b = 0; b < plan.boards.size(); ++b) {
      EXPECT_GT(plan.boards[b].knife.size(), plain.boards[b].knife.size());
      EXPECT_NEAR(plan.boards[b].knife_length - plan.boards[b].past, plain.boards[b].knife_length, 1e-6);
      EXPECT_EQ(plan.boards[b].past > 0.0, knife.past > 0.0);
    }
  }
}

TEST(Corners, RunningPastNeedsAsMuchGap) {
  EXPECT_NO_THROW(require_room_past(at_corners(Corner::run_past, 3.0), {trimmed_sheet(3.0)}, swift(),
                                    Units::metric, "job.toml"));
  EXPECT_THROW(require_room_past(at_corners(Corner::run_past, 3.0), {trimmed_sheet(2.0)}, swift(),
                                 Units::metric, "job.toml"),
               InputError);
}

TEST(Zero, EveryCornerAndTurnIsTheSameBoard) {
  for (const bool right : {false, true})
    for (const bool upper : {false, true})
      for (int turns = 0; turns < 4; ++turns) {
        BoardOptions options = swift();
        options.zero = {right, upper, turns};
        const BoardPlan plan = plan_with(plain_knife(), options);
        expect_clean(plan, {});
        const PlannedBoard& board = plan.boards.front();
        const Vec2 corner{right ? board.length : 0.0, upper ? 1220.0 : 0.0};
        const Vec2 zero = options.zero.on_table(corner, board.length, 1220.0);
        EXPECT_EQ(norm(zero), 0.0);
        // the board's length points along the table's x, turned by quarters
        const Vec2 along = options.zero.on_table(corner + Vec2{1.0, 0.0}, board.length, 1220.0);
        EXPECT_NEAR(along.x, std::cos(0.5 * k_pi * turns), 1e-12);
        EXPECT_NEAR(along.y, std::sin(0.5 * k_pi * turns), 1e-12);
        const Vec2 p{123.0, 45.0};
        EXPECT_LT(distance(options.zero.on_board(options.zero.on_table(p, board.length, 1220.0), board.length,
                                                 1220.0),
                           p),
                  1e-9);
      }
}

TEST(Layers, AreWrittenUnderTheUsersNamesAndReadAsOurs) {
  const BoardPlan plan = plan_with(plain_knife(), swift());
  DxfOptions options;
  options.layers.names = {{Layer::cut, "BLADE", 5}, {Layer::mark, "PEN", {}}};
  options.layers.order = {Layer::label, Layer::mark};
  expect_clean(plan, options);
  const std::string own = board_dxf(plan, 0, options);
  EXPECT_NE(own.find("BLADE\n"), std::string::npos);
  EXPECT_EQ(own.find("\nCUT\n"), std::string::npos);
  EXPECT_EQ(own.find("\nMARK\n"), std::string::npos);
  std::istringstream in(own);
  std::istringstream usual_in(board_dxf(plan, 0, {}));
  const DxfFile file = read_dxf(in, "own");
  const DxfFile usual_file = read_dxf(usual_in, "usual");
  std::map<std::string, std::size_t> found, expected;
  for (const DxfPolyline& line : file.lines) ++found[line.layer];
  for (const DxfPolyline& line : usual_file.lines) ++expected[line.layer];
  EXPECT_EQ(found, expected);
  EXPECT_EQ(file.lines.front().layer, "LABEL");
  for (const DxfLayer& layer : file.layers) EXPECT_EQ(layer.colour == 5, layer.name == "CUT") << layer.name;
}

TEST(Layers, NamesThatDoNotDoAreRefused) {
  const auto said = [](const std::string& keys) -> std::string {
    try {
      const Job job = read_job_text("[dxf.layers]\n" + keys +
                                        "[[fitting]]\ntag = \"A\"\nkind = \"straight\"\ndiameter = "
                                        "\"400mm\"\nlength = \"1m\"\n[liner]\nthickness = \"25mm\"\n",
                                    "job.toml", job_schema());
      const LayerTable layers = dxf_layers(&job.tables.at("dxf"), "job.toml");
      return layers.of(Layer::cut) == nullptr ? "none" : layers.of(Layer::cut)->name;
    } catch (const InputError& error) {
      return error.what();
    }
  };
  EXPECT_EQ(said("order = \"CUT\"\n"), "none");
  EXPECT_EQ(said("CUT = \"KNIFE, 5\"\n"), "KNIFE");
  const std::vector<std::pair<std::string, std::string>> wrong{
      {"CUT = \"MARK\"\n", "is the name of another layer"},
      {"CUT = \"a b/c\"\n", "is no name"},
      {"CUT = \"KNIFE, 256\"\n", "names no colour"},
      {"CUT = \"KNIFE, red\"\n", "names no colour"},
      {"CUT = \"A\"\nMARK = \"A\"\n", "could not be told apart"},
      {"order = \"CUT, CUT\"\n", "there twice"},
      {"order = \"BLADE\"\n", "no layer of these files"},
      {"BLADE = \"CUT\"\n", "BLADE"}};
  for (const auto& [keys, words] : wrong) {
    const std::string message = said(keys);
    EXPECT_NE(message.find(words), std::string::npos) << keys << message;
    EXPECT_NE(message.find("job.toml:"), std::string::npos) << message;
  }
}

TEST(Trim, IsKeptAlongEachEdge) {
  BoardStock stock = trimmed_sheet(3.0);
  stock.trim = {40.0, 5.0, 0.0, 30.0};
  const BoardPlan plan = planned(mixed(), {stock});
  for (const PlannedBoard& board : plan.boards)
    for (const PlacedPiece& piece : board.pieces) {
      EXPECT_GE(piece.box.low.x, 40.0 - k_nest_rounding);
      EXPECT_LE(piece.box.high.x, 3045.0 + k_nest_rounding);
      EXPECT_GE(piece.box.low.y, 0.0 - k_nest_rounding);
      EXPECT_LE(piece.box.high.y, 1190.0 + k_nest_rounding);
    }
  // what fits 1220 - 30 mm to the last goes onto the board, and a millimetre more does not
  for (const double length : {1190.0, 1191.0}) {
    const BoardPlan one = planned(parts_of("straight", {{"tag", "A"},
                                                        {"diameter", "300mm"},
                                                        {"length", trimmed(length, 1) + "mm"},
                                                        {"thickness", "25mm"}}),
                                  {stock});
    EXPECT_EQ(one.boards.size(), length < 1190.5 ? 1u : 0u);
  }
}

TEST(Sequence, ByFittingCompletesOneSooner) {
  // boards of one straight's room: the order of boards and pieces is all that differs
  const auto of = [](const char* tag, const char* diameter) {
    return parts_of("straight",
                    {{"tag", tag}, {"diameter", diameter}, {"length", "550mm"}, {"thickness", "25mm"}}, 5);
  };
  const auto completed = [](const BoardPlan& plan) {
    std::map<std::string, long> left;
    for (const PlannedBoard& board : plan.boards)
      for (const PlacedPiece& piece : board.pieces) ++left[plan.parts[piece.part].tag];
    long cut = 0, sum = 0;  // of pieces cut until each fitting is complete
    for (const PlannedBoard& board : plan.boards)
      for (const PlacedPiece& piece : board.pieces) {
        ++cut;
        if (--left[plan.parts[piece.part].tag] == 0) sum += cut;
      }
    return sum;
  };
  const std::vector<BoardPart> parts = of("A", "300mm") + of("B", "310mm") + of("C", "320mm");
  BoardOptions options = swift();
  const BoardPlan by_board = planned(parts, {trimmed_sheet(3.0)}, options);
  options.by_fitting = true;
  const BoardPlan by_fitting = planned(parts, {trimmed_sheet(3.0)}, options);
  ASSERT_EQ(by_fitting.boards.size(), by_board.boards.size());
  EXPECT_LE(completed(by_fitting), completed(by_board));
  expect_clean(by_fitting, {});
}

TEST(Remnant, IsTakenBeforeNewBoardsAndOnlyForItsLiner) {
  BoardStock remnant = sheet(700, 1200);
  remnant.name = "remnant R-1";
  remnant.remnant = "R-1";
  remnant.quantity = 1;
  const std::vector<BoardPart> parts = parts_of(
      "straight", {{"tag", "A"}, {"diameter", "300mm"}, {"length", "600mm"}, {"thickness", "25mm"}}, 2);
  remnant.thickness = 25.0;
  remnant.density = parts.front().density;
  const BoardPlan plan = planned(parts, {trimmed_sheet(3.0), remnant});
  ASSERT_EQ(plan.boards.size(), 2u);  // one of the two has no room on it
  EXPECT_EQ(plan.boards[0].stock + plan.boards[1].stock, 1u);
  remnant.density = 2.0 * parts.front().density;
  for (const PlannedBoard& board : planned(parts, {trimmed_sheet(3.0), remnant}).boards)
    EXPECT_EQ(board.stock, 0u);
}

TEST(Remnant, HasTheSameNameOnlyOnTheSameBoards) {
  BoardOptions options = swift();
  options.job = "one";
  const auto ids = [&](double gap) {
    std::vector<std::string> all;
    for (const PlannedBoard& board : plan_with(plain_knife(), options, gap).boards)
      for (const BoardRemnant& remnant : board.remnants) all.push_back(remnant.id);
    return all;
  };
  const std::vector<std::string> first = ids(4.0);
  ASSERT_FALSE(first.empty());
  EXPECT_EQ(ids(4.0), first);
  EXPECT_NE(ids(5.0), first);
  options.job = "another";
  EXPECT_NE(ids(4.0), first);
}
