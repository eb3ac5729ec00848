// Mistakes inside a fitting: each with its exact message; the other fittings stand.
#include <gtest/gtest.h>

#include "job/schema.hpp"

namespace linerwright {
namespace {

using testing::lines;
using testing::refusal;
using testing::test_schema;

const std::string k_head = "[job]\nunits = \"in\"\n[liner]\nthickness = 1\n";                 // lines 1-4
const std::string k_good = "[[fitting]]\ntag = \"GOOD\"\nkind = \"elbow\"\ndiameter = 24\n";  // lines 5-8
const std::string k_elbow = "[[fitting]]\ntag = \"E\"\nkind = \"elbow\"\n";                   // lines 9-11
const std::string k_reducer =
    "[[fitting]]\ntag = \"R\"\nkind = \"reducer\"\ndiameter = 24\nlength = 9\n";  // lines 9-13

// The problems of a job whose first fitting is right; line 9 on is `text`.
std::string problems(const std::string& text) {
  const Job job = read_job_text(k_head + k_good + text, "job.toml", test_schema());
  EXPECT_EQ(job.fittings.size(), 1u) << text;
  EXPECT_EQ(job.fittings.at(0).tag, "GOOD");
  return lines(job.problems);
}

struct Mistake {
  std::string text;
  std::string message;
};

TEST(FittingMistake, IsToldExactly) {
  const std::string diameters = " (allowed: over 0 in, at most 120 in)\n";
  const std::vector<Mistake> rows = {
      {k_elbow + "diametr = 24\n",
       "job.toml:12: E: diametr = 24: unknown key of kind elbow, did you mean diameter?\n"},
      {k_elbow + "diameter = 24\nwhatever = 24\n",
       "job.toml:13: E: whatever = 24: unknown key of kind elbow\n"},
      {k_elbow + "diameter = 24\ncuont = 2\n",
       "job.toml:13: E: cuont = 2: unknown key of kind elbow, did you mean count?\n"},
      {k_elbow + "diameter = 24\nto_diameter = 20\n",
       "job.toml:13: E: to_diameter = 20: not a key of kind elbow, but of reducer\n"},
      {k_elbow, "job.toml:9: E: diameter: is missing: inside diameter of the duct" + diameters},
      {k_elbow + "diameter = true\n",
       "job.toml:12: E: diameter = true: takes a number, or text with a unit in quotes" + diameters},
      {k_elbow + "diameter = [24]\n",
       "job.toml:12: E: diameter = [24]: takes one value, not a list" + diameters},
      {k_elbow + "diameter = {a = 1}\n",
       "job.toml:12: E: diameter = {a = 1}: takes a number, or text with a unit in quotes" + diameters},
      {k_elbow + "diameter = 1979-05-27\n",
       "job.toml:12: E: diameter = 1979-05-27: takes a number, or text with a unit in quotes" + diameters},
      {k_elbow + "diameter = \"24 inn\"\n",
       "job.toml:12: E: diameter = 24 inn: unknown unit 'inn'; use mm, cm, m, in, ft" + diameters},
      {k_elbow + "diameter = \"24,5\"\n",
       "job.toml:12: E: diameter = 24,5: a comma is not taken: write a decimal point and no thousands mark, "
       "as in 1.5 "
       "or 1000" +
           diameters},
      {k_elbow + "diameter = \"\"\n",
       "job.toml:12: E: diameter: nothing is written; write it as in 24in or 600 mm" + diameters},
      {k_elbow + "diameter = nan\n", "job.toml:12: E: diameter = nan: 'nan' is not a number" + diameters},
      {k_elbow + "diameter = -inf\n", "job.toml:12: E: diameter = -inf: 'inf' is not a number" + diameters},
      {k_elbow + "diameter = 0\n",
       "job.toml:12: E: diameter = 0: no round duct has this diameter" + diameters},
      {k_elbow + "diameter = -0.0\n",
       "job.toml:12: E: diameter = -0.0: no round duct has this diameter" + diameters},
      {k_elbow + "diameter = -24\n",
       "job.toml:12: E: diameter = -24: no round duct has this diameter" + diameters},
      {k_elbow + "diameter = \"10' 1\\\"\"\n",
       "job.toml:12: E: diameter = 10' 1\": no round duct has this diameter" + diameters},
      {k_elbow + "diameter = 24\ncollar = -1\n", "job.toml:13: E: collar = -1: is too small" + diameters},
      {k_elbow + "diameter = 24\nangle = 181\n",
       "job.toml:13: E: angle = 181: is too large (allowed: over 0 deg, at most 180 deg)\n"},
      {k_elbow + "diameter = 24\ngores = 1\n",
       "job.toml:13: E: gores = 1: is too small (allowed: at least 2, at most 24)\n"},
      {k_elbow + "diameter = 24\ngores = 25\n",
       "job.toml:13: E: gores = 25: is too large (allowed: at least 2, at most 24)\n"},
      {k_elbow + "diameter = 24\ngores = 4.5\n",
       "job.toml:13: E: gores = 4.5: must be a whole number (allowed: at least 2, at most 24)\n"},
      {k_elbow + "diameter = 24\ngores = \"4\"\n",
       "job.toml:13: E: gores = 4: takes a whole number, without quotes (allowed: at least 2, at most 24)\n"},
      {k_elbow + "diameter = 24\nform = \"smoth\"\n",
       "job.toml:13: E: form = smoth: unknown choice, did you mean smooth? (allowed: gored, smooth)\n"},
      {k_elbow + "diameter = 24\nform = 1\n",
       "job.toml:13: E: form = 1: takes one of the words allowed, in quotes (allowed: gored, smooth)\n"},
      {k_reducer + "to_diameter = 20\neccentric = \"yes\"\n",
       "job.toml:15: R: eccentric = yes: takes true or false, without quotes (allowed: true, false)\n"},
      {k_elbow + "diameter = 24\nneutral_factor = \"0.5 in\"\n",
       "job.toml:13: E: neutral_factor = 0.5 in: write the number alone, without 'in' (allowed: at least 0, "
       "at most "
       "1)\n"},
      {k_elbow + "diameter = 24\nthickness = \"5in\"\n",
       "job.toml:13: E: thickness = 5in: no board has this thickness (allowed: over 0 in, at most 4 in)\n"},
      {k_elbow + "diameter = 24\ncount = 0\n",
       "job.toml:13: E: count = 0: cannot be how many of a fitting are made (allowed: at least 1, at most "
       "100000)\n"},
      {k_elbow + "diameter = 24\ncount = 100001\n",
       "job.toml:13: E: count = 100001: cannot be how many of a fitting are made (allowed: at least 1, at "
       "most "
       "100000)\n"},
      {k_elbow + "diameter = 24\ncount = \"two\"\n",
       "job.toml:13: E: count = two: takes a whole number, without quotes (allowed: at least 1, at most "
       "100000)\n"},
      {"[[fitting]]\ntag = \"X\"\nkind = \"elbo\"\ndiameter = 24\n",
       "job.toml:11: X: kind = elbo: unknown kind of fitting, did you mean elbow? (allowed: elbow, reducer, "
       "straight)\n"},
      {"[[fitting]]\ntag = \"X\"\nkind = \"offset\"\n",
       "job.toml:11: X: kind = offset: unknown kind of fitting (allowed: elbow, reducer, straight)\n"},
      {"[[fitting]]\ntag = \"X\"\nkind = 3\n",
       "job.toml:11: X: kind = 3: takes one of the words allowed, in quotes (allowed: elbow, reducer, "
       "straight)\n"},
      {"[[fitting]]\ntag = \"X\"\ndiameter = 24\n",
       "job.toml:9: X: kind: is missing: the kind of fitting (allowed: elbow, reducer, straight)\n"},
  };
  for (const Mistake& row : rows) EXPECT_EQ(problems(row.text), row.message);
}

TEST(FittingMistake, AllOfAFittingAreTold) {
  EXPECT_EQ(
      problems(
          "[[fitting]]\ntag = \"R\"\nkind = \"reducer\"\ndiameter = 0\nto_diameter = \"x\"\ngores = 3\n"),
      "job.toml:9: R: length: is missing: length of the fitting (allowed: over 0 in, at most 120 in)\n"
      "job.toml:12: R: diameter = 0: no round duct has this diameter (allowed: over 0 in, at most 120 in)\n"
      "job.toml:13: R: to_diameter = x: 'x' is not a number (allowed: over 0 in, at most 120 in)\n"
      "job.toml:14: R: gores = 3: not a key of kind reducer, but of elbow\n");
}

TEST(FittingMistake, RequiredLinerKeyMayStandInEither) {
  const std::string units = "[job]\nunits = \"in\"\n";
  EXPECT_EQ(refusal(units + k_good),
            "no error\njob.toml:3: GOOD: thickness: is missing: thickness of the board (allowed: over 0 in, "
            "at most 4 "
            "in)\n");
  EXPECT_EQ(refusal(units + k_good + "thickness = 1\n"), "no error\n");
  // Wrong in [liner]: told once, not again as missing in each fitting.
  EXPECT_EQ(refusal(units + "[liner]\nthickness = 0\n" + k_good),
            "job.toml:4: thickness = 0: no board has this thickness (allowed: over 0 in, at most 4 in)\n");
}

TEST(FittingRange, LimitsCountAsWritten) {
  // 120 in is the limit; the same length in other units is the limit too, a hair more is not.
  for (const std::string text : {"120", "\"10ft\"", "\"3048 mm\"", "\"304.8cm\"", "\"3.048m\""}) {
    EXPECT_EQ(refusal(k_head + k_elbow + "diameter = " + text + "\n"), "no error\n") << text;
  }
  EXPECT_EQ(refusal(k_head + k_elbow + "diameter = 120.000001\n"),
            "no error\njob.toml:8: E: diameter = 120.000001: no round duct has this diameter (allowed: over "
            "0 in, at "
            "most 120 in)\n");
  EXPECT_EQ(refusal(k_head + k_elbow + "diameter = 1e-9\n"), "no error\n");
}

TEST(FittingValue, WholeNumberMayCarryAPoint) {
  const Job job = read_job_text(k_head + k_elbow + "diameter = 24\ngores = 4.0\ncount = 0x10\n", "job.toml",
                                test_schema());
  ASSERT_EQ(lines(job.problems), "");
  EXPECT_EQ(job.fittings.at(0).values.integer("gores"), 4);
  EXPECT_EQ(job.fittings.at(0).count, 16);
}

TEST(FittingValue, ChoiceAndKindIgnoreCase) {
  const Job job =
      read_job_text(k_head + "[[fitting]]\ntag = \"E\"\nkind = \"Elbow\"\ndiameter = 24\nform = \"Smooth\"\n",
                    "job.toml", test_schema());
  ASSERT_EQ(lines(job.problems), "");
  EXPECT_EQ(job.fittings.at(0).kind, "elbow");
  EXPECT_EQ(job.fittings.at(0).values.text("form"), "smooth");
}

}  // namespace
}  // namespace linerwright
