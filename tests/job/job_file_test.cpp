// Job files: what is read, and every mistake outside a fitting with its exact message.
#include <gtest/gtest.h>

#include "job/schema.hpp"

namespace linerwright {
namespace {

using testing::lines;
using testing::refusal;
using testing::test_schema;

constexpr double k_in = 25.4;  // exact: international yard and pound agreement, 1959
const std::string k_fitting =
    "[[fitting]]\ntag = \"A\"\nkind = \"elbow\"\ndiameter = \"24in\"\nthickness = \"1in\"\n";

Job read(const std::string& text, const JobDefaults& defaults = {}) {
  return read_job_text(text, "job.toml", test_schema(), defaults);
}

TEST(JobFile, ReadsEveryTable) {
  const Job job = read(R"([job]
name = "Ropewalk Mill"
units = "in"

[liner]
thickness = 1.50
neutral_factor = 0.5

[air]
viscosity = "15 mm2/s"

[[stock]]
width = 48
[[stock]]
width = "1.2 m"

[[fitting]]
tag = "E-1"
kind = "elbow"
diameter = 24
angle = 45
collar = "2 1/2"
[[fitting]]
tag = "R-1"
kind = "reducer"
count = 3
diameter = "600 mm"
to_diameter = "20in"
length = 1_0
eccentric = true
thickness = "25 mm"
)");
  EXPECT_EQ(lines(job.problems), "");
  EXPECT_EQ(job.name, "Ropewalk Mill");
  EXPECT_EQ(job.units, Units::inch);
  EXPECT_DOUBLE_EQ(job.tables.at("liner").quantity("thickness"), 1.5 * k_in);
  EXPECT_DOUBLE_EQ(job.tables.at("air").quantity("viscosity"), 1.5e-5);
  ASSERT_EQ(job.lists.at("stock").size(), 2u);
  EXPECT_DOUBLE_EQ(job.lists.at("stock")[0].quantity("width"), 48 * k_in);
  EXPECT_DOUBLE_EQ(job.lists.at("stock")[1].quantity("width"), 1200);
  ASSERT_EQ(job.fittings.size(), 2u);

  const FittingRequest& elbow = job.fittings[0];
  EXPECT_EQ(elbow.tag, "E-1");
  EXPECT_EQ(elbow.kind, "elbow");
  EXPECT_EQ(elbow.count, 1);
  EXPECT_EQ(elbow.units, Units::inch);
  EXPECT_EQ(elbow.file, "job.toml");
  EXPECT_EQ(elbow.line, 17);
  EXPECT_DOUBLE_EQ(elbow.values.quantity("diameter"), 24 * k_in);
  EXPECT_DOUBLE_EQ(elbow.values.quantity("angle"), 3.14159265358979323846 / 4);
  EXPECT_DOUBLE_EQ(elbow.values.quantity("collar"), 2.5 * k_in);
  EXPECT_EQ(elbow.values.integer("gores"), 5);
  EXPECT_EQ(elbow.values.text("form"), "gored");
  EXPECT_DOUBLE_EQ(elbow.values.quantity("thickness"), 1.5 * k_in);
  EXPECT_DOUBLE_EQ(elbow.values.quantity("fit_allowance"), 0.75 * k_in);
  EXPECT_DOUBLE_EQ(elbow.values.quantity("neutral_factor"), 0.5);

  const FittingRequest& reducer = job.fittings[1];
  EXPECT_EQ(reducer.count, 3);
  EXPECT_DOUBLE_EQ(reducer.values.quantity("diameter"), 600);
  EXPECT_DOUBLE_EQ(reducer.values.quantity("to_diameter"), 20 * k_in);
  EXPECT_DOUBLE_EQ(reducer.values.quantity("length"), 10 * k_in);
  EXPECT_TRUE(reducer.values.flag("eccentric"));
  EXPECT_DOUBLE_EQ(reducer.values.quantity("thickness"), 25);
}

TEST(JobFile, TellsWhatWasWritten) {
  const Job job = read(
      "[job]\nunits = \"in\"\n[liner]\nthickness = 1.50  # board\n[[fitting]]\ntag = \"A\"\n"
      "kind = \"elbow\"\ndiameter = \"24 in\"\n");
  ASSERT_EQ(job.fittings.size(), 1u);
  const Values& values = job.fittings[0].values;
  EXPECT_EQ(values.find("thickness")->written, "1.50");
  EXPECT_EQ(values.find("thickness")->line, 4);
  EXPECT_TRUE(values.given("thickness"));
  EXPECT_EQ(values.find("diameter")->written, "24 in");
  EXPECT_EQ(values.find("angle")->written, "90");
  EXPECT_FALSE(values.given("angle"));
  EXPECT_FALSE(values.given("collar"));
  EXPECT_EQ(values.find("collar"), nullptr);
  EXPECT_EQ(values.maybe("collar"), std::nullopt);
  EXPECT_THROW(values.quantity("collar"), std::out_of_range);
  EXPECT_FALSE(values.flag("eccentric"));

  EXPECT_EQ(one_line(problem_of(job.fittings[0], "thickness", "under 12 in", "liner closes the bore")),
            "job.toml:4: A: thickness = 1.50: liner closes the bore (allowed: under 12 in)");
  EXPECT_EQ(one_line(problem_of(job.fittings[0], "collar", "", "is needed")),
            "job.toml:5: A: collar: is needed");
}

TEST(JobFile, HoldsDefaultsOfTablesNotWritten) {
  const Job job = read(k_fitting);
  EXPECT_DOUBLE_EQ(job.tables.at("air").quantity("viscosity"), 1.5e-5);
  EXPECT_DOUBLE_EQ(job.tables.at("liner").quantity("fit_allowance"), 19.05);
  EXPECT_FALSE(job.tables.at("liner").has("thickness"));
  EXPECT_TRUE(job.lists.at("stock").empty());
}

TEST(JobFile, OneTableOfAListNeedsNoDoubleBrackets) {
  const Job job = read(
      "[stock]\nwidth = \"48in\"\n[fitting]\ntag = \"A\"\nkind = \"straight\"\ndiameter = \"24in\"\n"
      "length = \"5ft\"\nthickness = \"1in\"\n");
  EXPECT_EQ(job.lists.at("stock").size(), 1u);
  EXPECT_EQ(job.fittings.size(), 1u);
}

TEST(JobFile, LineEndsAndByteOrderMarkDoNotMatter) {
  std::string text = "\xEF\xBB\xBF";
  for (const char c : "[job]\nunits = \"in\"\n" + k_fitting) text += c == '\n' ? "\r\n" : std::string(1, c);
  const Job job = read(text);
  ASSERT_EQ(job.fittings.size(), 1u);
  EXPECT_EQ(job.fittings[0].line, 3);
  EXPECT_DOUBLE_EQ(job.fittings[0].values.quantity("diameter"), 24 * k_in);
}

TEST(JobFile, BareLengthNeedsUnits) {
  const std::string bare =
      "[[fitting]]\ntag = \"A\"\nkind = \"elbow\"\ndiameter = 24\ncollar = 2\nthickness = \"1in\"\n";
  EXPECT_EQ(
      refusal(bare),
      "job.toml:4: A: diameter = 24: a number without unit: say units = \"in\" or units = \"mm\" in [job]\n");
  EXPECT_EQ(
      refusal("[liner]\nthickness = \"1\"\n" + k_fitting),
      "job.toml:2: thickness = 1: a number without unit: say units = \"in\" or units = \"mm\" in [job]\n");
  // Angles, whole numbers and zero are the same in both units.
  EXPECT_EQ(refusal(k_fitting + "angle = 45\ngores = 4\nfit_allowance = 0\n"), "no error\n");

  JobDefaults inch;
  inch.units = Units::inch;
  EXPECT_DOUBLE_EQ(read(bare, inch).fittings.at(0).values.quantity("diameter"), 24 * k_in);
  EXPECT_EQ(read(bare, inch).units, Units::inch);
  // The file's own units win.
  EXPECT_DOUBLE_EQ(read("[job]\nunits = \"mm\"\n" + bare, inch).fittings.at(0).values.quantity("diameter"),
                   24);
}

TEST(JobFile, MistakesOutsideFittingsStopTheJob) {
  const std::string heads = "[job], [liner], [air], [[stock]], [[default]], [[schedule]], [[fitting]]";
  EXPECT_EQ(refusal("[job]\nunits = \"inch\"\nnmae = \"x\"\n" + k_fitting),
            "job.toml:2: units = inch: unknown choice (allowed: in, mm)\n"
            "job.toml:3: nmae = x: unknown key of [job], did you mean name?\n");
  EXPECT_EQ(refusal("[linner]\nthickness = 1\n" + k_fitting),
            "job.toml:1: [linner]: unknown table, did you mean liner? (allowed: " + heads + ")\n");
  EXPECT_EQ(refusal("[weather]\nrain = 1\n" + k_fitting),
            "job.toml:1: [weather]: unknown table (allowed: " + heads + ")\n");
  EXPECT_EQ(refusal("[[pipes]]\nrain = 1\n" + k_fitting),
            "job.toml:1: [[pipes]]: unknown table (allowed: " + heads + ")\n");
  EXPECT_EQ(refusal("units = \"in\"\n" + k_fitting),
            "job.toml:1: units = in: stands outside any table: it belongs under " + heads + "\n");
  EXPECT_EQ(refusal("liner = 3\n" + k_fitting), "job.toml:1: liner = 3: is a table: write [liner]\n");
  EXPECT_EQ(refusal("stock = [1, 2]\n" + k_fitting),
            "job.toml:1: stock = [1, 2]: is a table: write [[stock]]\n");
  EXPECT_EQ(refusal("[[liner]]\nthickness = \"1in\"\n[[liner]]\n" + k_fitting),
            "job.toml:1: [[liner]]: is one table: write [liner] once\n"
            "job.toml:3: [[liner]]: is one table: write [liner] once\n");
  EXPECT_EQ(refusal("[liner]\nthicknes = \"1in\"\n" + k_fitting),
            "job.toml:2: thicknes = 1in: unknown key of [liner], did you mean thickness?\n");
  EXPECT_EQ(
      refusal("[liner]\nthickness = \"5in\"\n" + k_fitting),
      "job.toml:2: thickness = 5in: no board has this thickness (allowed: over 0 mm, at most 101.6 mm)\n");
  EXPECT_EQ(
      refusal("[air]\nviscosity = 1.0\n" + k_fitting),
      "job.toml:2: viscosity = 1.0: is too large (allowed: at least 0.000001 m2/s, at most 0.0001 m2/s)\n");
  EXPECT_EQ(refusal("[[stock]]\n" + k_fitting),
            "job.toml:1: width: is missing: across the board (allowed: over 0 mm, at most 3048 mm)\n");
  EXPECT_EQ(refusal("[job]\nunits = \"in\"\n[[stock]]\nwidth = true\n" + k_fitting),
            "job.toml:4: width = true: takes a number, or text with a unit in quotes (allowed: over 0 in, at "
            "most 120 "
            "in)\n");
  EXPECT_EQ(refusal("[job]\nname = 5\nunits = 1\n" + k_fitting),
            "job.toml:2: name = 5: takes text in quotes\n"
            "job.toml:3: units = 1: takes one of the words allowed, in quotes (allowed: in, mm)\n");
  EXPECT_EQ(refusal("[job]\nname = \"a\\nb\"\n" + k_fitting),
            "job.toml:2: name = a\\nb: holds a line break, a control character or an invisible mark\n");
}

TEST(JobFile, TellsMistakesOfFittingsToo) {
  EXPECT_EQ(
      refusal(k_fitting + "angle = 200\n[linner]\n"),
      "job.toml:6: A: angle = 200: is too large (allowed: over 0 deg, at most 180 deg)\n"
      "job.toml:7: [linner]: unknown table, did you mean liner? (allowed: [job], [liner], [air], [[stock]], "
      "[[default]], [[schedule]], [[fitting]])\n");
}

TEST(JobFile, NeedsAFitting) {
  EXPECT_EQ(refusal(""), "job.toml: holds no fittings: add a [[fitting]] table\n");
  EXPECT_EQ(refusal("[job]\nunits = \"in\"\n"), "job.toml: holds no fittings: add a [[fitting]] table\n");
}

TEST(JobFile, FlagsWinOverFileAndFitting) {
  const std::string fitting = "[[fitting]]\ntag = \"A\"\nkind = \"elbow\"\ndiameter = \"24in\"\n";
  JobDefaults defaults;
  defaults.liner = {{"thickness", "2in"}, {"fit-allowance", "1in"}};
  const Job job = read("[liner]\nfit_allowance = \"0.5in\"\n" + fitting, defaults);
  EXPECT_DOUBLE_EQ(job.fittings.at(0).values.quantity("thickness"), 2 * k_in);
  EXPECT_DOUBLE_EQ(job.fittings.at(0).values.quantity("fit_allowance"), k_in);
  EXPECT_DOUBLE_EQ(job.tables.at("liner").quantity("thickness"), 2 * k_in);
  EXPECT_EQ(one_line(problem_of(job.fittings[0], "thickness", "", "too thick")),
            "A: --thickness = 2in: too thick");
  EXPECT_DOUBLE_EQ(
      read(fitting + "thickness = \"1in\"\n", defaults).fittings.at(0).values.quantity("thickness"),
      2 * k_in);
  EXPECT_DOUBLE_EQ(
      read("[liner]\nthickness = \"1in\"\n" + fitting, defaults).fittings.at(0).values.quantity("thickness"),
      2 * k_in);

  // A bare flag takes the units given beside it, else the file's.
  defaults.liner = {{"thickness", "2"}};
  EXPECT_DOUBLE_EQ(
      read("[job]\nunits = \"mm\"\n" + fitting, defaults).fittings.at(0).values.quantity("thickness"), 2);
  defaults.units = Units::inch;
  EXPECT_DOUBLE_EQ(
      read("[job]\nunits = \"mm\"\n" + fitting, defaults).fittings.at(0).values.quantity("thickness"),
      2 * k_in);

  defaults.liner = {{"thickness", "9in"}, {"thicknes", "1"}};
  EXPECT_EQ(refusal(fitting, "job.toml", defaults),
            "--thicknes = 1: unknown liner flag, did you mean thickness?\n"
            "--thickness = 9in: no board has this thickness (allowed: over 0 in, at most 4 in)\n");
}

TEST(JobFile, LengthsThatAllNameInchesMakeAJobInInches) {
  const auto units = [](const std::string& diameter, const std::string& thickness) {
    const Job job = read("[liner]\nthickness = \"" + thickness +
                         "\"\n[[fitting]]\ntag = \"A\"\nkind = \"elbow\"\ndiameter = \"" + diameter + "\"\n");
    EXPECT_EQ(job.fittings.at(0).units, job.units);
    return job.units;
  };
  EXPECT_EQ(units("24in", "1in"), Units::inch);
  EXPECT_EQ(units("2ft", "1 in"), Units::inch);
  EXPECT_EQ(units("2' 6\\\"", "1\\\""), Units::inch);
  EXPECT_EQ(units("600 mm", "25 mm"), Units::metric);
  EXPECT_EQ(units("60cm", "1in"), Units::metric) << "mixed";
  const std::string rows = "tag,kind,diameter (in),thickness (in)\nA,elbow,24,1\n";
  EXPECT_EQ(read_job_text(rows, "plan.csv", test_schema()).units, Units::inch);
}

TEST(JobFile, ManyFittingsAreReadInReasonableTime) {
  std::string text = "[job]\nunits = \"in\"\n[liner]\nthickness = 1\n";
  for (int i = 0; i < 5000; ++i) {
    text += "[[fitting]]\ntag = \"T" + std::to_string(i) + "\"\nkind = \"elbow\"\ndiameter = 24\n";
  }
  const Job job = read(text);
  EXPECT_EQ(job.fittings.size(), 5000u);
  EXPECT_EQ(job.fittings.back().line, 4 + 4 * 4999 + 1);
}

}  // namespace
}  // namespace linerwright
