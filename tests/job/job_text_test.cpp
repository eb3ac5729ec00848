// A job file's text changed at the places of its values: everything else keeps its bytes.
#include "linerwright/job/job_text.hpp"

#include <gtest/gtest.h>

#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "support/chance.hpp"

namespace linerwright {
namespace {

const char* const k_job =
    "# a job\n"
    "[job]\n"
    "name = \"Tide mill\"   # of our own\n"
    "units = \"in\"\n"
    "\n"
    "[[fitting]]\n"
    "tag = \"E-1\"  # first\n"
    "kind = \"elbow\"\n"
    "# the size\n"
    "diameter = 24   # metal\n"
    "angle = 90\n"
    "\n"
    "[[fitting]]\n"
    "tag = 'T-1'\n"
    "kind = \"tee\"\n"
    "body_diameter = 24\n"
    "start = {at = \"12in\", face = \"square\"}\n";

KeySpec key(const std::string& name, ValueType type = ValueType::quantity) {
  KeySpec spec;
  spec.name = name;
  spec.type = type;
  return spec;
}

std::string with(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return text.replace(at, from.size(), to);
}

TEST(JobText, AValueChangesAndNothingElse) {
  const KeySpec diameter = key("diameter");
  JobText job(k_job, "job.toml");
  ASSERT_EQ(job.fittings().size(), 2u);
  job.set(0, "diameter", "30", &diameter);
  EXPECT_EQ(job.text(), with(k_job, "24   # metal", "30   # metal"));
  job.set(0, "diameter", "600mm", &diameter);
  EXPECT_EQ(job.text(), with(k_job, "24   # metal", "\"600mm\"   # metal"));
  job.set(0, "tag", "A \"b\"", nullptr);
  job.set(1, "start.at", "1ft", &diameter);
  EXPECT_EQ(job.text(),
            with(with(with(k_job, "24   # metal", "\"600mm\"   # metal"), "\"E-1\"", "\"A \\\"b\\\"\""),
                 "\"12in\"", "\"1ft\""));
}

TEST(JobText, KeysComeAndGoAsLines) {
  const KeySpec angle = key("angle");
  JobText job(k_job, "job.toml");
  job.set(0, "radius_ratio", "1.5", nullptr);
  EXPECT_EQ(job.text(), with(k_job, "angle = 90\n", "angle = 90\nradius_ratio = \"1.5\"\n"));
  job.set(0, "radius_ratio", "", nullptr);
  EXPECT_EQ(job.text(), k_job);
  job.set(0, "angle", "", &angle);
  EXPECT_EQ(job.text(), with(k_job, "angle = 90\n", ""));
  job.set(0, "angle", "", &angle);  // not there: nothing to take away
  EXPECT_EQ(job.text(), with(k_job, "angle = 90\n", ""));
  EXPECT_THROW(job.set(1, "start.at", "", &angle), InputError);
  EXPECT_THROW(job.set(2, "angle", "45", &angle), std::out_of_range);
}

TEST(JobText, FittingsComeAndGo) {
  JobText job(k_job, "job.toml");
  job.copy(0, "E-2");
  EXPECT_EQ(job.text(),
            with(k_job, "angle = 90\n",
                 "angle = 90\n\n[[fitting]]\ntag = \"E-2\"  # first\nkind = \"elbow\"\n# the size\n"
                 "diameter = 24   # metal\nangle = 90\n"));
  job.remove(1);
  EXPECT_EQ(job.text(), k_job);
  job.add({{"tag", "S-1"}, {"kind", "straight"}}, {});
  EXPECT_EQ(job.text(), std::string(k_job) + "\n[[fitting]]\ntag = \"S-1\"\nkind = \"straight\"\n");
  ASSERT_EQ(job.fittings().size(), 3u);
  job.remove(2);
  job.remove(0);
  ASSERT_EQ(job.fittings().size(), 1u);
  EXPECT_EQ(job.fittings()[0].entries[0].text, "T-1");
}

TEST(JobText, OtherTablesChangeLikeFittings) {
  JobText job(k_job, "job.toml");
  ASSERT_EQ(job.tables().size(), 1u);
  const KeySpec number = key("thickness");
  job.set_in_table(0, "name", "Lock", nullptr);
  EXPECT_EQ(job.text(), with(k_job, "\"Tide mill\"", "\"Lock\""));
  job.set_in_table(0, "name", "Tide mill", nullptr);
  EXPECT_EQ(job.text(), k_job);
  job.add_table("liner", false, {{"thickness", "1"}}, {&number});
  EXPECT_EQ(job.text(), with(k_job, "[[fitting]]\ntag = \"E-1\"",
                             "[liner]\nthickness = 1\n\n[[fitting]]\ntag = \"E-1\""));
  job.add_table("stock", true, {{"width", "48in"}}, {});
  ASSERT_EQ(job.tables().size(), 3u);
  EXPECT_TRUE(job.tables()[2].listed);
  job.remove_table(2);
  job.remove_table(1);
  EXPECT_EQ(job.text(), k_job);
  JobText bare("# only words\n", "job.toml");
  bare.add_table("job", false, {{"units", "in"}}, {});
  EXPECT_EQ(bare.text(), "# only words\n\n[job]\nunits = \"in\"\n");
  // comments right above the first fitting stay with it
  JobText first("[job]\nunits = \"in\"\n\n# the first\n[[fitting]]\ntag = \"A\"\n", "job.toml");
  first.add_table("liner", false, {{"thickness", "1"}}, {&number});
  EXPECT_EQ(first.text(),
            "[job]\nunits = \"in\"\n\n[liner]\nthickness = 1\n\n# the first\n[[fitting]]\ntag = \"A\"\n");
}

// A key behind a table inside the fitting would belong to that table.
TEST(JobText, NewKeysStandBeforeTablesInside) {
  const std::string text =
      "[[fitting]]\ntag = \"P-1\"\nlist = [\n  1,\n  [2],\n]\n\n[[fitting.part]]\nstraight = "
      "100\n[[fitting.part]]\nbend = 90\n"
      "[[fitting]]\ntag = \"P-2\"\n";
  JobText job(text, "job.toml");
  job.set(0, "count", "2", nullptr);
  EXPECT_EQ(job.text(), with(text, "]\n\n[[", "]\ncount = \"2\"\n\n[["));
  EXPECT_THROW(job.set(0, "part", "straight 5", nullptr), InputError);
  job.copy(0, "P-3");
  ASSERT_EQ(job.fittings().size(), 3u);
  job.remove(0);
  job.remove(1);
  ASSERT_EQ(job.fittings().size(), 1u);
  EXPECT_EQ(job.fittings()[0].entries[0].text, "P-3");
}

TEST(JobText, LineEndsAndMarksStay) {
  std::string text = "\xEF\xBB\xBF";
  for (const char c : std::string(k_job)) text += c == '\n' ? std::string("\r\n") : std::string(1, c);
  text.resize(text.size() - 2);  // no break at the end
  JobText job(text, "job.toml");
  job.set(0, "angle", "45", nullptr);
  EXPECT_EQ(job.text(), with(text, "angle = 90", "angle = \"45\""));
  job.set(1, "count", "2", nullptr);
  EXPECT_EQ(job.text(), with(text, "angle = 90", "angle = \"45\"") + "\r\ncount = \"2\"\r\n");
}

TEST(JobText, WhatIsNoTextForATableIsRefused) {
  EXPECT_THROW(JobText("[[fitting]\n", "job.toml"), InputError);
  JobText job(k_job, "job.toml");
  EXPECT_THROW(job.set(0, "a key with = in it", "5", nullptr), InputError);
  EXPECT_EQ(job.text(), k_job);
}

// Any change to any value of texts with letters of several bytes leaves all bytes but those of the value.
TEST(JobTextProperty, OnlyTheValueChanges) {
  support::Chance random(11);
  const char* const words[] = {"\"a\"",
                               "'b = 1 # no'",
                               "24",
                               "-3.5e2",
                               "true",
                               "[1, 2]",
                               "\"\xC3\xA9\xE2\x86\x92 z\"",
                               "{at = 1, b = \"x\"}",
                               "[\n  1,\n  \"two\",\n]",
                               "\"\"\"\nmany\nlines\"\"\""};
  int seen = 0;
  for (int i = 0; i < 300; ++i) {
    std::string text = "# \xC3\xBC\n";
    for (int f = 0; f < 3; ++f) {
      text += "[[fitting]]  # head\n";
      for (int k = 0; k < 4; ++k)
        text +=
            fmt::format("{}k{} = {} # {}\n", std::string(static_cast<std::size_t>(random.whole(0, 3)), ' '),
                        k, words[random.whole(0, 9)], "\xC3\xA4 []{}\"'");
    }
    JobText job(text, "job.toml");
    const std::size_t f = static_cast<std::size_t>(random.whole(0, 2));
    const Entry entry = job.fittings()[f].entries[static_cast<std::size_t>(random.whole(0, 3))];
    const std::string written = text.substr(entry.begin, entry.end - entry.begin);
    EXPECT_TRUE(
        std::any_of(std::begin(words), std::end(words), [&](const char* word) { return written == word; }))
        << written << "\n"
        << text;
    job.set(f, entry.key, "new", nullptr);
    EXPECT_EQ(job.text(), text.substr(0, entry.begin) + "\"new\"" + text.substr(entry.end));
    ++seen;
  }
  EXPECT_EQ(seen, 300);
}

}  // namespace
}  // namespace linerwright
