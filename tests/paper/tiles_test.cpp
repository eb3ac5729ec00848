// Patterns on sheets of paper, and what paper there is.
#include "tiles.hpp"

#include <gtest/gtest.h>

#include <set>

#include "linerwright/units/error.hpp"

namespace linerwright {
namespace {

// A rectangle with nothing drawn but its edge.
Laid rectangle(double width, double height) {
  const Ring ring{{0.0, 0.0}, {width, 0.0}, {width, height}, {0.0, height}};
  return {{ring, {}}, {{true, ring}}};
}

std::set<std::string> names_of(const Tiling& tiling) {
  std::set<std::string> names;
  for (const Tile& tile : tiling.tiles) names.insert(tile.name);
  return names;
}

// A sheet of A4 takes 210 - 2 x 10 - 10 = 180 mm by 297 - 2 x 10 - 22 - 10 = 245 mm of a pattern.
TEST(Tiles, CellsFillTheSheetInsideMarginsHeadAndOverlap) {
  const Tiling tiling = tiling_of(rectangle(180.0, 245.0), paper_named("a4"));
  EXPECT_EQ(names_of(tiling), (std::set<std::string>{"A1"}));
  EXPECT_NEAR(tiling.cell.x, 180.0, 1e-9);
  EXPECT_NEAR(tiling.cell.y, 245.0, 1e-9);
  EXPECT_EQ(names_of(tiling_of(rectangle(180.1, 245.0), paper_named("a4"))).size(), 2U);
}

// 540 by 245 mm: three upright sheets, or 540/267 by 245/158 = 3 by 2 lying ones.
TEST(Tiles, TheWayRoundThatTakesFewerSheetsIsTaken) {
  const Tiling upright = tiling_of(rectangle(540.0, 245.0), paper_named("a4"));
  EXPECT_EQ(upright.tiles.size(), 3U);
  EXPECT_LT(upright.sheet.x, upright.sheet.y);
  const Tiling lying = tiling_of(rectangle(534.0, 158.0), paper_named("a4"));
  EXPECT_EQ(lying.tiles.size(), 2U);
  EXPECT_GT(lying.sheet.x, lying.sheet.y);
}

TEST(Tiles, SheetsWithoutALineAreLeftOut) {
  // 5 by 4 cells, of which the 3 by 2 in the middle show nothing
  const Tiling tiling = tiling_of(rectangle(5 * 180.0, 4 * 245.0), paper_named("a4"));
  EXPECT_EQ(tiling.columns, 5);
  EXPECT_EQ(tiling.rows, 4);
  EXPECT_EQ(tiling.tiles.size(), 20U - 6U);
  EXPECT_EQ(names_of(tiling).count("C2"), 0U);
  EXPECT_EQ(names_of(tiling).count("E4"), 1U);
}

TEST(Tiles, SheetsThatWouldFallApartAreKept) {
  // a hole in the middle of 7 by 7 cells reaches no edge: its sheet would lie alone
  Laid laid = rectangle(7 * 180.0, 7 * 245.0);
  const Vec2 middle{630.0, 857.5};
  const Ring hole{middle + Vec2{-20, -20}, middle + Vec2{-20, 20}, middle + Vec2{20, 20},
                  middle + Vec2{20, -20}};
  laid.board.holes.push_back(hole);
  laid.lines.push_back({true, hole});
  EXPECT_EQ(tiling_of(laid, paper_named("a4")).tiles.size(), 49U);
  // a mark from the edge to the hole holds it
  laid.lines.push_back({false, {middle, {630.0, 0.0}}});
  EXPECT_EQ(tiling_of(laid, paper_named("a4")).tiles.size(), 24U + 3U);
}

TEST(Tiles, NothingIsPrintedWhereThereIsNoBoard) {
  // an L: the upper right quarter of 4 by 2 cells is cut away
  const Ring ring{{0, 0}, {720, 0}, {720, 245}, {360, 245}, {360, 490}, {0, 490}};
  const Tiling tiling = tiling_of({{ring, {}}, {{true, ring}}}, paper_named("a4"));
  for (const char* name : {"C1", "D1"}) EXPECT_EQ(names_of(tiling).count(name), 0U);
  EXPECT_EQ(tiling.tiles.size(), 6U);
}

TEST(Tiles, TwentySixColumnsAreFollowedByTwoLetters) {
  const Tiling tiling = tiling_of(rectangle(28 * 267.0, 100.0), paper_named("a4"));
  EXPECT_EQ(tiling.columns, 28);
  EXPECT_EQ(names_of(tiling).count("Z1"), 1U);
  EXPECT_EQ(names_of(tiling).count("AA1"), 1U);
  EXPECT_EQ(names_of(tiling).count("AB1"), 1U);
}

// A roll takes the pattern along itself or across, whichever needs fewer strips, then less length.
TEST(Tiles, ARollIsUsedTheShortWay) {
  const Paper roll = paper_named("roll=914mm");
  const Tiling across = tiling_of(rectangle(800.0, 300.0), roll);
  EXPECT_FALSE(across.turned);
  EXPECT_EQ(across.tiles.size(), 1U);
  EXPECT_NEAR(across.sheet.x, 914.0, 1e-9);
  EXPECT_NEAR(across.sheet.y, 300.0 + 52.0, 0.01);  // margins, head, overlap
  const Tiling along = tiling_of(rectangle(1900.0, 500.0), roll);
  EXPECT_TRUE(along.turned);
  EXPECT_EQ(along.tiles.size(), 1U);
  EXPECT_NEAR(along.sheet.y, 1900.0 + 52.0, 0.01);
  // no sheet is longer than a PDF can be
  const Tiling longer = tiling_of(rectangle(12000.0, 500.0), roll);
  EXPECT_EQ(longer.tiles.size(), 3U);
  EXPECT_LT(longer.sheet.y, 5080.0);
}

TEST(Tiles, TheCellsCoverThePatternWithoutGaps) {
  for (const char* name : {"a4", "a3", "letter", "tabloid", "roll=24in"}) {
    const Laid laid = rectangle(1877.3, 645.9);
    const Tiling tiling = tiling_of(laid, paper_named(name));
    Region cells;
    std::vector<Region> all;
    for (const Tile& tile : tiling.tiles) {
      const auto [a, b] = tile.cell;
      all.push_back({{a, {b.x, a.y}, b, {a.x, b.y}}, {}});
    }
    const Laid drawn = tiling.turned ? quarter_turned(laid) : laid;
    // sheets in the middle may be left out: what matters is the edge
    const std::vector<Region> rim =
        subtracted({drawn.board}, offset({drawn.board}, -1.0, OffsetCorners::mitre));
    double missing = 0.0;
    for (const Region& rest : subtracted(rim, all)) missing += area(rest);
    EXPECT_LT(missing, 1e-3) << name;
  }
}

TEST(Paper, SizesAreThoseOfTheStandards) {
  // ISO 216: A4 210 x 297, A3 297 x 420 mm; ASME Y14.1: A 8.5 x 11, B 11 x 17 in
  EXPECT_EQ(paper_named("a4").size.x, 210.0);
  EXPECT_EQ(paper_named("a3").size.y, 420.0);
  EXPECT_NEAR(paper_named("letter").size.x, 215.9, 1e-9);
  EXPECT_NEAR(paper_named("tabloid").size.y, 431.8, 1e-9);
  EXPECT_NEAR(paper_named("roll=36in").size.x, 914.4, 1e-9);
  EXPECT_TRUE(paper_named("roll=914mm").roll);
}

TEST(Paper, WhatIsNoPaperIsRefused) {
  for (const char* name : {"", "a5", "A4 ", "roll", "roll=", "roll=36", "roll=1in", "roll=3m", "roll=36 foo"})
    EXPECT_THROW(paper_named(name), std::invalid_argument) << name;
}

}  // namespace
}  // namespace linerwright
