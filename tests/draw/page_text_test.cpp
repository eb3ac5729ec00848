// Widths of Helvetica's letters, and lines broken by them.
#include "linerwright/draw/page_text.hpp"

#include <gtest/gtest.h>

namespace linerwright {
namespace {

// Advance widths in the font's metrics (Core 14 AFM files, from memory): A 667, space 278, l 222, o 556, H
// 722, e 556; bold A 722.
TEST(PageText, WidthsAreTheFonts) {
  constexpr double k_mm = 25.4 / 72.0;
  EXPECT_NEAR(text_width("A", 1000.0), 667.0 * k_mm, 1e-9);
  EXPECT_NEAR(text_width("A", 1000.0, true), 722.0 * k_mm, 1e-9);
  EXPECT_NEAR(text_width("Hello", 10.0), (722 + 556 + 222 + 222 + 556) * 0.01 * k_mm, 1e-9);
  EXPECT_NEAR(text_width("\u00b0", 1000.0), 400.0 * k_mm, 1e-9) << "the degree sign is one letter";
}

TEST(PageText, LinesAreNoWiderThanAsked) {
  const Lettering letters{9.0, false};
  const std::string text =
      "Roll each piece with the duct face out, against the metal, so that the edges butt.";
  std::string again;
  const std::vector<std::string> lines = broken(text, letters, 40.0, 4.0);
  ASSERT_GT(lines.size(), 2U);
  for (std::size_t i = 0; i < lines.size(); ++i) {
    EXPECT_LE(letters.width(lines[i]), i == 0 ? 40.0 : 36.0) << lines[i];
    again += (i == 0 ? "" : " ") + lines[i];
  }
  EXPECT_EQ(again, text);
  const std::string cut = cut_to("Kilimanjaro", letters, 12.0);
  EXPECT_LE(letters.width(cut), 12.0);
  EXPECT_EQ(cut.substr(cut.size() - 3), "...");
}

TEST(PageText, ColumnsGiveWayWhereTheRoomIsNarrow) {
  const std::vector<std::vector<std::string>> rows{
      {"1", std::string(60, 'x') + " " + std::string(60, 'y'), "12 mm"}};
  const Columns wide = columns_of({"no", "words", "long"}, rows, 2, 1000.0, 9.0, 7.0);
  EXPECT_EQ(wide.points, 9.0);
  const Columns narrow = columns_of({"no", "words", "long"}, rows, 2, 90.0, 9.0, 7.0);
  EXPECT_LE(narrow.widths[0] + narrow.widths[1] + narrow.widths[2], 90.0 + 1e-6);
  EXPECT_LT(narrow.widths[1], wide.widths[1]);
  EXPECT_GE(narrow.points, 7.0);
}

}  // namespace
}  // namespace linerwright
