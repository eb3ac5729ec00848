// Schedules: a table of fittings, one a row.
#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>

#include "job/schema.hpp"

namespace linerwright {
namespace {

using testing::lines;
using testing::test_schema;

constexpr double k_in = 25.4;

Job read(const std::string& text, const JobDefaults& defaults = {}) {
  return read_job_text(text, "plan.csv", test_schema(), defaults);
}

std::string refusal(const std::string& text) {
  return testing::refusal(text, "plan.csv");
}

TEST(Schedule, ReadsRows) {
  const Job job = read(
      "# units = in\n"
      "Kind,TAG,Diameter,to-diameter,Length,thickness,count,eccentric,note\n"
      "elbow,E-1,24,,,1,,,\n"
      "\n"
      "# the transition\n"
      "reducer,R-1,600 mm,20\",1' 6\",1,2,yes,\n"
      "straight,\"S,1\",24,,\"60\"\"\",1.5,,,\"up, this side\"\n");
  EXPECT_EQ(lines(job.problems), "");
  EXPECT_EQ(job.units, Units::inch);
  ASSERT_EQ(job.fittings.size(), 3u);
  EXPECT_EQ(job.fittings[0].tag, "E-1");
  EXPECT_EQ(job.fittings[0].line, 3);
  EXPECT_EQ(job.fittings[0].file, "plan.csv");
  EXPECT_DOUBLE_EQ(job.fittings[0].values.quantity("diameter"), 24 * k_in);
  EXPECT_EQ(job.fittings[0].values.integer("gores"), 5);
  EXPECT_EQ(job.fittings[1].count, 2);
  EXPECT_EQ(job.fittings[1].line, 6);
  EXPECT_DOUBLE_EQ(job.fittings[1].values.quantity("diameter"), 600);
  EXPECT_DOUBLE_EQ(job.fittings[1].values.quantity("to_diameter"), 20 * k_in);
  EXPECT_TRUE(job.fittings[1].values.flag("eccentric"));
  EXPECT_EQ(job.fittings[2].tag, "S,1");
  EXPECT_DOUBLE_EQ(job.fittings[2].values.quantity("length"), 60 * k_in);
  EXPECT_EQ(job.fittings[2].values.text("note"), "up, this side");
  EXPECT_DOUBLE_EQ(job.tables.at("air").quantity("viscosity"), 1.5e-5);
}

TEST(Schedule, UnitMayStandInTheHead) {
  const Job job = read(
      "tag,kind,diameter (mm),length [in],thickness,angle (rad)\n"
      "A,straight,600,10,1in,\n"
      "B,straight,24in,10 mm,1in,\n"
      "C,elbow,600,,1in,1.5\n");
  EXPECT_EQ(lines(job.problems), "");
  EXPECT_DOUBLE_EQ(job.fittings.at(0).values.quantity("diameter"), 600);
  EXPECT_DOUBLE_EQ(job.fittings.at(0).values.quantity("length"), 10 * k_in);
  EXPECT_DOUBLE_EQ(job.fittings.at(1).values.quantity("diameter"), 24 * k_in);
  EXPECT_DOUBLE_EQ(job.fittings.at(1).values.quantity("length"), 10);
  EXPECT_DOUBLE_EQ(job.fittings.at(2).values.quantity("angle"), 1.5);
}

TEST(Schedule, MistakesNameRowAndColumn) {
  const Job job = read(
      "# units = in\n"
      "tag,kind,diameter,gores,thickness,length\n"
      "A,elbow,24,5,1,\n"
      "B,elbow,24x,1,1,\n"
      "C,elbow,,5,1,12\n"
      "a,elbow,24,5,1,\n"
      ",elbow,24,5,1,\n"
      "F,elbo,24,5,1,\n"
      "G,elbow,24,5,1,,7\n"
      "H,elbow,\"24,5\",5,1\n"
      "I,elbow,24,5,1\n");
  EXPECT_EQ(
      lines(job.problems),
      "plan.csv:4: B: diameter = 24x: unknown unit 'x'; use mm, cm, m, in, ft (allowed: over 0 in, at most "
      "120 "
      "in)\n"
      "plan.csv:4: B: gores = 1: is too small (allowed: at least 2, at most 24)\n"
      "plan.csv:5: C: length = 12: not a key of kind elbow, but of reducer, straight\n"
      "plan.csv:5: C: diameter: is missing: inside diameter of the duct (allowed: over 0 in, at most 120 "
      "in)\n"
      "plan.csv:6: tag = a: repeats the tag of line 3; tags must differ in more than upper and lower "
      "case\n"
      "plan.csv:7: tag: is missing: the fitting's name on labels and files (allowed: 1 to 100 characters)\n"
      "plan.csv:8: F: kind = elbo: unknown kind of fitting, did you mean elbow? (allowed: elbow, reducer, "
      "straight)\n"
      "plan.csv:9: G: column 7 = 7: has no head; a separator inside a cell needs quotes around the cell\n"
      "plan.csv:10: H: diameter = 24,5: a comma is not taken: write a decimal point and no thousands mark, "
      "as in "
      "1.5 or 1000 (allowed: over 0 in, at most 120 in)\n");
  ASSERT_EQ(job.fittings.size(), 2u);
  EXPECT_EQ(job.fittings[1].tag, "I");
}

TEST(Schedule, MistakesOfTheHeadStopIt) {
  EXPECT_EQ(refusal("tag,kind,diametr,tag,length (furlong),count (pcs),weather\nA,elbow,24,B,1,1,1\n"),
            "plan.csv:1: column diametr: unknown column, did you mean diameter?\n"
            "plan.csv:1: column tag: stands twice in the head line\n"
            "plan.csv:1: column length (furlong): unknown unit 'furlong'; use mm, cm, m, in, ft\n"
            "plan.csv:1: column count (pcs): takes no unit\n"
            "plan.csv:1: column weather: unknown column\n"
            "plan.csv:1: has heads of its own, or titles above them: read makes a job file of it (allowed: "
            "linerwright read "
            "plan.csv --out job.toml)\n");
  EXPECT_EQ(refusal("diameter\n24\n"),
            "plan.csv:1: column tag: is missing\n"
            "plan.csv:1: column kind: is missing\n"
            "plan.csv:1: has heads of its own, or titles above them: read makes a job file of it (allowed: "
            "linerwright read "
            "plan.csv --out job.toml)\n");
  EXPECT_EQ(refusal("# units = inch\ntag,kind\n"),
            "plan.csv:1: # units = inch: unknown units (allowed: in, mm)\n");
  EXPECT_EQ(refusal("tag,kind,diameter\nA,elbow,\"24\n"),
            "plan.csv:2: a quote is opened here and never closed\n");
  EXPECT_EQ(refusal(""), "plan.csv: is empty: its first row must name the columns\n");
  EXPECT_EQ(refusal("tag,kind\n"), "plan.csv: holds no fittings: no row stands under the head line\n");
}

TEST(Schedule, BareLengthNeedsUnits) {
  const std::string text = "tag,kind,diameter,thickness\nA,elbow,24,1\n";
  EXPECT_EQ(
      refusal(text),
      "plan.csv:2: A: diameter = 24: a number without unit: say # units = in or # units = mm above the head "
      "line\n");
  JobDefaults defaults;
  defaults.units = Units::inch;
  EXPECT_DOUBLE_EQ(read(text, defaults).fittings.at(0).values.quantity("diameter"), 24 * k_in);
  EXPECT_DOUBLE_EQ(read("# units = mm\n" + text, defaults).fittings.at(0).values.quantity("diameter"), 24);
}

TEST(Schedule, FlagsWinOverARow) {
  JobDefaults defaults;
  defaults.units = Units::inch;
  defaults.liner["thickness"] = "2";
  const Job job = read("tag,kind,diameter,thickness\nA,elbow,24,1\nB,elbow,24,\n", defaults);
  EXPECT_EQ(lines(job.problems), "");
  EXPECT_DOUBLE_EQ(job.fittings.at(0).values.quantity("thickness"), 2 * k_in);
  EXPECT_DOUBLE_EQ(job.fittings.at(1).values.quantity("thickness"), 2 * k_in);
}

TEST(Schedule, DecimalCommaNeedsSemicolons) {
  const std::string head = "# units = mm\n";
  const Job job =
      read(head + "tag;kind;diameter;thickness;gores\nA;elbow;600,5;25,4 mm;5\nB,1;elbow;600;25;5\n");
  EXPECT_EQ(lines(job.problems), "");
  EXPECT_DOUBLE_EQ(job.fittings.at(0).values.quantity("diameter"), 600.5);
  EXPECT_DOUBLE_EQ(job.fittings.at(0).values.quantity("thickness"), 25.4);
  EXPECT_EQ(job.fittings.at(0).values.find("diameter")->written, "600.5");
  EXPECT_EQ(job.fittings.at(1).tag, "B,1");

  // Points are as good, but not both in one file: 1.500 may then mean either.
  EXPECT_EQ(refusal(head + "tag;kind;diameter;thickness\nA;elbow;600.5;25\n"), "no error\n");
  EXPECT_EQ(refusal(head + "tag;kind;diameter;thickness\nA;elbow;600,5;25\nB;elbow;1.500;25\n"),
            "no error\nplan.csv:4: B: diameter = 1.500: has a decimal point, but line 3 says that the file "
            "uses the "
            "comma\n");
  EXPECT_EQ(refusal(head + "# decimal = comma\ntag;kind;diameter;thickness\nB;elbow;1.500;25\n"),
            "no error\nplan.csv:4: B: diameter = 1.500: has a decimal point, but line 2 says that the file "
            "uses the "
            "comma\n");
  EXPECT_EQ(
      refusal(head + "# decimal = point\ntag;kind;diameter;thickness\nB;elbow;1,5;25\n"),
      "no error\nplan.csv:4: B: diameter = 1,5: has a decimal comma, but line 2 says that the file uses the "
      "point\n");
  EXPECT_EQ(refusal(head + "tag;kind;diameter;thickness\nB;elbow;1.234,5;25\n"),
            "no error\nplan.csv:3: B: diameter = 1.234,5: a comma is not taken: write a decimal point and no "
            "thousands "
            "mark, as in 1.5 or 1000 (allowed: over 0 mm, at most 3048 mm)\n");
  EXPECT_EQ(refusal("# decimal = comma\ntag,kind\nA,elbow\n"),
            "plan.csv:1: # decimal = comma: a decimal comma needs semicolons between the columns\n");
  EXPECT_EQ(refusal("# decimal = dot\ntag;kind\nA;elbow\n"),
            "plan.csv:1: # decimal = dot: unknown decimal mark (allowed: comma, point)\n");
}

TEST(Schedule, LineEndsAndByteOrderMarkDoNotMatter) {
  const Job job = read(
      "\xEF\xBB\xBF"
      "tag,kind,diameter,thickness\r\nA,elbow,24in,1in\r\n");
  EXPECT_EQ(lines(job.problems), "");
  EXPECT_EQ(job.fittings.at(0).line, 2);
}

// [[schedule]] in a job file.
struct ScheduleInJob : ::testing::Test {
  std::filesystem::path folder =
      std::filesystem::temp_directory_path() / ("schedule_test_" + std::to_string(getpid()));
  void SetUp() override { std::filesystem::create_directories(folder); }
  void TearDown() override { std::filesystem::remove_all(folder); }
  std::string write(const std::string& name, const std::string& text) const {
    std::ofstream(folder / name, std::ios::binary) << text;
    return (folder / name).string();
  }
};

TEST_F(ScheduleInJob, AddsRows) {
  const std::string plan =
      write("plan.csv", "tag,kind,diameter\nS-1,elbow,24\nS-2,elbow,7000\nE-1,elbow,24\n");
  const std::string metric = write("mm.csv", "# units = mm\ntag,kind,diameter\nM-1,elbow,600\n");
  const std::string file =
      write("job.toml",
            "[job]\nunits = \"in\"\n[liner]\nthickness = 1\n[[schedule]]\nfile = \"plan.csv\"\n"
            "[[schedule]]\nfile = \"mm.csv\"\n"
            "[[fitting]]\ntag = \"E-1\"\nkind = \"elbow\"\ndiameter = 24\n");
  const Job job = read_job(file, test_schema());
  EXPECT_EQ(
      lines(job.problems),
      plan +
          ":3: S-2: diameter = 7000: no round duct has this diameter (allowed: over 0 in, at most 120 in)\n" +
          plan + ":4: tag = E-1: repeats the tag of " + file +
          ":10; tags must differ in more than upper and lower case\n");
  ASSERT_EQ(job.fittings.size(), 3u);
  EXPECT_EQ(job.fittings[1].tag, "S-1");
  EXPECT_EQ(job.fittings[1].file, plan);
  EXPECT_DOUBLE_EQ(job.fittings[1].values.quantity("diameter"), 24 * k_in);
  EXPECT_DOUBLE_EQ(job.fittings[1].values.quantity("thickness"), k_in);
  EXPECT_EQ(job.fittings[2].tag, "M-1");
  EXPECT_EQ(job.fittings[2].file, metric);
  EXPECT_EQ(job.fittings[2].units, Units::metric);
  EXPECT_DOUBLE_EQ(job.fittings[2].values.quantity("diameter"), 600);
  // What a row takes over from [liner] is told with the job file's line.
  EXPECT_EQ(one_line(problem_of(job.fittings[1], "thickness", "", "too thick")),
            file + ":4: S-1: thickness = 1: too thick");
}

TEST_F(ScheduleInJob, MistakesNameTheSchedule) {
  const std::string plan = write("plan.csv", "tag,kind,diametr\nS-1,elbow,24\n");
  const std::string missing = (folder / "none.csv").string();
  const std::string file = write("job.toml",
                                 "[[schedule]]\nfile = \"plan.csv\"\n[[schedule]]\nfile = \"none.csv\"\n"
                                 "[[schedule]]\n[[schedule]]\nfile = 3\n[[schedule]]\nfile = \"x.toml\"\n");
  try {
    read_job(file, test_schema());
    FAIL();
  } catch (const InputError& error) {
    EXPECT_EQ(lines(error.problems()),
              file + ":5: file: is missing: the schedule, a .csv file\n" + file +
                  ":7: file = 3: takes text in quotes\n" + file +
                  ":9: file = x.toml: is not a schedule (allowed: a file that ends in .csv)\n" + missing +
                  ": there is no such file\n" + plan +
                  ":1: column diametr: unknown column, did you mean diameter?\n");
  }
}

}  // namespace
}  // namespace linerwright
