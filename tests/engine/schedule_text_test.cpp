// A schedule's text changes where its cells stand, and nowhere else.
#include "linerwright/job/schedule_text.hpp"

#include <gtest/gtest.h>

#include <stdexcept>

#include "linerwright/fitting/fitting.hpp"
#include "linerwright/units/error.hpp"
#include "support/cases.hpp"
#include "support/chance.hpp"

namespace linerwright {
namespace {

constexpr const char* k_text =
    "# units = in\n"
    "tag , kind,diameter (mm), length,note\n"
    "S-1,straight, 600 ,48,\"a, b\"\n"
    "\n"
    "# a word between\n"
    "S-2,straight,24in,60\n"
    "\"S-3\",straight,700,\"72\",\"say \"\"so\"\"\"";

ScheduleText schedule(const std::string& text) {
  return ScheduleText(text, "rows.csv", job_schema());
}

std::string replaced(std::string text, const std::string& what, const std::string& by) {
  const std::size_t at = text.find(what);
  EXPECT_NE(at, std::string::npos) << what;
  return text.replace(at, what.size(), by);
}

TEST(ScheduleText, OneCellChangesAndNothingElse) {
  const auto set = [](std::size_t row, const std::string& key, const std::string& written) {
    ScheduleText it = schedule(k_text);
    it.set(row, key, written);
    return it.text();
  };
  EXPECT_EQ(set(0, "diameter", "610"), replaced(k_text, " 600 ", " 610 "));
  EXPECT_EQ(set(0, "note", "x"), replaced(k_text, "\"a, b\"", "x"));
  EXPECT_EQ(set(2, "length", "5, about"), replaced(k_text, "\"72\"", "\"5, about\""));
  EXPECT_EQ(set(2, "note", "\"q\""), replaced(k_text, "\"say \"\"so\"\"\"", "\"\"\"q\"\"\""));
  EXPECT_EQ(set(1, "length", ""), replaced(k_text, ",60\n", ",\n"));
  // a cell that the row does not have yet, and one of a column that is not there
  EXPECT_EQ(set(1, "note", "n"), replaced(k_text, ",60\n", ",60,n\n"));
  EXPECT_EQ(set(1, "thickness", "1"),
            replaced(replaced(k_text, "length,note\n", "length,note,thickness\n"), ",60\n", ",60,,1\n"));
  EXPECT_EQ(set(0, "thickness", ""), k_text);
}

TEST(ScheduleText, RowsComeAndGo) {
  ScheduleText it = schedule(k_text);
  it.remove(1);
  EXPECT_EQ(it.text(), replaced(k_text, "S-2,straight,24in,60\n", ""));
  it = schedule(k_text);
  it.copy(2, "S-4");
  EXPECT_EQ(it.text(), std::string(k_text) + "\nS-4,straight,700,\"72\",\"say \"\"so\"\"\"\n");
  it = schedule(k_text);
  it.add({{"tag", "E-1"}, {"kind", "elbow"}, {"angle", "90"}});
  EXPECT_EQ(it.text(), replaced(k_text, "length,note\n", "length,note,angle\n") + "\nE-1,elbow,,,,90\n");
  ASSERT_EQ(it.rows().size(), 4u);
  EXPECT_EQ(it.rows()[3].entries.front().text, "E-1");
  EXPECT_THROW(it.set(4, "tag", "x"), std::out_of_range);
  EXPECT_THROW(it.remove(4), std::out_of_range);
}

TEST(ScheduleText, MarksBreaksAndSeparatorsStay) {
  const std::string text = "\xEF\xBB\xBFtag;kind;diameter\r\nS-1;straight;12,5\r\n";
  ScheduleText it = schedule(text);
  it.set(0, "diameter", "13,5");
  EXPECT_EQ(it.text(), replaced(text, "12,5", "13,5"));
  it.set(0, "note", "a;b");
  EXPECT_EQ(it.text(), "\xEF\xBB\xBFtag;kind;diameter;note\r\nS-1;straight;13,5;\"a;b\"\r\n");
  it.add({{"tag", "S-2"}, {"kind", "straight"}});
  EXPECT_EQ(it.text().substr(it.text().size() - 18), "\r\nS-2;straight;;\r\n");
}

TEST(ScheduleText, WhatIsNoScheduleIsRefused) {
  EXPECT_THROW(schedule(""), InputError);
  EXPECT_THROW(schedule("a,b\n1,2\n"), InputError);
  EXPECT_THROW(schedule("tag,kind\n\"S-1"), InputError);
}

// Any changes and their undoing give the bytes back; what was set reads back.
TEST(ScheduleTextRandom, CellsReadBack) {
  support::Chance chance(9);
  const std::vector<std::string> keys{"tag", "kind", "diameter", "length", "note", "thickness", "count"};
  const std::vector<std::string> values{"",       "7",  "24in",       "a,b", "say \"x\"",
                                        " edge ", "#5", "two\nlines", "\""};
  const int all = support::cases(300);
  for (int i = 0; i < all; ++i) {
    ScheduleText it = schedule(k_text);
    for (int k = 0; k < 6; ++k) {
      const std::size_t row =
          static_cast<std::size_t>(chance.whole(0, static_cast<int>(it.rows().size()) - 1));
      const std::string key = keys[static_cast<std::size_t>(chance.whole(0, 6))];
      const std::string value = values[static_cast<std::size_t>(chance.whole(0, 8))];
      const std::size_t before = it.rows().size();
      const std::vector<Section> rows = it.rows();
      it.set(row, key, value);
      if (it.rows().size() != before) break;  // the whole row is blank now
      for (std::size_t r = 0; r < before; ++r) {
        if (r == row) continue;
        EXPECT_EQ(it.rows()[r].entries.size(), rows[r].entries.size());
      }
      std::string found;
      for (const Entry& entry : it.rows()[row].entries)
        if (entry.key == key) found = entry.written;
      EXPECT_EQ(found, value == " edge " ? "edge" : value) << it.text();
    }
  }
}

}  // namespace
}  // namespace linerwright
