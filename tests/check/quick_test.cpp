// Random fittings of all kinds pass what `make` checks itself, and each of those checks can fail.
#include <gtest/gtest.h>

#include <algorithm>

#include <map>

#include "linerwright/check/check.hpp"
#include "linerwright/units/error.hpp"
#include "support/random_fittings.hpp"

namespace linerwright {
namespace {

using support::Chance;
using support::Flags;
using support::with;

std::string failed_of(const std::vector<CheckResult>& results) {
  std::string lines;
  for (const CheckResult& result : results)
    if (!result.pass) lines += one_line(result) + "\n";
  return lines;
}

bool fails(const std::vector<CheckResult>& results, const std::string& name) {
  return failed_of(results).find("FAIL  " + name) != std::string::npos;
}

TEST(QuickChecks, PassForRandomFittings) {
  Chance chance(20240611);
  const int wanted = support::cases(150);
  const std::vector<std::string> kinds = support::random_kinds();
  std::map<std::string, int> made;
  int total = 0;
  for (int tried = 0; total < wanted && tried < 4 * wanted; ++tried) {
    // the kind of which fewest are made: geometry refuses some kinds more often than others
    const std::string& kind = *std::min_element(
        kinds.begin(), kinds.end(), [&](const auto& a, const auto& b) { return made[a] < made[b]; });
    const support::Flags flags = support::random_flags(chance, kind);
    SCOPED_TRACE(support::written(kind, flags));
    Fitting fitting;
    try {
      fitting = support::fitting_from(kind, flags);
    } catch (const InputError&) {
      continue;  // outside what the kind allows
    }
    std::vector<CheckResult> results;
    ASSERT_NO_THROW(results = quick_checks(fitting, build_model(fitting), make_patterns(fitting)));
    EXPECT_EQ(failed_of(results), "");
    EXPECT_GE(results.size(), fitting.pieces.size() == 1 ? 3U : 4U) << "little was checked";
    ++made[kind];
    ++total;
  }
  EXPECT_EQ(total, wanted);
  for (const std::string& kind : kinds)
    EXPECT_GE(made[kind], wanted >= 150 ? wanted / 10 : wanted / 20) << kind;
}

TEST(QuickChecks, SeeWhatIsWrong) {
  const Flags flags{{"diameter", "300"},      {"length", "900"}, {"branch_diameter", "160"},
                    {"branch_length", "400"}, {"offset", "50"},  {"thickness", "25"}};
  const Fitting fitting = support::fitting_from("tee", flags);
  const Model model = build_model(fitting);
  const std::vector<Pattern> patterns = make_patterns(fitting);
  EXPECT_EQ(failed_of(quick_checks(fitting, model, patterns)), "");

  Model wrong = model;
  wrong.fill_error = 2e-8;
  EXPECT_TRUE(fails(quick_checks(fitting, wrong, patterns), "fill"));
  wrong = model;
  wrong.volume_error = 2e-7;
  EXPECT_TRUE(fails(quick_checks(fitting, wrong, patterns), "volumes"));
  wrong = model;
  wrong.curve_deviation = 2e-3;
  EXPECT_TRUE(fails(quick_checks(fitting, wrong, patterns), "joint curves"));

  // a board bent for a branch of another size no longer meets its hole
  Fitting other = fitting;
  const Fitting larger = support::fitting_from("tee", with(flags, {{"branch_diameter", "160.1"}}));
  other.walls.at(1).sheet = larger.walls.at(1).sheet;
  EXPECT_TRUE(fails(quick_checks(other, model, patterns), "edges that meet"));

  // the patterns of a branch that is longer by a millimetre
  const Fitting longer = support::fitting_from("tee", with(flags, {{"branch_length", "401"}}));
  EXPECT_TRUE(fails(quick_checks(fitting, model, make_patterns(longer)), "pattern areas"));
}

}  // namespace
}  // namespace linerwright
