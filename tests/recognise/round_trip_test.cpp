// Every fitting that Linerwright writes as STEP metal reads back to the same parameters within 1e-6 mm and
// degrees.
#include <gtest/gtest.h>

#include <optional>

#include "linerwright/solid/solid.hpp"
#include "linerwright/units/error.hpp"
#include "recognise/expected.hpp"
#include "support/cases.hpp"
#include "support/folder.hpp"
#include "support/random_fittings.hpp"

namespace linerwright::testing {
namespace {

// What is read from the fitting's file, or why nothing is.
std::string read_again(const Fitting& fitting, const std::filesystem::path& folder) {
  const std::filesystem::path file = folder / "fitting.step";
  const Model model = build_model(fitting);
  write_step(file, fitting, model);
  const Recognised recognised = recognise(read_drawn(file), 5);
  if (recognised.bodies.size() != 1) return "bodies: " + std::to_string(recognised.bodies.size());
  const RecognisedBody& body = recognised.bodies.front();
  if (!body.fault.empty()) return body.fault;
  // a path of one taper is a reducer, of one bend an elbow: the same walls
  if (body.kind != fitting.kind && fitting.kind != "path") return "read as " + body.kind;
  // the file's own free forms stray from the exact walls by what the model states
  if (!(body.residual <= 1e-6 + model.curve_deviation)) return "residual " + fixed(body.residual, 9);
  const FittingRequest request = request_of(body);
  if (body.kind != fitting.kind) {
    Told wanted, read;
    tell_walls(fitting, wanted, false);
    tell_walls(make_fitting(request), read, false);
    return differences(wanted, read, 1e-6);
  }
  return differences(told_by(fitting.request, fitting), told_by(request, make_fitting(request)), 1e-6);
}

class RoundTripOf : public ::testing::TestWithParam<std::string> {};

// A file each time makes this slow: scripts/test --full draws a thousand.
TEST_P(RoundTripOf, RandomFittingsReadBackTheSame) {
  const support::Folder folder;
  const std::string kind = GetParam();
  const int wanted = support::cases(10);
  const int read = for_random_fittings(
      kind, 2026, wanted, [&](const Fitting& fitting, const std::string& what, int, support::Chance&) {
        EXPECT_EQ(read_again(fitting, folder.path()), "") << what;
      });
  EXPECT_EQ(read, wanted);
}

INSTANTIATE_TEST_SUITE_P(Kinds, RoundTripOf, ::testing::ValuesIn(kinds_read()),
                         [](const auto& one) { return one.param; });

TEST(RoundTrip, ChosenFittings) {
  const support::Folder folder;
  using support::Flags;
  const std::vector<std::pair<std::string, Flags>> chosen = {
      {"reducer",
       {{"diameter", "400"},
        {"to_diameter", "399.99"},
        {"length", "300"},
        {"collar", "80"},
        {"to_collar", "60"}}},
      {"reducer",
       {{"diameter", "400"},
        {"to_diameter", "400"},
        {"offset", "60"},
        {"length", "300"},
        {"collar", "80"},
        {"to_collar", "60"}}},
      {"reducer", {{"diameter", "400"}, {"to_diameter", "400"}, {"offset", "60"}, {"length", "300"}}},
      {"reducer",
       {{"diameter", "250"}, {"to_diameter", "400"}, {"length", "300"}, {"flat", "yes"}, {"flat_at", "33"}}},
      {"elbow", {{"diameter", "315"}, {"angle", "180"}, {"pieces", "8"}, {"collar", "20"}}},
      {"elbow", {{"diameter", "315"}, {"angle", "90"}, {"pieces", "12"}}},
      {"elbow", {{"diameter", "315"}, {"angle", "60"}, {"pieces", "2"}}},
      {"tee",
       {{"diameter", "300"}, {"length", "1000"}, {"branch_diameter", "300"}, {"branch_length", "450"}}},
      {"tee",
       {{"diameter", "300"},
        {"length", "2000"},
        {"branch_diameter", "200"},
        {"branch_length", "700"},
        {"angle", "45"},
        {"around", "70"}}},
      {"tee",
       {{"diameter", "300"},
        {"length", "1000"},
        {"branch_diameter", "150"},
        {"branch_base", "220"},
        {"branch_length", "400"}}},
      {"tee",
       {{"diameter", "400"},
        {"length", "1600"},
        {"branch_diameter", "200&150"},
        {"branch_length", "500&600"},
        {"position", "400&1100"},
        {"around", "0&120"},
        {"angle", "90&60"}}},
      {"tee",
       {{"diameter", "400"},
        {"length", "1200"},
        {"branch_diameter", "200&200"},
        {"branch_length", "500&500"},
        {"around", "0&180"}}},
      {"tee",
       {{"diameter", "400"},
        {"length", "1200"},
        {"branch_diameter", "400&400"},
        {"branch_length", "700&700"},
        {"around", "0&180"}}}};
  const auto taken = support::drawn("fittings", chosen, [](const auto& each) { return each.first; });
  std::size_t read = 0;
  for (auto [kind, flags] : taken) {
    flags["thickness"] = "25";
    std::optional<Fitting> fitting;
    try {
      fitting = support::fitting_from(kind, flags);
    } catch (const InputError&) {
      continue;  // not made, so not drawn
    }
    ++read;
    EXPECT_EQ(read_again(*fitting, folder.path()), "") << support::written(kind, flags);
  }
  EXPECT_GE(read, taken.size() - 1);
}

}  // namespace
}  // namespace linerwright::testing
