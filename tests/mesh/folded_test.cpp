// Bodies of square-to-rounds as meshes: closed, their volumes those of the closed forms and of half-space
// cuts.
#include <gtest/gtest.h>

#include <cmath>

#include "common.hpp"
#include "linerwright/error.hpp"
#include "linerwright/fitting_meshes.hpp"
#include "linerwright/folded_layer.hpp"
#include "linerwright/folds.hpp"
#include "sheet/square_to_round.hpp"
#include "support/requests.hpp"

namespace linerwright {
namespace {

using support::Flags;

const Flags k_flags{{"width", "600"},  {"height", "400"},   {"diameter", "400"},
                    {"length", "400"}, {"thickness", "25"}, {"pieces", "4"}};

Fitting square_to_round(const Flags& flags) {
  JobSchema schema = job_schema();
  schema.kinds.push_back(square_to_round_schema());
  return make_square_to_round(request_from_flags("square_to_round", flags, Units::metric, schema));
}

SquareToRound case_of(const Flags& flags) {
  const auto number = [&](const char* key) {
    const auto found = flags.find(key);
    return found == flags.end() ? 0.0 : std::stod(found->second);
  };
  return {0.5 * number("width"),
          0.5 * number("height"),
          0.5 * number("diameter"),
          number("length"),
          {number("shift_right"), number("shift_up")}};
}

// Chords of circles of step a take a^2 / 6 of their area, of the metal's ring too: 0.02 radians take 0.7e-4.
void expect_bodies(const Flags& flags) {
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
  for (const BodyPart& part : fitting_meshes(fitting, {0.005, 0.02})) {
    EXPECT_EQ(open_edges(part.mesh), 0) << what << " " << part.name;
    const double volume = mesh_volume(part.mesh);
    if (part.role == PartRole::liner) liner += volume;
    if (part.role == PartRole::bore) {
      EXPECT_NEAR(volume, bore, 1e-4 * bore) << what;
    }
    if (part.role == PartRole::metal) {
      EXPECT_NEAR(volume, metal, 2e-3 * metal) << what;
    }
  }
  EXPECT_NEAR(liner, cavity - bore, 2e-4 * (cavity - bore)) << what;
}

}  // namespace

TEST(FoldedMeshes, PiecesMetalAndBore) {
  for (const char* pieces : {"1", "2", "4"}) expect_bodies(support::with(k_flags, {{"pieces", pieces}}));
}

TEST(FoldedMeshes, CircleMovedAndFlaring) {
  expect_bodies(support::with(k_flags, {{"shift_right", "100"}}));
  expect_bodies(support::with(k_flags, {{"shift_right", "60"}, {"shift_up", "-40"}, {"pieces", "2"}}));
  // wider at the round end: the metal's cones meet at the tips, the liner's flats end in lines
  expect_bodies(support::with(k_flags, {{"width", "400"}, {"height", "360"}, {"diameter", "500"}}));
}

TEST(FoldedMeshes, LiesAtItsDepth) {
  const SquareToRound own = case_of(support::with(k_flags, {{"shift_right", "80"}}));
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
