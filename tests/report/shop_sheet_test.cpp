// The installer's sheet: every line of it follows from what was asked for, and its letters can be read.
#include <gtest/gtest.h>

#include "linerwright/draw/page_text.hpp"
#include "shop_sheets.hpp"

namespace linerwright {
namespace {

using namespace sheets;

// Where the air's lines lie on the drawings of a sheet, one after the other.
std::vector<Vec2> arrows_of(const std::vector<ShopDrawing>& drawings, const std::string& id) {
  std::vector<Vec2> points;
  for (const ShopDrawing& drawing : drawings)
    for (const ShopLine& line : drawing.lines)
      if (line.ink == ShopInk::air && (id.empty() || drawing.id == id))
        points.insert(points.end(), line.points.begin(), line.points.end());
  return points;
}

// Two flows are two arrows on the body's own drawing; on the view the far end's arrow is turned.
TEST(ShopSheet, TwoFlowsAreDrawnAsTwo) {
  const ShopSheet one = sheet_of("tee", k_tee);
  const ShopSheet two = sheet_of("tee", with(k_tee, {{"flow_arrow", "to_branch"}}));
  const std::size_t lines = arrows_of(one.patterns, "body").size();
  EXPECT_GT(lines, 0u);
  EXPECT_EQ(arrows_of(two.patterns, "body").size(), 2 * lines);
  EXPECT_EQ(arrows_of(two.patterns, "branch").size(), arrows_of(one.patterns, "branch").size());
  const std::vector<Vec2> before = arrows_of({one.view}, {});
  const std::vector<Vec2> after = arrows_of({two.view}, {});
  ASSERT_EQ(before.size(), after.size());
  double moved = 0.0;
  for (std::size_t i = 0; i < before.size(); ++i) moved = std::max(moved, distance(before[i], after[i]));
  EXPECT_NEAR(moved, 8.0, 0.1);  // from its tip to its foot
}

const std::vector<std::pair<const char*, Flags>>& kinds() {
  static const std::vector<std::pair<const char*, Flags>> all{
      {"elbow", k_elbow},
      {"elbow", with(k_elbow, {{"diameter", "150"}, {"thickness", "13"}})},
      {"elbow", with(k_elbow, {{"form", "smooth"}})},
      {"elbow", with(k_elbow, {{"second_layer", "25"}})},
      {"tee", k_tee},
      {"tee", with(k_tee, {{"board_width", "800"}, {"length", "2400"}})},
      {"tap",
       {{"diameter", "600"}, {"branch_diameter", "250"}, {"branch_length", "700"}, {"thickness", "25"}}},
      {"reducer", k_reducer},
      {"reducer", with(k_reducer, {{"collar", "30"}, {"to_collar", "20"}, {"face_up", "air"}})},
      {"reducer", k_notched},
      {"straight", k_straight},
      {"straight",
       with(k_straight, {{"diameter", "1800"}, {"board_width", "1220"}, {"board_length", "3050"}})},
      {"offset",
       {{"diameter", "400"}, {"offset", "500"}, {"length", "1800"}, {"pieces", "3"}, {"thickness", "25"}}},
      {"path",
       {{"diameter", "300"},
        {"parts",
         "straight 200mm, bend 45, straight 500mm, bend 60 turn 90, taper to 250mm over 300mm, straight "
         "100mm"},
        {"thickness", "25"}}},
      {"wye", k_wye}};
  return all;
}

TEST(ShopSheet, LettersCanBeReadAndStayOnTheirDrawing) {
  std::size_t read = 0;
  for (const auto& [kind, flags] : kinds()) {
    const ShopSheet sheet = sheet_of(kind, flags);
    std::vector<ShopDrawing> drawings = sheet.patterns;
    drawings.push_back(sheet.view);
    drawings.insert(drawings.end(), sheet.sections.begin(), sheet.sections.end());
    for (const ShopDrawing& drawing : drawings) {
      for (const ShopText& text : drawing.texts) {
        EXPECT_GE(text.points, k_least_letter) << support::written(kind, flags) << ' ' << text.text;
        EXPECT_GE(text.at.y, 0.0) << support::written(kind, flags) << ' ' << drawing.id << ' ' << text.text;
        EXPECT_LE(text.at.y, drawing.size.y) << support::written(kind, flags) << ' ' << text.text;
        const double wide = shop_text_width(text.text, text.points);
        const double left = text.align == ShopAlign::left    ? text.at.x
                            : text.align == ShopAlign::right ? text.at.x - wide
                                                             : text.at.x - 0.5 * wide;
        EXPECT_GE(left, -0.1) << support::written(kind, flags) << ' ' << drawing.id << ' ' << text.text;
        EXPECT_LE(left + wide, drawing.size.x + 0.1)
            << support::written(kind, flags) << ' ' << drawing.id << ' ' << text.text;
        ++read;
      }
      for (const ShopLine& line : drawing.lines)
        for (const Vec2 p : line.points)
          EXPECT_TRUE(p.x > -0.1 && p.y > -0.1 && p.x < drawing.size.x + 0.1 && p.y < drawing.size.y + 0.1)
              << support::written(kind, flags) << ' ' << drawing.id << ' ' << p.x << ' ' << p.y;
    }
    for (const std::string& line : sheet.fitting)
      EXPECT_EQ(line.find("no source"), std::string::npos) << line;
  }
  EXPECT_GT(read, 500U);
}

// Most fittings take one page; what takes two fills the first.
TEST(ShopSheet, APageHoldsItWhereItFits) {
  std::size_t single = 0;
  for (const auto& [kind, flags] : kinds()) {
    const ShopSheet sheet = sheet_of(kind, flags);
    const std::vector<ShopDrawing> pages = shop_pages(sheet, k_shop_paper);
    ASSERT_GE(pages.size(), 1U);
    EXPECT_LE(pages.size(), 2U) << support::written(kind, flags);
    single += pages.size() == 1 ? 1 : 0;
    std::string all;
    for (const ShopDrawing& page : pages) {
      EXPECT_EQ(page.size.x, k_shop_paper.x);
      all += words_of(page);
      for (const ShopText& text : page.texts) {
        EXPECT_GE(text.points, k_least_letter) << text.text;
        const double wide = text_width(text.text, text.points, text.bold);
        const double left = text.align == ShopAlign::left    ? text.at.x
                            : text.align == ShopAlign::right ? text.at.x - wide
                                                             : text.at.x - 0.5 * wide;
        EXPECT_TRUE(left > 5.0 && left + wide < page.size.x - 5.0 && text.at.y > 10.0 &&
                    text.at.y < page.size.y - 10.0)
            << support::written(kind, flags) << ' ' << text.text << ' ' << left << ' ' << text.at.y;
      }
    }
    // every piece stands in the table and is drawn
    for (const auto& row : sheet.pieces.rows) EXPECT_NE(all.find(row[2]), std::string::npos) << row[2];
    for (const ShopDrawing& drawing : sheet.patterns)
      for (const ShopText& text : drawing.texts)
        EXPECT_NE(all.find(text.text), std::string::npos) << text.text;
  }
  EXPECT_GE(single, 11U) << "of " << kinds().size();
}

// Pieces 2 and 4 of an elbow in five pieces are cut by one template: one drawing has the letters of both.
TEST(ShopSheet, PiecesThatAreCutAlikeAreDrawnOnce) {
  const ShopSheet sheet = sheet_of("elbow", k_elbow);
  ASSERT_EQ(sheet.patterns.size(), 4U);
  EXPECT_EQ(sheet.patterns[1].title, "middle piece (2, 4), alike");
  const std::string words = words_of(sheet.patterns[1]);
  for (const char* letters : {"A, C\n", "B, D\n"}) EXPECT_NE(words.find(letters), std::string::npos) << words;
}

// A name over all of the page: the sheet says what there is room for, and all letters stay on it.
TEST(ShopSheet, LongNamesStayOnThePage) {
  ShopSheet sheet = sheet_of("tee", k_tee);
  sheet.tag = std::string(200, 'W');
  sheet.head.job = std::string(300, 'M');
  for (const ShopDrawing& page : shop_pages(sheet, k_shop_paper))
    for (const ShopText& text : page.texts)
      EXPECT_LE(text_width(text.text, text.points, text.bold), page.size.x - 24.0 + 1e-6) << text.text;
}

// What an installer asks has an answer on the sheet of every kind.
TEST(ShopSheet, EveryQuestionIsAnsweredForEveryKind) {
  for (const auto& [kind, flags] : kinds()) {
    const ShopSheet sheet = sheet_of(kind, flags);
    EXPECT_EQ(sheet.head.job, "Job");
    for (const char* question :
         {"Which end is first", "Which way the air goes", "Which face is out", "Where the seam goes",
          "Where tape goes", "Where sealant goes", "After a square cut", "How the knife leans", "Fasteners"})
      EXPECT_FALSE(part(sheet, question).empty()) << kind << ": " << question;
    for (const char* name : {"sizes", "steps", "cutting", "table", "patterns", "view"})
      EXPECT_FALSE(part(sheet, name).empty()) << kind << ": " << name;
    ASSERT_FALSE(sheet.pieces.rows.empty());
    for (const auto& row : sheet.pieces.rows) EXPECT_EQ(row.size(), sheet.pieces.heads.size());
  }
}

// A lateral of 45 degrees leans the knife by 67.5: half way between the walls' directions, 90 - 45 / 2.
TEST(ShopSheet, ASteepLateralIsToldOf) {
  const ShopSheet sheet = sheet_of("tee", with(k_tee, {{"angle", "45"},
                                                       {"diameter", "609.6"},
                                                       {"branch_diameter", "406.4"},
                                                       {"thickness", "25.4"},
                                                       {"branch_length", "1100"}}));
  const std::string told = part(sheet, "warnings");
  EXPECT_NE(told.find("an overlap of 61.3 mm on branch"), std::string::npos)
      << told;  // 25.4 tan 67.5 = 61.32
  EXPECT_NE(part(sheet, "How the knife leans").find("67.5 degrees"), std::string::npos);
}

}  // namespace
}  // namespace linerwright
