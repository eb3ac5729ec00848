// Decimal and thousands marks: written out from the rule that a mark which occurs twice, or before another,
// groups thousands.
#include "numbers.hpp"

#include <gtest/gtest.h>

namespace linerwright {
namespace {

// The cells as plain numbers, "?" where the sheet has to be asked, "!" before a cell against its marks.
std::vector<std::string> read(const std::vector<std::string>& cells, const std::string& said = "") {
  DecimalMarks marks(said);
  for (std::size_t i = 0; i < cells.size(); ++i) marks.look(cells[i], static_cast<int>(i + 1));
  if (marks.question("x.csv")) return {"?"};
  std::vector<std::string> out;
  for (const std::string& cell : cells) {
    std::string fault;
    const std::string plain = marks.plain(cell, fault);
    out.push_back((fault.empty() ? "" : "!") + plain);
  }
  return out;
}

using Cells = std::vector<std::string>;

TEST(Numbers, TheWholeSheetDecides) {
  EXPECT_EQ(read({"1.200", "12,5"}), (Cells{"1200", "12.5"}));
  EXPECT_EQ(read({"1,200", "12.5"}), (Cells{"1200", "12.5"}));
  EXPECT_EQ(read({"1.234,5"}), (Cells{"1234.5"}));
  EXPECT_EQ(read({"1,234.5"}), (Cells{"1234.5"}));
  EXPECT_EQ(read({"1,234,567"}), (Cells{"1234567"}));
  EXPECT_EQ(read({"1,200", "1.234.567"}), (Cells{"1.200", "1234567"}));
  EXPECT_EQ(read({"0,125", "1.200"}), (Cells{"0.125", "1200"}));
  EXPECT_EQ(read({"24", "600", "5'-0\""}), (Cells{"24", "600", "5'-0\""}));
  EXPECT_EQ(read({"24,5\" x 20,5\""}), (Cells{"24.5\" x 20.5\""}));
}

TEST(Numbers, WhatCanBeReadTwoWaysIsAsked) {
  EXPECT_EQ(read({"1,200"}), (Cells{"?"}));
  EXPECT_EQ(read({"1.200", "600"}), (Cells{"?"}));
  EXPECT_EQ(read({"12,5", "12.5"}), (Cells{"?"}));
  EXPECT_EQ(read({"1,200"}, "comma"), (Cells{"1.200"}));
  EXPECT_EQ(read({"1,200"}, "point"), (Cells{"1200"}));
}

TEST(Numbers, CellsAgainstTheSheetAreFaults) {
  EXPECT_EQ(read({"12,5", "12.5"}, "comma"), (Cells{"12.5", "!125"}));
  EXPECT_EQ(read({"1,23,4", "2.5"})[0].substr(0, 1), "!");
  EXPECT_EQ(read({"1.2.3,4"})[0].substr(0, 1), "!");
}

TEST(Numbers, SpacedThousandsCloseUp) {
  EXPECT_EQ(read({"1 200", "12 1/2",
                  "1\xC2\xA0"
                  "200 mm",
                  "24 x 200", "12 345 678"}),
            (Cells{"1200", "12 1/2", "1200 mm", "24 x 200", "12345678"}));
}

TEST(Numbers, QuestionsSayHowTheyAreAnswered) {
  DecimalMarks marks("");
  marks.look("1,200", 7);
  const auto question = marks.question("x.csv");
  ASSERT_TRUE(question);
  EXPECT_EQ(question->line, 7);
  EXPECT_NE(question->allowed.find("--decimal"), std::string::npos);
}

}  // namespace
}  // namespace linerwright
