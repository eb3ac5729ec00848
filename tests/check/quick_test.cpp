// Random fittings of all kinds pass what `make` checks itself, and each of those checks can fail.
// LINERWRIGHT_CASES multiplies the number of fittings.
#include <gtest/gtest.h>

#include <cstdlib>
#include <map>
#include <random>

#include "linerwright/check.hpp"
#include "linerwright/error.hpp"
#include "support/requests.hpp"

namespace linerwright {
namespace {

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

class Chance {
 public:
  explicit Chance(unsigned seed) : engine_(seed) {}
  double between(double low, double high) {
    return low + (high - low) * (static_cast<double>(engine_()) / 4294967296.0);
  }
  bool one_in(int n) { return between(0.0, n) < 1.0; }
  std::string number(double low, double high) { return fixed(between(low, high), 3); }
  const char* pick(std::initializer_list<const char*> all) {
    return *(all.begin() + static_cast<std::ptrdiff_t>(between(0.0, static_cast<double>(all.size()) - 1e-9)));
  }

 private:
  std::mt19937 engine_;
};

Flags random_flags(Chance& chance, const std::string& kind) {
  const double d = chance.between(150.0, 900.0);
  Flags flags{{"diameter", fixed(d, 3)}, {"thickness", chance.number(8.0, std::min(50.0, 0.25 * d))}};
  flags["face_up"] = chance.pick({"duct", "air"});
  flags["cut"] = chance.pick({"outer", "mid", "duct", "air", "tilt"});
  if (chance.one_in(3)) flags["neutral_factor"] = chance.number(0.0, 0.6);
  if (chance.one_in(3)) flags["end_allowance"] = chance.number(1.0, 30.0);
  if (kind == "straight") {
    flags["length"] = chance.number(50.0, 3000.0);
  } else if (kind == "elbow") {
    flags["angle"] = chance.number(15.0, 120.0);
    flags["pieces"] = chance.pick({"2", "3", "4", "5", "7"});
    flags["radius_ratio"] = chance.number(1.0, 2.0);
    flags["collar"] = chance.number(0.0, 120.0);
    flags["form"] = chance.pick({"gored", "smooth"});
    flags["seam"] = chance.pick({"throat", "heel"});
  } else if (kind == "reducer") {
    flags["to_diameter"] = fixed(d * chance.between(0.6, 1.4), 3);
    flags["length"] = fixed(d * chance.between(0.5, 2.0), 3);
    flags["collar"] = chance.pick({"0", "60", "120"});
    flags["to_collar"] = chance.pick({"0", "60", "120"});
    flags["flat_at"] = chance.number(0.0, 360.0);
    if (chance.one_in(2))
      flags["flat"] = "yes";
    else if (chance.one_in(2))
      flags["offset"] = fixed(d * chance.between(0.0, 0.2), 3);
    if (chance.one_in(3)) flags["pattern"] = "notched";
  } else {
    const double angle = chance.between(35.0, 145.0);
    const double branch = d * chance.between(0.35, 1.0);
    const double reach = (d + branch) / std::sin(angle * k_pi / 180.0);
    flags["branch_diameter"] = fixed(branch, 3);
    flags["angle"] = fixed(angle, 3);
    flags["length"] = fixed(2.0 * reach + 200.0, 3);
    flags["branch_length"] = fixed(1.2 * reach + 150.0, 3);
    flags["offset"] = fixed(0.5 * (d - branch) * chance.between(-0.9, 0.9), 3);
    flags["around"] = chance.number(-180.0, 180.0);
    flags["joint"] = chance.pick({"mitre", "mitre", "over"});
  }
  return flags;
}

TEST(QuickChecks, PassForRandomFittings) {
  Chance chance(20240611);
  const char* factor = std::getenv("LINERWRIGHT_CASES");
  const int wanted = 150 * (factor != nullptr ? std::max(1, std::atoi(factor)) : 1);
  std::map<std::string, int> made;
  int total = 0;
  for (int tried = 0; total < wanted && tried < 4 * wanted; ++tried) {
    const std::string kind = chance.pick({"straight", "elbow", "reducer", "tee"});
    const Flags flags = random_flags(chance, kind);
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
  for (const char* kind : {"straight", "elbow", "reducer", "tee"}) EXPECT_GE(made[kind], wanted / 10) << kind;
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
