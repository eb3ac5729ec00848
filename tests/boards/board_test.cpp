// A board's file: audited, read back, the same bytes every time.
#include <gtest/gtest.h>

#include <algorithm>
#include <set>
#include <sstream>

#include "boards/jobs.hpp"
#include "linerwright/report/cut_list.hpp"
#include "linerwright/units/json.hpp"

using namespace linerwright;

namespace {

BoardStock usual() {
  BoardStock stock = sheet(1220, 3050);
  stock.gap = 3.0;
  return stock;
}

DxfFile read_back(const std::string& text) {
  std::istringstream in(text);
  return read_dxf(in, "board.dxf");
}

std::string everything(const BoardPlan& plan) {
  std::string all = cut_list_csv(plan) + boards_csv(plan) + boards_json(plan) + boards_table(plan);
  for (std::size_t b = 0; b < plan.boards.size(); ++b) all += board_dxf(plan, b, {});
  return all;
}

}  // namespace

TEST(Board, FilesPassTheAuditInEveryForm) {
  const BoardPlan plan = planned(mixed(), {usual()});
  ASSERT_GE(plan.boards.size(), 2u);
  for (const DxfVersion version : {DxfVersion::r2000, DxfVersion::r12})
    for (const DxfUnits units : {DxfUnits::millimetre, DxfUnits::inch})
      for (const TextStyle text : {TextStyle::strokes, TextStyle::entities})
        for (const bool cut_only : {false, true}) {
          DxfOptions options;
          options.version = version;
          options.units = units;
          options.text = text;
          options.cut_only = cut_only;
          for (std::size_t b = 0; b < plan.boards.size(); ++b) {
            const DxfFile file = read_back(board_dxf(plan, b, options));
            for (const Finding& finding : audit_dxf(file, board_expectations(plan, b, options)))
              ADD_FAILURE() << one_line(finding, "board");
            EXPECT_EQ(file.version, version == DxfVersion::r12 ? "AC1009" : "AC1015");
          }
        }
}

TEST(Board, HoldsTheStockTheCutsAndTheLabels) {
  const BoardPlan plan = planned(mixed(), {usual()});
  for (std::size_t b = 0; b < plan.boards.size(); ++b) {
    const DxfFile file = read_back(board_dxf(plan, b, {}));
    double cut = 0.0;
    std::size_t first_cut = file.lines.size(), last_label = 0;
    const DxfPolyline* stock = nullptr;
    for (std::size_t i = 0; i < file.lines.size(); ++i) {
      const DxfPolyline& line = file.lines[i];
      if (line.layer == "CUT") {
        cut += polyline_length(line.points, line.closed);
        first_cut = std::min(first_cut, i);
      }
      if (line.layer == "STOCK" && line.closed) stock = &line;
      if (line.layer == "MARK") last_label = i;
    }
    ASSERT_NE(stock, nullptr);
    const Box edge = bounding_box(stock->points).value();
    EXPECT_NEAR(edge.high.x, 3050.0, 1e-3);
    EXPECT_NEAR(edge.high.y, 1220.0, 1e-3);
    EXPECT_NEAR(cut, plan.boards[b].knife_length, 0.01);
    EXPECT_LT(last_label, first_cut);
  }
}

TEST(Board, LabelsSayWhatTheOperatorAndTheInstallerNeed) {
  const BoardPlan plan = planned(mixed(), {usual()});
  std::string all;
  std::size_t arrows = 0;
  for (std::size_t b = 0; b < plan.boards.size(); ++b) {
    for (const Text& text : plan.boards[b].texts) all += text.text + "\n";
    for (const PenLine& pen : plan.boards[b].pen)
      arrows += !pen.of_text && pen.line.layer == Layer::label ? 1 : 0;
  }
  for (const char* words : {"S-1/1  1/2", "S-1/1  2/2", "E-1/3", "T-1/body  2/2", "duct face up",
                            "seam: ", "next: 2, 4", "liner 25 mm", "flow", "heel"})
    EXPECT_NE(all.find(words), std::string::npos) << words << " is not in\n" << all;
  // shaft and head on each of 2 straight pieces, 5 gores and 4 pieces of the tees
  EXPECT_EQ(arrows, 2u * (2 + 5 + 4));
}

// A turned piece's arrow turns with it, its words stay upright.
TEST(Board, ATurnedPieceReadsUpright) {
  const std::vector<BoardPart> parts = parts_of(
      "elbow", {{"tag", "E"}, {"diameter", "300mm"}, {"angle", "60"}, {"pieces", "3"}, {"thickness", "25mm"}},
      6, true);
  const BoardPlan plan = planned(parts, {usual()});
  std::size_t turned = 0, up = 0, down = 0;
  for (const PlannedBoard& board : plan.boards) {
    for (const PlacedPiece& piece : board.pieces) turned += piece.turned ? 1 : 0;
    for (const Text& text : board.texts) EXPECT_LE(std::fabs(text.angle), 0.5 * k_pi + 1e-9);
    for (const PenLine& pen : board.pen) {
      if (pen.of_text || pen.line.layer != Layer::label || pen.line.points.size() != 3) continue;
      // the head's middle point is the tip
      (pen.line.points[1].y > pen.line.points[0].y ? up : down) += 1;
    }
  }
  ASSERT_GT(turned, 0u);
  EXPECT_EQ(down, turned);
  EXPECT_EQ(up + down, 18u);
}

TEST(Board, SameJobSameBytes) {
  BoardOptions one = swift(), two = swift();
  one.effort = two.effort = 0.2;
  one.threads = 1;
  two.threads = 2;
  const std::string first = everything(planned(mixed(), {usual()}, one));
  EXPECT_EQ(first, everything(planned(mixed(), {usual()}, two)));
  EXPECT_EQ(first, everything(planned(mixed(), {usual()}, two)));
}

// What is allowed of boards, edges shared and cuts that run on, does not hide what is wrong.
TEST(Board, SpoiltBoardsAreSeen) {
  BoardStock close = usual();
  close.gap = 0.0;
  const BoardPlan plan =
      planned(parts_of("straight",
                       {{"tag", "S"}, {"diameter", "300mm"}, {"length", "600mm"}, {"thickness", "25mm"}}, 4),
              {close});
  ASSERT_EQ(plan.boards.size(), 1u);
  ASSERT_FALSE(plan.boards[0].opened.empty());
  const Drawing good = board_drawing(plan, 0, TextStyle::strokes);
  const auto codes = [&](const Drawing& drawing) {
    std::ostringstream out;
    write_dxf(out, drawing);
    std::set<std::string> found;
    for (const Finding& finding : audit_dxf(read_back(out.str()), board_expectations(plan, 0, {})))
      found.insert(finding.code);
    return found;
  };
  EXPECT_TRUE(codes(good).empty());
  const auto first = [](Drawing& drawing, Layer layer, bool closed) {
    return std::find_if(drawing.lines.begin(), drawing.lines.end(),
                        [&](const Polyline& line) { return line.layer == layer && line.closed == closed; });
  };
  Drawing moved = good;  // a piece reaches 1 mm into its neighbours
  std::vector<Vec2>& whole = first(moved, Layer::cut, true)->points;
  const Box own = bounding_box(whole).value();
  const Box other = bounding_box(plan.boards[0].opened.front()).value();
  const Vec2 toward = (other.low + other.high) - (own.low + own.high);
  for (Vec2& p : whole) p = p + Vec2{toward.x < 0.0 ? -1.0 : 1.0, toward.y < 0.0 ? -1.0 : 1.0};
  EXPECT_EQ(codes(moved).count("D108"), 1u);
  Drawing twice = good;
  twice.lines.push_back(*first(twice, Layer::cut, false));
  EXPECT_EQ(codes(twice).count("D104"), 1u);
  Drawing label = good;  // a label's stroke is off the pieces
  for (Vec2& p : first(label, Layer::label, false)->points) p = p + Vec2{0.0, 5000.0};
  EXPECT_EQ(codes(label).count("D110"), 1u);
  Drawing turned = good;
  std::vector<Vec2>& ring = first(turned, Layer::cut, true)->points;
  std::reverse(ring.begin(), ring.end());
  EXPECT_EQ(codes(turned).count("D102"), 1u);
}

// The elbow's shared cuts are inside its blank and come before its edge.
TEST(Board, ABlankIsCutAcrossBeforeItIsCutFree) {
  const BoardPlan plan = planned(
      parts_of(
          "elbow",
          {{"tag", "E"}, {"diameter", "315mm"}, {"angle", "90"}, {"pieces", "5"}, {"thickness", "25mm"}}),
      {usual()});
  ASSERT_EQ(plan.boards.size(), 1u);
  const std::vector<Polyline>& knife = plan.boards[0].knife;
  ASSERT_EQ(knife.size(), 5u);
  for (std::size_t i = 0; i < 4; ++i) EXPECT_FALSE(knife[i].closed);
  EXPECT_TRUE(knife[4].closed);
}

TEST(Board, OvercutRunsOnOverTheBeginning) {
  Knife knife = plain_knife();
  const std::vector<BoardPart> part =
      parts_of("straight", {{"tag", "S"}, {"diameter", "300mm"}, {"length", "600mm"}, {"thickness", "25mm"}});
  const BoardPlan plain = board_plan(part, {usual()}, knife, swift(), Units::metric);
  knife.overcut = 5.0;
  const BoardPlan over = board_plan(part, {usual()}, knife, swift(), Units::metric);
  EXPECT_NEAR(over.boards.at(0).knife_length - plain.boards.at(0).knife_length, 5.0, 1e-6);
  const std::vector<Vec2>& line = over.boards[0].knife.at(0).points;
  EXPECT_FALSE(over.boards[0].knife[0].closed);
  EXPECT_NEAR(distance(line.back(), line.front()), 5.0, 1e-6);
  // and the file passes: the stretch cut twice is as long as was asked for
  EXPECT_NO_THROW(board_dxf(over, 0, {}));
}

TEST(Board, CodesAreDrawnWhereTheyFit) {
  BoardOptions options = swift();
  options.codes = true;
  const BoardPlan plain = planned(mixed(), {usual()});
  const BoardPlan coded = planned(mixed(), {usual()}, options);
  std::size_t more = 0;
  for (std::size_t b = 0; b < coded.boards.size(); ++b) {
    ASSERT_EQ(coded.boards[b].pieces.size(), plain.boards[b].pieces.size());
    more += coded.boards[b].pen.size() - plain.boards[b].pen.size();
    EXPECT_NO_THROW(board_dxf(coded, b, {}));
  }
  EXPECT_GT(more, 11u * 100u);
}

// A cost takes room in the table: sizes that are names are not shortened for it, the offcuts go below.
TEST(Board, TableKeepsSizesWhole) {
  BoardStock stock = usual();
  stock.name = "1219.2 x 3048.0 mm";
  stock.cost = 12345.67;
  const BoardPlan plan = planned(mixed(), {stock});
  const std::string table = boards_table(plan);
  EXPECT_NE(table.find("1219.2 x 3048.0 mm"), std::string::npos) << table;
  EXPECT_NE(table.find("12345.67"), std::string::npos) << table;
  EXPECT_NE(table.find("offcuts"), std::string::npos) << table;
  EXPECT_EQ(table.find("\xE2\x80\xA6"), std::string::npos) << table;
}
