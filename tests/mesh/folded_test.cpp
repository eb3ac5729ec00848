// Bodies of square-to-rounds as meshes: closed, their volumes those of the closed forms and of half-space
// cuts.
#include <gtest/gtest.h>

#include <cmath>

#include "linerwright/mesh/fitting_meshes.hpp"
#include "linerwright/mesh/folded_layer.hpp"
#include "linerwright/sheet/folds.hpp"
#include "linerwright/units/error.hpp"
#include "support/square_to_rounds.hpp"

namespace linerwright {
namespace {

using support::case_of;
using support::Flags;
using support::square_to_round;

// Chords of circles of step a take a^2 / 6 of their area.
void expect_bodies(const Flags& flags, double step = 0.03) {
  const double chords = 1.5 * step * step / 6.0;
  const std::string what = support::written("square_to_round", flags);
  const Fitting fitting = square_to_round(flags);
  const SquareToRound own = case_of(flags);
  const double t = std::stod(flags.at("thickness"));
  const double bore = own.inside(t);
  const double cavity = own.cavity();
  EXPECT_NEAR(shell_volume(fitting, 0.0), cavity, 1e-9 * cavity) << what;
  EXPECT_NEAR(shell_volume(fitting, t), bore, 1e-6 * bore) << what;
  const double metal = own.inside(-fitting.liner.gauge) - cavity;
  EXPECT_NEAR(metal_volume(fitting), metal, 1e-4 * metal) << what;
  double liner = 0.0;
  for (const BodyPart& part : fitting_meshes(fitting, {0.02, step})) {
    EXPECT_EQ(open_edges(part.mesh), 0) << what << " " << part.name;
    const double volume = mesh_volume(part.mesh);
    if (part.role == PartRole::liner) liner += volume;
    if (part.role == PartRole::bore) {
      EXPECT_NEAR(volume, bore, chords * bore) << what;
    }
    if (part.role == PartRole::metal) {
      EXPECT_NEAR(volume, metal, 2.0 * chords * metal) << what;
    }
  }
  EXPECT_NEAR(liner, cavity - bore, 2.0 * chords * (cavity - bore)) << what;
}

}  // namespace

TEST(FoldedMeshes, PiecesMetalAndBore) {
  for (const char* pieces : {"1", "2", "4"})
    expect_bodies(support::with(support::k_square_to_round, {{"pieces", pieces}}));
}

TEST(FoldedMeshes, CircleMovedAndFlaring) {
  expect_bodies(support::with(support::k_square_to_round, {{"shift_right", "100"}}));
  expect_bodies(support::with(support::k_square_to_round,
                              {{"shift_right", "60"}, {"shift_up", "-40"}, {"pieces", "2"}}));
  // at one corner a single flat trims all of the cone
  expect_bodies(support::with(support::k_square_to_round, {{"shift_right", "90"}, {"shift_up", "-50"}}));
  // wider at the round end: the metal's cones meet at the tips, the liner's flats end in lines
  expect_bodies(
      support::with(support::k_square_to_round, {{"width", "400"}, {"height", "360"}, {"diameter", "500"}}));
}

TEST(FoldedMeshes, ShortOnes) {
  for (const Flags& flags : support::k_short_square_to_rounds) expect_bodies(flags);
}

TEST(FoldedMeshes, RoundCollar) {
  const Flags collared = support::with(support::k_square_to_round, {{"round_collar", "100"}});
  for (const Flags& changes :
       {Flags{}, Flags{{"shift_right", "70"}, {"shift_up", "-30"}, {"pieces", "2"}},
        Flags{{"width", "400"}, {"height", "360"}, {"diameter", "500"}, {"pieces", "1"}},
        Flags{{"round_collar", "700"}, {"board_width", "620"}, {"board_length", "900"}}}) {
    const Flags flags = support::with(collared, changes);
    SCOPED_TRACE(support::written("square_to_round", flags));
    const Fitting fitting = square_to_round(flags);
    const double cavity = shell_volume(fitting, 0.0);
    const double bore = shell_volume(fitting, 25.0);
    constexpr double k_chords = 1.5 * 0.03 * 0.03 / 6.0;
    double liner = 0.0;
    for (const BodyPart& part : fitting_meshes(fitting, {0.02, 0.03})) {
      EXPECT_EQ(open_edges(part.mesh), 0) << part.name;
      const double volume = mesh_volume(part.mesh);
      if (part.role == PartRole::liner) liner += volume;
      if (part.role == PartRole::bore) {
        EXPECT_NEAR(volume, bore, k_chords * bore);
      }
      if (part.role == PartRole::metal) {
        EXPECT_NEAR(volume, metal_volume(fitting), 2.0 * k_chords * volume);
      }
    }
    EXPECT_NEAR(liner, cavity - bore, 2.0 * k_chords * (cavity - bore));
  }
}

TEST(FoldedMeshes, SquareCollar) {
  const Flags collared = support::with(support::k_square_to_round, {{"square_collar", "150"}});
  for (const Flags& changes :
       {Flags{}, Flags{{"shift_right", "70"}, {"shift_up", "-30"}, {"pieces", "2"}, {"round_collar", "80"}},
        Flags{{"width", "400"}, {"height", "300"}, {"diameter", "500"}, {"pieces", "1"}}}) {
    const Flags flags = support::with(collared, changes);
    SCOPED_TRACE(support::written("square_to_round", flags));
    const Fitting fitting = square_to_round(flags);
    const double cavity = shell_volume(fitting, 0.0);
    const double bore = shell_volume(fitting, 25.0);
    constexpr double k_chords = 1.5 * 0.03 * 0.03 / 6.0;
    double liner = 0.0;
    for (const BodyPart& part : fitting_meshes(fitting, {0.02, 0.03})) {
      EXPECT_EQ(open_edges(part.mesh), 0) << part.name;
      const double volume = mesh_volume(part.mesh);
      if (part.role == PartRole::liner) liner += volume;
      if (part.role == PartRole::bore) {
        EXPECT_NEAR(volume, bore, k_chords * bore);
      }
      if (part.role == PartRole::metal) {
        EXPECT_NEAR(volume, metal_volume(fitting), 2.0 * k_chords * volume);
      }
    }
    EXPECT_NEAR(liner, cavity - bore, 2.0 * k_chords * (cavity - bore));
  }
}

// The metal stands upright under what the transition's own outside leaves of the rectangle's plane.
TEST(FoldedMeshes, MetalOfASquareCollar) {
  const Fitting without = square_to_round(support::k_square_to_round);
  const Fitting fitting =
      square_to_round(support::with(support::k_square_to_round, {{"square_collar", "150"}}));
  const double outline = case_of(support::k_square_to_round).section(0.0, -fitting.liner.gauge, 720);
  const double upright = 150.0 * (outline - 600.0 * 400.0);
  EXPECT_NEAR(metal_volume(fitting), metal_volume(without) + upright, 1e-5 * upright);
}

TEST(FoldedMeshes, RandomOnes) {
  Dice dice(63);
  const int count = support::cases(3);
  int made = 0;
  for (int i = 0; i < count; ++i) {
    SquareToRound own = random_square_to_round(dice);
    if (i % 3 == 2) own.height *= 0.4;  // its air face may come down in arcs
    const double share = dice.between(0.05, 0.5);
    if (!folds_as_y(own.sheet())) continue;
    const double t = share * std::min(deepest_layer(own.sheet()), 0.5 * std::min({own.a, own.b, own.r}));
    const auto number = [](double value) { return fixed(value, 3); };
    const Flags flags{{"width", number(2.0 * own.a)},          {"height", number(2.0 * own.b)},
                      {"diameter", number(2.0 * own.r)},       {"length", number(own.height)},
                      {"shift_right", number(own.centre.x)},   {"shift_up", number(own.centre.y)},
                      {"thickness", number(std::max(1.0, t))}, {"pieces", std::to_string(1 << dice.pick(3))}};
    SCOPED_TRACE(support::written("square_to_round", flags));
    try {
      expect_bodies(flags);
      ++made;
    } catch (const std::exception& error) {
      ADD_FAILURE() << error.what();
    }
  }
  EXPECT_GE(made, count / 4);
}

// An opening of 56 by 56 is left of a rectangle of 516 by 516: no facet of that end lies over another.
TEST(FoldedMeshes, EndsLieFlatOnce) {
  const Fitting fitting = square_to_round({{"width", "516.060874"},
                                           {"height", "516.060874"},
                                           {"diameter", "1833.1886"},
                                           {"length", "142.907202"},
                                           {"shift_right", "51.6060874"},
                                           {"shift_up", "-59.6031185"},
                                           {"thickness", "48.8073121"}});
  int ends = 0;
  for (const BodyPart& part : fitting_meshes(fitting, {0.1, 0.2})) {
    double area = 0.0;
    double turned = 0.0;
    for (const auto& triangle : part.mesh.triangles) {
      const auto corner = [&](std::size_t k) {
        return part.mesh.points[static_cast<std::size_t>(triangle[k])];
      };
      if (std::max({std::fabs(corner(0).z), std::fabs(corner(1).z), std::fabs(corner(2).z)}) > 1e-9) continue;
      const double twice = cross(corner(1) - corner(0), corner(2) - corner(0)).z;
      area -= 0.5 * twice;
      if (twice > 1e-6) turned += twice;
      ++ends;
    }
    EXPECT_GT(area, 0.0) << part.name;
    EXPECT_EQ(turned, 0.0) << part.name;
  }
  EXPECT_GT(ends, 16);
}

TEST(FoldedMeshes, LiesAtItsDepth) {
  const SquareToRound own = case_of(support::with(support::k_square_to_round, {{"shift_right", "80"}}));
  for (const double w : {0.0, 12.0, 25.0}) {
    const FoldedLayer layer = folded_layer(own.sheet(), w);
    int seen = 0;
    for (const FoldedCurve& curve : layer.curves)
      for (const double share : {0.0, 0.3, 0.8, 1.0}) {
        const Vec3 a = layer.points[static_cast<std::size_t>(curve.from)];
        const Vec3 b = layer.points[static_cast<std::size_t>(curve.to)];
        const Vec3 p = curve.straight() ? a + share * (b - a)
                                        : curve.at(curve.first + share * (curve.last - curve.first));
        EXPECT_NEAR(own.depth(p), w, 1e-5);
        if (!curve.straight() && (share == 0.0 || share == 1.0)) {
          EXPECT_LT(distance(p, share == 0.0 ? a : b), 1e-7);
        }
        ++seen;
      }
    EXPECT_GE(seen, 96);
  }
}

}  // namespace linerwright
