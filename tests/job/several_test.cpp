// Keys that hold several values, one a branch.
#include <gtest/gtest.h>

#include "job/schema.hpp"

namespace linerwright {
namespace {

using testing::lines;

JobSchema schema() {
  JobSchema made = testing::test_schema();
  for (KindSchema& kind : made.kinds)
    for (KeySpec& key : kind.keys) key.many = key.name == "diameter";
  return made;
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

TEST(Several, MistakesSayWhichValue) {
  const auto refusal = [](const std::string& line) {
    return lines(read_job_text(head() + line, "job.toml", schema()).problems);
  };
  EXPECT_NE(refusal("diameter = [24, \"12 inn\"]\n").find("value 2: "), std::string::npos);
  EXPECT_NE(refusal("diameter = [-3, 12]\n").find("value 1: no round duct has this diameter"),
            std::string::npos);
  EXPECT_NE(refusal("diameter = [24, [12]]\n").find("takes a number"), std::string::npos);
  EXPECT_NE(refusal("diameter = []\n").find("job.toml:9"), std::string::npos);
  EXPECT_NE(refusal("diameter = 24\nfit_allowance = [1, 2]\n").find("takes one value, not a list"),
            std::string::npos);
  std::string many = "1";
  for (int i = 0; i < 20; ++i) many += " & 1";
  EXPECT_NE(refusal("diameter = \"" + many + "\"\n").find("too many values"), std::string::npos);
}

}  // namespace
}  // namespace linerwright
