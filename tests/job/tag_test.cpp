// Tags: they name labels and files, so they must be safe and unlike each other.
#include <gtest/gtest.h>

#include "job/schema.hpp"

namespace linerwright {
namespace {

using testing::lines;
using testing::test_schema;

std::string fitting(const std::string& tag) {
  return "[[fitting]]\ntag = \"" + tag + "\"\nkind = \"elbow\"\ndiameter = \"24in\"\nthickness = \"1in\"\n";
}

Job read(const std::string& text) {
  return read_job_text(text, "job.toml", test_schema());
}

TEST(Tag, MustBeSafe) {
  const std::string allowed = " (allowed: 1 to 100 characters, no slash)\n";
  const std::string long_tag(101, 'x');
  const std::vector<std::pair<std::string, std::string>> rows = {
      {"", "job.toml:2: tag: is empty" + allowed},
      {"  ", "job.toml:2: tag =   : is empty" + allowed},
      {"a/b", "job.toml:2: tag = a/b: holds a slash, and files are named after tags" + allowed},
      {"a\\\\b", "job.toml:2: tag = a\\b: holds a slash, and files are named after tags" + allowed},
      {".", "job.toml:2: tag = .: is a folder's name, and files are named after tags" + allowed},
      {"..", "job.toml:2: tag = ..: is a folder's name, and files are named after tags" + allowed},
      {" a", "job.toml:2: tag =  a: begins or ends with a space" + allowed},
      {"a\\nb", "job.toml:2: tag = a\\nb: holds a line break, a control character or an invisible mark\n"},
      {"a\\u007Fb",
       "job.toml:2: tag = a\\x7fb: holds a line break, a control character or an invisible mark\n"},
      {long_tag, "job.toml:2: tag = " + long_tag.substr(0, 60) +
                     "...: has 101 characters, too many for a label" + allowed},
  };
  for (const auto& [tag, message] : rows) EXPECT_EQ(lines(read(fitting(tag)).problems), message) << tag;
  EXPECT_EQ(lines(read("[[fitting]]\ntag = 101\nkind = \"elbow\"\ndiameter = \"24in\"\nthickness = \"1in\"\n")
                      .problems),
            "job.toml:2: tag = 101: takes text in quotes\n");
  EXPECT_EQ(
      lines(read("[[fitting]]\nkind = \"elbow\"\ndiameter = \"24in\"\nthickness = \"1in\"\n").problems),
      "job.toml:1: tag: is missing: the fitting's name on labels and files (allowed: 1 to 100 characters)\n");
}

TEST(Tag, DirectionOverridesAreControlCharacters) {
  for (const std::string tag : {"a\\u202Eb", "a\\u2028b", "a\\u0085b", "a\\u2066b"}) {
    const Job job = read(fitting(tag));
    ASSERT_EQ(job.problems.size(), 1u) << tag;
    EXPECT_EQ(job.problems[0].reason, "holds a line break, a control character or an invisible mark") << tag;
  }
}

TEST(Tag, MayBeInAnyScript) {
  const Job job = read(fitting("K\xC3\xBC"
                               "che-1") +
                       fitting("\xE5\xBC\xAF\xE9\xA0\xAD") + fitting("E 1.2 #3"));
  EXPECT_EQ(lines(job.problems), "");
  EXPECT_EQ(job.fittings.size(), 3u);
  EXPECT_EQ(job.fittings[1].tag, "\xE5\xBC\xAF\xE9\xA0\xAD");
  std::string hundred;
  for (int i = 0; i < 100; ++i) hundred += "\xC3\xBC";  // 100 characters, 200 bytes
  EXPECT_EQ(lines(read(fitting(hundred)).problems), "");
}

TEST(Tag, MayNotRepeat) {
  Job job = read(fitting("E-1") + fitting("R-1") + fitting("E-1"));
  EXPECT_EQ(
      lines(job.problems),
      "job.toml:12: tag = E-1: repeats the tag of line 2; tags must differ in more than upper and lower "
      "case\n");
  ASSERT_EQ(job.fittings.size(), 2u);
  EXPECT_EQ(job.fittings[0].line, 1);

  job = read(fitting("\xC3\xBC"
                     "E-1") +
             fitting("\xC3\x9C"
                     "e-1"));  // ü, Ü
  EXPECT_EQ(job.problems.size(), 1u);
  job = read(fitting("\xD0\x90") + fitting("\xD0\xB0"));  // Cyrillic A, a
  EXPECT_EQ(job.problems.size(), 1u);
  job = read(fitting("\xCE\xA9") + fitting("\xCF\x89"));  // Omega, omega
  EXPECT_EQ(job.problems.size(), 1u);
  job = read(fitting("\xC5\x81") + fitting("\xC5\x82"));  // L with stroke
  EXPECT_EQ(job.problems.size(), 1u);
}

// A fitting that is wrong still holds its tag, so that mending it brings no new mistake.
TEST(Tag, OfAWrongFittingCounts) {
  const Job job = read(fitting("A") + "angle = 999\n" + fitting("a"));
  EXPECT_EQ(job.fittings.size(), 0u);
  EXPECT_EQ(job.problems.size(), 2u);
}

}  // namespace
}  // namespace linerwright
