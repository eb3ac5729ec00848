// Parts that are tables of their own become the text that says the same.
#include <gtest/gtest.h>

#include "job/schema.hpp"

namespace linerwright {
namespace {

using testing::lines;

JobSchema schema() {
  KeySpec parts;
  parts.name = "parts";
  parts.type = ValueType::text;
  parts.help = "in order";
  JobSchema made = testing::test_schema();
  KindSchema path;
  path.kind = "path";
  path.keys = {parts};
  KeySpec openings = parts;
  openings.name = "openings";
  KindSchema drum;
  drum.kind = "drum";
  drum.keys = {openings};
  made.kinds.push_back(path);
  made.kinds.push_back(drum);
  return made;
}

std::string head(const std::string& units) {
  return "[job]\n" + units + "[liner]\nthickness = \"1in\"\n[[fitting]]\ntag = \"P\"\nkind = \"path\"\n";
}

Job read(const std::string& tables, const std::string& units = "units = \"in\"\n") {
  return read_job_text(head(units) + tables, "job.toml", schema());
}

std::string problems_of(const std::string& tables, const std::string& units = "units = \"in\"\n") {
  const Job job = read(tables, units);
  EXPECT_TRUE(job.fittings.empty());
  return lines(job.problems);
}

bool says(const std::string& text, const std::string& words) {
  return text.find(words) != std::string::npos;
}

TEST(ListedParts, BecomeOneText) {
  const Job job = read(
      "[[fitting.part]]\nstraight = 12\n[[fitting.part]]\nbend = 45\nturn = -90.5\npieces = 4\nradius = "
      "\"600 mm\"\n[[fitting.part]]\nover = \"18in\"\nto = 16\n");
  ASSERT_TRUE(job.problems.empty()) << lines(job.problems);
  EXPECT_EQ(job.fittings.at(0).values.text("parts"),
            "straight 12in, bend 45 turn -90.5 pieces 4 radius 600 mm, taper to 16in over 18in");
}

TEST(ListedParts, BareNumbersAreTheJobs) {
  const Job job = read("[[fitting.part]]\nstraight = 300.5\n", "units = \"mm\"\n");
  ASSERT_TRUE(job.problems.empty()) << lines(job.problems);
  EXPECT_EQ(job.fittings.at(0).values.text("parts"), "straight 300.5mm");
}

TEST(ListedParts, StandWithTheirFitting) {
  const Job job = read(
      "[[fitting.part]]\nstraight = 1\n[[fitting]]\ntag = \"Q\"\nkind = \"path\"\n[[fitting.part]]\n"
      "straight = 2\n");
  ASSERT_TRUE(job.problems.empty()) << lines(job.problems);
  EXPECT_EQ(job.fittings.at(0).values.text("parts"), "straight 1in");
  EXPECT_EQ(job.fittings.at(1).values.text("parts"), "straight 2in");
}

TEST(ListedParts, MistakesNameLineAndPart) {
  const std::string two = "[[fitting.part]]\nstraight = 1\n[[fitting.part]]\n";
  EXPECT_TRUE(
      says(problems_of(two + "length = 3\n"), "job.toml:11: P: length = 3: part 2: 'length' says nothing"));
  EXPECT_TRUE(says(problems_of(two + "bend = 30\nstraight = 3\n"), "part 2: says a straight beside a bend"));
  EXPECT_TRUE(says(problems_of(two), "part 2: says no part"));
  EXPECT_TRUE(says(problems_of(two + "turn = 30\n"), "part 2: bend is missing"));
  EXPECT_TRUE(says(problems_of(two + "to = 30\n"), "part 2: over is missing"));
  EXPECT_TRUE(says(problems_of(two + "straight = [1, 2]\n"), "part 2: is neither"));
  EXPECT_TRUE(says(problems_of(two + "straight = \"1in, bend 3\"\n"), "part 2: holds a comma"));
  EXPECT_TRUE(says(problems_of("parts = \"straight 1in\"\n" + two + "straight = 2\n"), "says parts twice"));
}

// Openings of any kind likewise; a flag may stand as true or as yes.
TEST(ListedParts, OpeningsAreTablesToo) {
  const std::string start =
      "[job]\nunits = \"in\"\n[liner]\nthickness = 1\n[[fitting]]\ntag = \"D\"\nkind = \"drum\"\n";
  const auto of = [&](const std::string& tables) {
    return read_job_text(start + tables, "job.toml", schema());
  };
  const Job job =
      of("[[fitting.opening]]\naround = 90\nat = 24\nwhat = \"access door\"\nlength = 12\nwidth = \"200mm\"\n"
         "metal = true\nbevel = \"straight\"\n[[fitting.opening]]\nwhat = \"sensor\"\nat = 3.5\naround = "
         "\"-15deg\"\n"
         "diameter = 1\npair = \"yes\"\n");
  ASSERT_TRUE(job.problems.empty()) << lines(job.problems);
  EXPECT_EQ(job.fittings.at(0).values.text("openings"),
            "access door at 24in around 90 width 200mm length 12in bevel straight metal yes, sensor at 3.5in "
            "around -15deg diameter 1in pair yes");
  const auto told = [&](const std::string& tables) { return lines(of(tables).problems); };
  EXPECT_TRUE(says(told("[[fitting.opening]]\nwhat = \"sensor\"\nat = 3\ndiameter = 1\n"),
                   "opening 1: around is missing"));
  EXPECT_TRUE(says(told("[[fitting.opening]]\nwhat = \"sensor\"\nat = 3\naround = 0\nheight = 1\n"),
                   "job.toml:12: D: height = 1: opening 1: 'height' says nothing of an opening"));
  EXPECT_TRUE(says(told("[[fitting.opening]]\nwhat = \"sensor\"\nat = 3\naround = 0\npair = [1]\n"),
                   "opening 1: is neither"));
  EXPECT_TRUE(
      says(told("openings = \"sensor at 3in\"\n[[fitting.opening]]\nwhat = \"sensor\"\nat = 3\naround = 0\n"),
           "says openings twice"));
}

TEST(ListedParts, ALengthNeedsAUnit) {
  EXPECT_TRUE(says(problems_of("[[fitting.part]]\nstraight = 2\n", ""), "part 1: a number without unit"));
}

TEST(ListedParts, OfAKindWithoutPartsAreRefused) {
  const std::string text =
      "[job]\nunits = \"in\"\n[liner]\nthickness = 1\n[[fitting]]\ntag = \"S\"\nkind = \"straight\"\n"
      "diameter = 20\nlength = 20\n[[fitting.part]]\nstraight = 2\n";
  const Job job = read_job_text(text, "job.toml", schema());
  EXPECT_TRUE(says(lines(job.problems), "not a key of kind straight, but of path")) << lines(job.problems);
}

// A row has one cell for all parts.
TEST(ListedParts, HaveNoColumnInASchedule) {
  const std::string rows = "# units = in\ntag,kind,thickness,part\nP,path,1,straight 2in\n";
  std::string told;
  try {
    told = lines(read_job_text(rows, "rows.csv", schema()).problems);
  } catch (const InputError& error) {
    told = lines(error.problems());
  }
  EXPECT_TRUE(says(told, "column part: lists parts, and a row has one cell for all of them")) << told;
  const std::string opening = "# units = in\ntag,kind,thickness,opening\nD,drum,1,sensor at 2in\n";
  try {
    told = lines(read_job_text(opening, "rows.csv", schema()).problems);
  } catch (const InputError& error) {
    told = lines(error.problems());
  }
  EXPECT_TRUE(says(told, "column opening: lists openings, and a row has one cell for all of them")) << told;
}

}  // namespace
}  // namespace linerwright
