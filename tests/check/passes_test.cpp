// Fittings of every kind pass the full proof from their files, and every part of it was done.
#include "pass_cases.hpp"
#include "support/cases.hpp"
#include "written.hpp"

namespace linerwright {
namespace {

using support::Flags;
using support::Written;

Flags lined(const PassCase& each, const std::string& face_up, const std::string& cut) {
  return support::with({{"thickness", "25"}, {"face_up", face_up}, {"cut", cut}}, each.flags);
}

// Every pattern has its checks, none was left out.
void expect_complete(const Written& written, const std::vector<CheckResult>& results, bool faces) {
  const auto need = [&](const std::string& name) { support::value_of(results, name); };
  for (const Pattern& pattern : written.patterns) {
    const bool notched = !written.fitting.notched.empty() && written.fitting.notched.front().id == pattern.id;
    need("audit " + pattern.id);
    need("cut " + pattern.id);
    if (notched) continue;
    need("knife " + pattern.id);
    if (!faces) continue;
    need("re-roll " + pattern.id);
    need("cover " + pattern.id);
  }
  if (!written.fitting.notched.empty()) need(faces ? "notches DUCT_FACE" : "notches CUT");
  for (const char* name :
       {"fill", "volumes", "joint curves", "step volumes", "bore slices", "closed metal", "closed liner",
        "closed bore", "stl volume liner", "stl edges metal", "stl edges liner", "stl edges bore"})
    need(name);
  if (written.fitting.pieces.size() > 1) {
    need("interference");
    need("edges that meet");
  }
}

class Passes : public testing::TestWithParam<PassCase> {};

TEST_P(Passes, DuctFaceUpMillimetres) {
  const Written written(GetParam().kind, lined(GetParam(), "duct", "outer"));
  const std::vector<CheckResult> results = written.check();
  EXPECT_EQ(support::listed(results), "");
  expect_complete(written, results, true);
  // the two ways of rolling agree far better than they have to
  for (const CheckResult& result : results)
    if (result.name.rfind("re-roll", 0) == 0) {
      EXPECT_LE(result.value, 0.02) << one_line(result);
    }
}

TEST_P(Passes, AirFaceUpInchesR12) {
  DxfOptions dxf;
  dxf.version = DxfVersion::r12;
  dxf.units = DxfUnits::inch;
  const Written written(GetParam().kind, lined(GetParam(), "air", "mid"), dxf);
  const std::vector<CheckResult> results = written.check();
  EXPECT_EQ(support::listed(results), "");
  expect_complete(written, results, true);
}

INSTANTIATE_TEST_SUITE_P(Kinds, Passes,
                         testing::ValuesIn(support::drawn("fittings", pass_cases(),
                                                          [](const PassCase& each) { return each.kind; })),
                         [](const auto& of) { return of.param.name; });

TEST(PassesPlain, CutOnlyAndSingleLayerUnderEveryPolicy) {
  for (const std::string& cut :
       support::drawn<std::string>("policies", {"outer", "mid", "duct", "air", "tilt"}))
    for (const char* name : {"elbow_allowances", "tee_butt", "reducer_notched"}) {
      const auto each = std::find_if(pass_cases().begin(), pass_cases().end(),
                                     [&](const PassCase& c) { return c.name == name; });
      DxfOptions dxf;
      dxf.cut_only = cut != "mid";
      dxf.single_layer = !dxf.cut_only;
      const Written written(each->kind, lined(*each, "air", cut), dxf);
      const std::vector<CheckResult> results = written.check();
      EXPECT_EQ(support::listed(results), "") << name << " " << cut;
      if (dxf.cut_only) expect_complete(written, results, false);
    }
}

// What both faces leave open has corners where their edges cross, and the butt allowance makes it smaller:
// there its edge lies further away than the allowance.
TEST(Passes, KnifeOfACommonHoleMadeSmaller) {
  const Written written("tee", {{"diameter", "253.1913"},
                                {"length", "3038.9"},
                                {"branch_diameter", "81.0059"},
                                {"branch_length", "952.6"},
                                {"angle", "41.186"},
                                {"offset", "-4.4782"},
                                {"joint", "over"},
                                {"thickness", "25"},
                                {"butt_allowance", "2.51"},
                                {"face_up", "air"},
                                {"cut", "outer"}});
  for (const Pattern& pattern : written.patterns)
    EXPECT_EQ(support::listed(written.check_pattern(pattern.id)), "") << pattern.id;
}

// Holes whose two faces do not overlap on the board: every cut that is made is made where it is said to be.
TEST(Passes, KnifeOfHolesWhoseFacesDoNotOverlap) {
  const std::vector<Flags> tees{{{"diameter", "500"},
                                 {"length", "1200"},
                                 {"branch_diameter", "125"},
                                 {"branch_length", "900"},
                                 {"angle", "45"},
                                 {"joint", "over"},
                                 {"thickness", "50"}},
                                {{"diameter", "500"},
                                 {"length", "1200"},
                                 {"branch_diameter", "60"},
                                 {"branch_length", "600"},
                                 {"angle", "45"},
                                 {"thickness", "25"}},
                                {{"diameter", "71.8054"},
                                 {"length", "1098.12"},
                                 {"branch_diameter", "30&30"},
                                 {"branch_length", "255.198&127.274"},
                                 {"angle", "15&45"},
                                 {"position", "241.946&541.008"},
                                 {"around", "-292.216&180"},
                                 {"offset", "0&-20.9027"},
                                 {"joint", "over"},
                                 {"thickness", "13.5"},
                                 {"fit_allowance", "0"}},
                                {{"diameter", "159.249"},
                                 {"length", "496.54"},
                                 {"branch_diameter", "49.2437&88.5791&98.7174"},
                                 {"branch_length", "141.125&141.125&467.309"},
                                 {"angle", "90.0001&90&90"},
                                 {"position", "124.622&293.534&437.182"},
                                 {"around", "180&-90&90"},
                                 {"offset", "51.9673&0&0"},
                                 {"joint", "over"},
                                 {"thickness", "20.8205"},
                                 {"fit_allowance", "0"}}};
  for (const Flags& tee : support::drawn("tees", tees))
    for (const std::string& cut : support::drawn<std::string>("policies", {"tilt", "mid", "duct", "air"})) {
      const Written written("tee", support::with(tee, {{"cut", cut}}));
      for (const Pattern& pattern : written.patterns)
        EXPECT_EQ(support::listed(written.check_pattern(pattern.id)), "")
            << support::written("tee", tee) << " " << cut;
    }
}

}  // namespace
}  // namespace linerwright
