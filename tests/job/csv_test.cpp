// The reader of separated text, against the rules of RFC 4180 section 2 (numbered below, quoted from memory).
#include "linerwright/job/csv.hpp"

#include <gtest/gtest.h>

namespace linerwright {
namespace {

using Cells = std::vector<std::string>;

std::vector<Cells> cells(const std::string& text) {
  std::vector<Cells> out;
  for (const CsvRow& row : parse_csv(text).rows) out.push_back(row.cells);
  return out;
}

TEST(Csv, FollowsTheStandard) {
  const std::vector<Cells> two = {{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}};
  EXPECT_EQ(cells("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n"), two);          // rule 1
  EXPECT_EQ(cells("aaa,bbb,ccc\r\nzzz,yyy,xxx"), two);              // rule 2
  EXPECT_EQ(cells("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx"), two);  // rule 5
  EXPECT_EQ(cells("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx"),    // rule 6
            (std::vector<Cells>{{"aaa", "b\nbb", "ccc"}, {"zzz", "yyy", "xxx"}}));
  EXPECT_EQ(cells("\"aaa\",\"b\"\"bb\",\"c,c\""), (std::vector<Cells>{{"aaa", "b\"bb", "c,c"}}));  // rule 7
}

TEST(Csv, TakesWhatPeopleDo) {
  EXPECT_EQ(cells("a,b\nc,d\n"), (std::vector<Cells>{{"a", "b"}, {"c", "d"}}));
  EXPECT_EQ(cells("a,b\rc,d"), (std::vector<Cells>{{"a", "b"}, {"c", "d"}}));
  EXPECT_EQ(cells("a, b ,\t\"c d\" \n"), (std::vector<Cells>{{"a", "b", "c d"}}));
  EXPECT_EQ(cells("24\",2' 6\"\n"), (std::vector<Cells>{{"24\"", "2' 6\""}}));
  EXPECT_EQ(cells("a,,\n,,\n\n  \n,b\n"), (std::vector<Cells>{{"a", "", ""}, {"", "b"}}));
  EXPECT_EQ(cells("a,\"\"\n"), (std::vector<Cells>{{"a", ""}}));
  EXPECT_EQ(cells(""), std::vector<Cells>{});
}

TEST(Csv, FirstRowDecidesTheSeparator) {
  EXPECT_EQ(cells("# x;y\na;b\n1,5;2\n"), (std::vector<Cells>{{"a", "b"}, {"1,5", "2"}}));
  EXPECT_EQ(cells("\"a;a\",b\n1;5,2\n"), (std::vector<Cells>{{"a;a", "b"}, {"1;5", "2"}}));
  EXPECT_EQ(parse_csv("a;b").separator, ';');
  EXPECT_EQ(parse_csv("a,b\nc;d").separator, ',');
  EXPECT_EQ(parse_csv("size \";b\n1;2\n").separator, ';');
}

TEST(Csv, KeepsCommentsAndLines) {
  const CsvTable table = parse_csv("# units = in\na,b\n\"c\nc\",d\n  #last\n\"#\",e\nf#,g");
  ASSERT_EQ(table.comments.size(), 2u);
  EXPECT_EQ(table.comments[0].cells[0], "units = in");
  EXPECT_EQ(table.comments[1].cells[0], "last");
  EXPECT_EQ(table.comments[1].line, 5);
  ASSERT_EQ(table.rows.size(), 4u);
  EXPECT_EQ(table.rows[1].line, 3);
  EXPECT_EQ(table.rows[2].line, 6);
  EXPECT_EQ(table.rows[2].cells[0], "#");
  EXPECT_EQ(table.rows[3].line, 7);
}

TEST(Csv, RefusesBrokenQuotes) {
  const auto refusal = [](const std::string& text) {
    try {
      parse_csv(text);
    } catch (const CsvError& error) {
      return std::to_string(error.line()) + ": " + error.what();
    }
    return std::string("no error");
  };
  EXPECT_EQ(refusal("a,b\nc,\"d\ne,f\n"), "2: a quote is opened here and never closed");
  EXPECT_EQ(refusal("a,\"b\"c\n"), "1: text follows a closing quote; double the quotes inside a quoted cell");
  EXPECT_EQ(refusal("\""), "1: a quote is opened here and never closed");
}

}  // namespace
}  // namespace linerwright
