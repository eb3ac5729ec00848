// What a request keeps as written makes the same request again, whatever units and forms it came from.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>

#include "job/schema.hpp"

namespace linerwright {
namespace {

using testing::lines;
using testing::made_again;
using testing::several_schema;

// Compares all values and returns how `key` is kept.
std::string kept(const std::string& text, const std::string& file, const std::string& key) {
  const Job job = read_job_text(text, file, several_schema());
  if (!job.problems.empty()) return lines(job.problems);
  const FittingRequest& request = job.fittings.at(0);
  const FittingRequest made = made_again(request, several_schema());
  for (const auto& [name, value] : request.values.all()) {
    const Value* other = made.values.find(name);
    if (other == nullptr || other->data != value.data)
      return name + " = " + value.written + " reads differently";
  }
  return request.values.find(key)->written;
}

std::string toml(const std::string& diameter, const std::string& more = "") {
  return "[job]\nunits = \"in\"\n[liner]\nthickness = 1\n[[fitting]]\ntag = \"E\"\nkind = "
         "\"elbow\"\ndiameter = " +
         diameter + "\n" + more;
}

TEST(Written, FromJobFiles) {
  EXPECT_EQ(kept(toml("24"), "j.toml", "diameter"), "24");
  EXPECT_EQ(kept(toml("\" 2' 6 \""), "j.toml", "diameter"), " 2' 6 ");
  EXPECT_EQ(kept(toml("0x18"), "j.toml", "diameter"), "24");
  EXPECT_EQ(kept(toml("1_0.5"), "j.toml", "diameter"), "10.5");
  EXPECT_EQ(kept(toml("[0b11, \"300 mm\"]"), "j.toml", "diameter"), "3 & 300 mm");
  EXPECT_EQ(kept(toml("24", "gores = 0x5\n"), "j.toml", "gores"), "5");
  EXPECT_EQ(kept(toml("24", "gores = 1_2\n"), "j.toml", "gores"), "12");
  EXPECT_EQ(kept(toml("24", "angle = 0.1\n"), "j.toml", "angle"), "0.1");
}

TEST(Written, FromSchedules) {
  const auto cell = [](const std::string& head, const std::string& text) {
    return kept("# units = mm\ntag;kind;thickness;" + head + "\nE;elbow;25,4;" + text + "\n", "s.csv",
                "diameter");
  };
  EXPECT_EQ(cell("diameter", "300"), "300");
  EXPECT_EQ(cell("diameter", "300,5"), "300.5");
  EXPECT_EQ(cell("diameter (cm)", "30"), "30 cm");
  EXPECT_EQ(cell("diameter (cm)", "30,5"), "30.5 cm");
  EXPECT_EQ(cell("diameter (in)", "12 1/2"), "12 1/2 in");
  EXPECT_EQ(cell("diameter (in)", "12 & 300 mm & 8"), "12 in & 300 mm & 8 in");
  EXPECT_EQ(cell("diameter (ft)", "0,7"), "0.7 ft");
}

// [liner] in the job's inches, the fitting in a schedule's millimetres; the flags' units beside a file's.
TEST(Written, FromALinerInOtherUnits) {
  const std::filesystem::path folder = std::filesystem::temp_directory_path() / "linerwright_written_test";
  std::filesystem::create_directories(folder);
  std::ofstream(folder / "s.csv") << "# units = mm\ntag,kind,diameter\nE,elbow,600\n";
  const Job job =
      read_job_text("[job]\nunits = \"in\"\n[liner]\nthickness = 1\n[[schedule]]\nfile = \"s.csv\"\n",
                    folder / "j.toml", several_schema());
  std::filesystem::remove_all(folder);
  ASSERT_EQ(lines(job.problems), "");
  const FittingRequest& request = job.fittings.at(0);
  EXPECT_EQ(request.units, Units::metric);
  EXPECT_EQ(request.values.find("thickness")->written, "1 in");
  EXPECT_DOUBLE_EQ(made_again(request, several_schema()).values.quantity("thickness"), 25.4);

  JobDefaults defaults;
  defaults.units = Units::inch;
  defaults.liner["thickness"] = "1";
  const Job flagged =
      read_job_text("# units = mm\ntag,kind,diameter\nE,elbow,600\n", "s.csv", several_schema(), defaults);
  ASSERT_EQ(lines(flagged.problems), "");
  EXPECT_EQ(made_again(flagged.fittings.at(0), several_schema()).values.quantity("thickness"),
            flagged.fittings.at(0).values.quantity("thickness"));
}

}  // namespace
}  // namespace linerwright
