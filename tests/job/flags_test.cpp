// One fitting from flags.
#include <gtest/gtest.h>

#include "job/schema.hpp"

namespace linerwright {
namespace {

using testing::lines;
using testing::test_schema;

std::string refusal(const std::string& kind, const std::map<std::string, std::string>& flags) {
  try {
    request_from_flags(kind, flags, Units::inch, test_schema());
  } catch (const InputError& error) {
    return lines(error.problems());
  }
  return "no error\n";
}

TEST(Flags, MakeOneFitting) {
  const FittingRequest request = request_from_flags("reducer",
                                                    {{"diameter", "24"},
                                                     {"to-diameter", "500 mm"},
                                                     {"length", "1' 6\""},
                                                     {"eccentric", ""},
                                                     {"thickness", "1"}},
                                                    Units::inch, test_schema());
  EXPECT_EQ(request.tag, "reducer");
  EXPECT_EQ(request.kind, "reducer");
  EXPECT_EQ(request.count, 1);
  EXPECT_EQ(request.file, "");
  EXPECT_EQ(request.units, Units::inch);
  EXPECT_DOUBLE_EQ(request.values.quantity("diameter"), 609.6);
  EXPECT_DOUBLE_EQ(request.values.quantity("to_diameter"), 500);
  EXPECT_DOUBLE_EQ(request.values.quantity("length"), 457.2);
  EXPECT_DOUBLE_EQ(request.values.quantity("fit_allowance"), 19.05);
  EXPECT_TRUE(request.values.flag("eccentric"));
  EXPECT_EQ(one_line(problem_of(request, "to_diameter", "", "is larger")),
            "reducer: --to-diameter = 500 mm: is larger");
}

TEST(Flags, TagAndCountAreTaken) {
  const FittingRequest request = request_from_flags(
      "elbow", {{"tag", "E-7"}, {"count", "4"}, {"diameter", "24"}, {"thickness", "1"}, {"gores", "7"}},
      Units::metric, test_schema());
  EXPECT_EQ(request.tag, "E-7");
  EXPECT_EQ(request.count, 4);
  EXPECT_DOUBLE_EQ(request.values.quantity("diameter"), 24);
  EXPECT_EQ(request.values.integer("gores"), 7);
}

TEST(Flags, MistakesNameTheFlag) {
  EXPECT_EQ(refusal("reducer", {{"diameter", "24"}, {"thickness", "1x"}, {"lenght", "9"}}),
            "--lenght = 9: unknown key of kind reducer, did you mean length?\n"
            "--thickness = 1x: unknown unit 'x'; use mm, cm, m, in, ft (allowed: over 0 in, at most 4 "
            "in)\n"
            "--to-diameter: is missing: inside diameter of the small end (allowed: over 0 in, at most 120 "
            "in)\n");
  EXPECT_EQ(refusal("elbow", {{"diameter", "24"}, {"thickness", "1"}, {"gores", "five"}}),
            "--gores = five: 'five' is not a number (allowed: at least 2, at most 24)\n");
  EXPECT_EQ(refusal("reducer", {{"diameter", "24"},
                                {"to_diameter", "20"},
                                {"length", "9"},
                                {"thickness", "1"},
                                {"eccentric", "maybe"}}),
            "--eccentric = maybe: takes yes or no, true or false (allowed: true, false)\n");
  EXPECT_EQ(refusal("elbo", {}),
            "kind = elbo: unknown kind of fitting, did you mean elbow? (allowed: elbow, reducer, "
            "straight)\n");
  EXPECT_EQ(refusal("elbow", {{"diameter", "0"}, {"thickness", "1"}, {"tag", "E-1"}}),
            "E-1: --diameter = 0: no round duct has this diameter (allowed: over 0 in, at most 120 in)\n");
  EXPECT_EQ(refusal("elbow", {{"diameter", "24"}, {"thickness", "1"}, {"tag", "a/b"}}),
            "--tag = a/b: holds a slash, and files are named after tags (allowed: 1 to 100 characters, no "
            "slash)\n");
  EXPECT_EQ(refusal("elbow", {{"diameter", "24"}, {"thickness", "1"}, {"tag", "a\xFF"}}),
            "--tag = a\\xff: is not UTF-8 text\n");
}

}  // namespace
}  // namespace linerwright
