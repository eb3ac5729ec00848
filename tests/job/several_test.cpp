// Keys that hold several values, one a branch.
#include <gtest/gtest.h>

#include "job/schema.hpp"

namespace linerwright {
namespace {

using testing::lines;

JobSchema schema() {
  return testing::several_schema();
}

std::string head() {
  return "[job]\nunits = \"in\"\n[liner]\nthickness = 1\n[[fitting]]\ntag = \"T\"\nkind = "
         "\"straight\"\nlength = 20\n";
}

TEST(Several, TomlList) {
  const Job job = read_job_text(head() + "diameter = [24, \"500mm\", \"1' 6\\\"\"]\n", "job.toml", schema());
  ASSERT_TRUE(job.problems.empty()) << lines(job.problems);
  const FittingRequest& request = job.fittings.at(0);
  const std::vector<double> values = request.values.list("diameter");
  ASSERT_EQ(values.size(), 3u);
  EXPECT_DOUBLE_EQ(values[0], 609.6);
  EXPECT_DOUBLE_EQ(values[1], 500.0);
  EXPECT_DOUBLE_EQ(values[2], 457.2);
  // what was written makes the same request again
  const FittingRequest again = request_from_flags(
      "straight",
      {{"diameter", request.values.find("diameter")->written}, {"length", "20"}, {"thickness", "1"}},
      Units::inch, schema());
  EXPECT_EQ(again.values.list("diameter"), values);
}

TEST(Several, OneValueStaysOne) {
  const Job job = read_job_text(head() + "diameter = [24]\n", "job.toml", schema());
  EXPECT_DOUBLE_EQ(job.fittings.at(0).values.quantity("diameter"), 609.6);
  EXPECT_EQ(job.fittings.at(0).values.list("diameter").size(), 1u);
}

TEST(Several, FlagsAndCells) {
  const FittingRequest request =
      request_from_flags("straight", {{"diameter", "24&12in & 300mm"}, {"length", "20"}, {"thickness", "1"}},
                         Units::inch, schema());
  EXPECT_EQ(request.values.list("diameter").size(), 3u);
  const Job job = read_job_text("# units = in\ntag,kind,length,thickness,diameter\nT,straight,20,1,24 & 12\n",
                                "s.csv", schema());
  ASSERT_TRUE(job.problems.empty()) << lines(job.problems);
  const std::vector<double> cells = job.fittings.at(0).values.list("diameter");
  ASSERT_EQ(cells.size(), 2u);
  EXPECT_DOUBLE_EQ(cells[0], 609.6);
  EXPECT_DOUBLE_EQ(cells[1], 304.8);
}

TEST(Several, DecimalCommasInEach) {
  const std::string top = "# units = mm\ntag;kind;length;thickness;diameter\n";
  const Job job = read_job_text(top + "T;straight;200;25,4;300,5 & 200,25\n", "s.csv", schema());
  ASSERT_TRUE(job.problems.empty()) << lines(job.problems);
  EXPECT_EQ(job.fittings.at(0).values.list("diameter"), (std::vector<double>{300.5, 200.25}));
  EXPECT_EQ(
      lines(read_job_text(top + "T;straight;200;25,4;300,5 & 200.25\n", "s.csv", schema()).problems),
      "s.csv:3: T: diameter = 300,5 & 200.25: has a decimal point, but line 3 says that the file uses the "
      "comma\n");
}

TEST(Several, HeadUnitCountsForEach) {
  const Job job = read_job_text(
      "tag,kind,length (mm),thickness (mm),diameter (cm)\nT,straight,200,25,30 & 8in\n", "s.csv", schema());
  ASSERT_TRUE(job.problems.empty()) << lines(job.problems);
  EXPECT_EQ(job.fittings.at(0).values.list("diameter"), (std::vector<double>{300.0, 203.2}));
}

TEST(Several, WithoutUnitsIsRefused) {
  EXPECT_EQ(testing::refusal("[liner]\nthickness = \"1in\"\n[[fitting]]\ntag = \"T\"\nkind = \"straight\"\n"
                             "length = \"20in\"\ndiameter = [\"12in\", 8]\n",
                             "job.toml", {}, schema()),
            "job.toml:7: T: diameter = [\"12in\", 8]: a number without unit: say units = \"in\" or units = "
            "\"mm\" in [job]\n");
}

// Written again as flags, a list makes the same request, whatever its values look like.
TEST(Several, WrittenFormReadsBack) {
  for (const std::string list : {"[24, 12]", "[24.0, 1e1]", "[ \"1' 6\\\"\", \"3/4in\", \"300mm\" ]", "[7]",
                                 "[\n24,\n12\n]", "[\"24 & 12\", 8]", "\"24&12\"", "24", "\"1-1/2\""}) {
    const Job job = read_job_text(head() + "diameter = " + list + "\n", "job.toml", schema());
    ASSERT_TRUE(job.problems.empty()) << list << lines(job.problems);
    const Values& values = job.fittings.at(0).values;
    const FittingRequest again = request_from_flags(
        "straight", {{"diameter", values.find("diameter")->written}, {"length", "20"}, {"thickness", "1"}},
        Units::inch, schema());
    EXPECT_EQ(again.values.list("diameter"), values.list("diameter")) << list;
    EXPECT_EQ(again.values.find("diameter")->written, values.find("diameter")->written) << list;
  }
}

TEST(Several, IsShownInTheSample) {
  EXPECT_NE(sample_job(schema(), "straight").find("(over 0 in, at most 120 in; [a, b] for several)"),
            std::string::npos);
}

TEST(Several, MistakesSayWhichValue) {
  const std::string allowed = " (allowed: over 0 in, at most 120 in)\n";
  const std::string takes =
      "takes a number, text with a unit in quotes, or a list of these (allowed: over 0 in, at most 120 in)\n";
  std::string many = "1";
  for (int i = 0; i < 16; ++i) many += " & 1";
  const std::vector<std::pair<std::string, std::string>> rows = {
      {"diameter = [24, \"12 inn\"]",
       "diameter = [24, \"12 inn\"]: value 2: unknown unit 'inn'; use mm, cm, m, in, ft" + allowed},
      {"diameter = [-3, 12, 121]",
       "diameter = [-3, 12, 121]: value 1: no round duct has this diameter" + allowed +
           "job.toml:9: T: diameter = [-3, 12, 121]: value 3: no round duct has this diameter" + allowed},
      {"diameter = [24, nan]", "diameter = [24, nan]: value 2: 'nan' is not a number" + allowed},
      {"diameter = \"24 &\"",
       "diameter = 24 &: value 2: nothing is written; write it as in 24in or 600 mm" + allowed},
      {"diameter = []", "diameter = []: nothing is written; write it as in 24in or 600 mm" + allowed},
      {"diameter = [24, [12]]", "diameter = [24, [12]]: " + takes},
      {"diameter = [24, true]", "diameter = [24, true]: " + takes},
      {"diameter = [24, {a = 1}]", "diameter = [24, {a = 1}]: " + takes},
      {"diameter = \"" + many + "\"",
       "diameter = " + many.substr(0, 60) + "...: holds too many values (allowed: at most 16 values)\n"},
      {"diameter = 24\nfit_allowance = [1, 2]",
       "fit_allowance = [1, 2]: takes one value, not a list (allowed: at least 0 in, at most 120 in)\n"},
      {"diameter = 24\nfit_allowance = \"1 & 2\"",
       "fit_allowance = 1 & 2: takes one value, not several (allowed: at least 0 in, at most "
       "120 "
       "in)\n"},
      {"diameter = 24\nnote = [\"a\"]", "note = [\"a\"]: takes one value, not a list\n"},
  };
  for (const auto& [line, message] : rows) {
    const int number = line.find('\n') == std::string::npos ? 9 : 10;
    EXPECT_EQ(lines(read_job_text(head() + line + "\n", "job.toml", schema()).problems),
              "job.toml:" + std::to_string(number) + ": T: " + message);
  }
}

}  // namespace
}  // namespace linerwright
