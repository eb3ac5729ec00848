// Random fittings from the whole of the documented ranges. LINERWRIGHT_CASES multiplies their number. A
// request that is refused with a reason is skipped, but at least four in five have to be built.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <sstream>

#include "cases.hpp"
#include "linerwright/solid/solid.hpp"
#include "linerwright/units/error.hpp"
#include "mesh_parts.hpp"
#include "support/cases.hpp"
#include "support/chance.hpp"

namespace linerwright {
namespace {

using support::Flags;

constexpr int k_shards = 4;

using support::Chance;

std::string mm(double value) {
  return trimmed(value, 6);
}

// A board between 1 mm and nearly the whole radius of the narrowest bore.
double board(Chance& chance, double narrowest) {
  return std::min(250.0, chance.log_between(1.0, std::max(1.1, 0.9 * (0.5 * narrowest - 0.5))));
}

std::string gauge(Chance& chance) {
  return mm(chance.between(0.4, 2.0));
}

Flags random_elbow(Chance& chance) {
  const double diameter = chance.log_between(25.0, 3000.0);
  const double angle = chance.likely(0.3) ? 15.0 * chance.whole(1, 12) : chance.between(1.0, 180.0);
  const int least = static_cast<int>(std::ceil(angle / 120.0 - 1e-9)) + 1;
  const int pieces = chance.whole(least, std::max(least, std::min(12, 1 + static_cast<int>(angle / 6.0))));
  Flags flags{
      {"diameter", mm(diameter)},
      {"angle", mm(angle)},
      {"pieces", std::to_string(pieces)},
      {"radius_ratio", mm(chance.likely(0.2) ? chance.log_between(0.55, 20.0) : chance.between(0.6, 3.0))},
      {"gauge", gauge(chance)},
      {"fit_allowance", "0"},
      {"thickness", mm(board(chance, diameter))}};
  if (chance.likely(0.5)) flags["collar"] = mm(chance.log_between(1.0, 500.0));
  if (chance.likely(0.3)) flags["form"] = "smooth";
  return flags;
}

Flags random_reducer(Chance& chance) {
  const double diameter = chance.log_between(25.0, 3000.0);
  const double to = chance.likely(0.1) ? diameter * chance.between(0.999, 1.0)
                                       : std::max(25.0, diameter * chance.between(0.3, 1.0));
  Flags flags{{"diameter", mm(diameter)},
              {"to_diameter", mm(to)},
              {"length", mm(std::max(5.0, diameter * chance.log_between(0.15, 4.0)))},
              {"gauge", gauge(chance)},
              {"fit_allowance", "0"},
              {"thickness", mm(board(chance, to))}};
  if (chance.likely(0.5)) std::swap(flags["diameter"], flags["to_diameter"]);
  if (chance.likely(0.7)) flags["collar"] = mm(chance.log_between(10.0, 500.0) + 0.2 * diameter);
  if (chance.likely(0.7)) flags["to_collar"] = mm(chance.log_between(10.0, 500.0) + 0.2 * diameter);
  if (chance.likely(0.4)) flags["offset"] = mm(diameter * chance.between(0.0, 0.4));
  if (chance.likely(0.4)) flags["flat_at"] = mm(chance.between(-180.0, 180.0));
  if (flags.count("offset") == 0 && diameter > to && chance.likely(0.2)) {
    flags["flat"] = "yes";
  }
  return flags;
}

Flags random_tee(Chance& chance) {
  const double diameter = chance.log_between(50.0, 3000.0);
  const double branch = chance.likely(0.15)   ? diameter
                        : chance.likely(0.15) ? diameter * (1.0 - chance.log_between(1e-8, 1e-3))
                                              : std::max(25.0, diameter * chance.between(0.1, 1.0));
  const double angle = chance.likely(0.4) ? 90.0 : chance.between(15.0, 165.0);
  const double slope = std::sin(angle * k_pi / 180.0);
  const double room = 0.5 * (diameter - branch);
  Flags flags{{"diameter", mm(diameter)},
              {"branch_diameter", mm(branch)},
              {"angle", mm(angle)},
              {"length", mm(std::min(30000.0, 3.0 * (branch + diameter) / slope + 100.0))},
              {"branch_length", mm(std::min(30000.0, 2.0 * diameter / slope + 50.0))},
              {"gauge", gauge(chance)},
              {"fit_allowance", "0"},
              {"thickness", mm(board(chance, branch))}};
  if (chance.likely(0.3)) flags["offset"] = mm(room * chance.between(-1.0, 1.0));
  if (chance.likely(0.1)) flags["offset"] = mm(room);
  if (chance.likely(0.1)) flags["offset"] = mm(room * (1.0 - chance.log_between(1e-8, 1e-3)));
  if (chance.likely(0.3)) flags["around"] = mm(chance.between(-180.0, 180.0));
  const double style = chance.share();
  if (style < 0.15) flags["joint"] = "over";
  if (style > 0.85 && branch < 0.6 * diameter && flags.count("offset") == 0) {
    flags["joint"] = "through";
    flags["thickness"] = mm(board(chance, std::min(branch, diameter - branch - 4.0)));
  }
  if (chance.likely(0.15) && branch < 0.8 * diameter && flags.count("offset") == 0)
    flags["branch_base"] = mm(branch * chance.between(1.01, 1.2));
  if (chance.likely(0.1) && branch < 0.9 * diameter) {
    flags["branch_diameter"] += '&' + mm(std::max(25.0, branch * chance.between(0.8, 1.0)));
    const double around = chance.between(-90.0, 90.0);
    flags["around"] = mm(around) + '&' + mm(around + 180.0);
    flags.erase("branch_base");
    flags.erase("offset");
    flags.erase("joint");
  }
  return flags;
}

// Branches that stand on their body or pass through it: equal, nearly equal, off centre, conical, several;
// half of them too long for their board, where a cut between two rings must clear the metal's hole, or too
// wide, where seams between panels end on the body.
Flags random_over(Chance& chance) {
  const double diameter = chance.log_between(60.0, 3000.0);
  const int count = chance.likely(0.3) ? chance.whole(2, 3) : 1;
  Flags flags{{"diameter", mm(diameter)},
              {"joint", "over"},
              {"gauge", mm(chance.log_between(0.3, 6.0))},
              {"fit_allowance", "0"}};
  double position = 0.0;
  double narrowest = diameter;
  double widest = 0.0;
  double longest = 0.0;
  for (int i = 0; i < count; ++i) {
    const double kind = chance.share();
    const double branch = kind < 0.3    ? diameter
                          : kind < 0.55 ? diameter * (1.0 - chance.log_between(1e-8, 1e-2))
                                        : std::max(25.0, diameter * chance.between(0.15, 1.0));
    const double base =
        branch < 0.85 * diameter && chance.likely(0.15) ? branch * chance.between(1.01, 1.15) : branch;
    const double angle = chance.likely(0.4) ? 90.0 : chance.between(15.0, 165.0);
    const double slope = std::sin(angle * k_pi / 180.0);
    const double room = 0.5 * (diameter - base);
    const double place = chance.share();
    const double offset = place < 0.2   ? room * chance.between(-1.0, 1.0)
                          : place < 0.3 ? room
                          : place < 0.4 ? -room * (1.0 - chance.log_between(1e-8, 1e-3))
                                        : 0.0;
    const double length = 2.0 * diameter / slope + 50.0;
    const double stretch = 3.0 * (branch + diameter) / slope + 100.0;
    const auto add = [&](const char* key, double value) { flags[key] += (i == 0 ? "" : "&") + mm(value); };
    add("branch_diameter", branch);
    add("branch_base", base);
    add("angle", angle);
    add("offset", offset);
    add("around", count > 1            ? 45.0 * chance.whole(-4, 4)
                  : chance.likely(0.5) ? 0.0
                                       : chance.between(-360.0, 360.0));
    add("position", position + 0.5 * stretch);
    add("branch_length", length);
    position += stretch;
    narrowest = std::min(narrowest, branch);
    widest = std::max(widest, base);
    longest = std::max(longest, length + branch / slope);
  }
  flags["length"] = mm(std::min(30000.0, position));
  flags["thickness"] = mm(std::min(100.0, board(chance, narrowest)));
  if (widest < 0.7 * diameter && chance.likely(0.5)) flags["joint"] = "through";
  if (chance.likely(0.5)) {
    flags["board_width"] = mm(longest + chance.share() * std::max(0.0, position - longest));
    flags["board_length"] = mm(chance.between(0.75, 1.5) * k_pi * diameter + 1.0);
  }
  return flags;
}

void build_many(const std::string& kind, Flags (*random)(Chance&), int count, int shard) {
  constexpr int k_full_every = 20;
  constexpr int k_least = 25;  // of fewer, chance may refuse more than a fifth
  const int total = std::max(k_least, support::cases(count / k_shards));
  Chance chance(20250607U + static_cast<unsigned>(shard) + 1000U * static_cast<unsigned>(kind.size()));
  int built = 0;
  int failed = 0;
  for (int i = 0; i < total && failed < 10; ++i) {
    const Flags flags = random(chance);
    SCOPED_TRACE(support::written(kind, flags));
    try {
      const Fitting fitting = support::fitting_from(kind, flags);
      const bool full = i % k_full_every == 0;
      const Model model = build_model(fitting, full ? Gate::full : Gate::quick);
      ++built;
      EXPECT_LE(model.fill_error, 1e-8);
      EXPECT_LE(model.curve_deviation, 1e-3);
      EXPECT_EQ(model.parts.size(), fitting.pieces.size() + 2);
      if (full)
        for (const Part& part : model.parts) {
          const double thinnest = support::thinnest(fitting);
          const Mesh mesh = mesh_of(part.solid, MeshOptions{0.5, 0.2}, thinnest);
          EXPECT_EQ(open_edges(mesh), 0) << part.name;
          std::stringstream stl;
          write_stl(stl, {mesh}, fitting.tag);
          EXPECT_EQ(open_edges(read_stl(stl, part.name)), 0) << part.name;
          EXPECT_TRUE(ruled_mesh(part.solid.shape().shape, 0.5, 0.2)) << part.name;
          EXPECT_GT(mesh_volume(mesh), 0.8 * part.volume) << part.name;
          EXPECT_LT(mesh_volume(mesh), 1.2 * part.volume) << part.name;
        }
    } catch (const InputError&) {
      continue;
    } catch (const std::exception& error) {
      ADD_FAILURE() << error.what();
      ++failed;
    }
  }
  EXPECT_GE(built, total * 4 / 5);
  testing::Test::RecordProperty("built", built);
}

class RandomFittings : public testing::TestWithParam<int> {};

TEST_P(RandomFittings, Elbows) {
  build_many("elbow", random_elbow, 2000, GetParam());
}
TEST_P(RandomFittings, Reducers) {
  build_many("reducer", random_reducer, 2000, GetParam());
}
TEST_P(RandomFittings, TeesAndLaterals) {
  build_many("tee", random_tee, 1000, GetParam());
}

TEST_P(RandomFittings, BranchesThatStandOnTheirBody) {
  build_many("tee", random_over, 400, GetParam());
}

INSTANTIATE_TEST_SUITE_P(Solid, RandomFittings,
                         testing::Range(0, std::min(k_shards, support::cases(k_shards))));

}  // namespace
}  // namespace linerwright
