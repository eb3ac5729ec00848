// Solids of square-to-rounds: valid, closed, their volumes those of the integrals; meshes of them closed.
#include <gtest/gtest.h>

#include <cmath>

#include "linerwright/solid/solid.hpp"
#include "support/folder.hpp"
#include "support/square_to_rounds.hpp"

namespace linerwright {
namespace {

using support::Flags;
using support::k_square_to_round;
using support::square_to_round;

void expect_solids(const Flags& flags) {
  SCOPED_TRACE(support::written("square_to_round", flags));
  const Fitting fitting = square_to_round(flags);
  const SquareToRound own = support::case_of(flags);
  const double t = std::stod(flags.at("thickness"));
  const Model model = build_model(fitting, Gate::full);
  EXPECT_EQ(model.parts.size(), fitting.pieces.size() + 2);
  EXPECT_LT(model.volume_error, 1e-7);
  EXPECT_LT(model.fill_error, 1e-7);
  EXPECT_NEAR(model.cavity_volume, own.cavity(), 1e-7 * own.cavity());
  EXPECT_NEAR(model.bore_volume, own.inside(t), 1e-6 * own.cavity());
  for (const Part& part : model.parts) {
    const Mesh mesh = mesh_of(part.solid, {0.1, 0.1}, fitting.liner.gauge);
    EXPECT_EQ(open_edges(mesh), 0) << part.name;
    EXPECT_NEAR(mesh_volume(mesh), part.volume, 0.01 * part.volume) << part.name;
  }
}

}  // namespace

TEST(FoldedSolids, PiecesMetalAndBore) {
  for (const char* pieces : {"1", "4"}) expect_solids(support::with(k_square_to_round, {{"pieces", pieces}}));
}

TEST(FoldedSolids, RoundCollar) {
  const Flags collared = support::with(k_square_to_round, {{"round_collar", "100"}});
  for (const Flags& changes :
       {Flags{{"shift_right", "70"}, {"shift_up", "-30"}, {"pieces", "2"}},
        Flags{{"width", "400"}, {"height", "360"}, {"diameter", "500"}},
        Flags{{"round_collar", "700"}, {"board_width", "620"}, {"board_length", "900"}}}) {
    const Flags flags = support::with(collared, changes);
    SCOPED_TRACE(support::written("square_to_round", flags));
    const Fitting fitting = square_to_round(flags);
    const Model model = build_model(fitting, Gate::full);
    EXPECT_EQ(model.parts.size(), fitting.pieces.size() + 2);
    EXPECT_LT(model.volume_error, 1e-7);
    EXPECT_LT(model.fill_error, 1e-8);
    const SquareToRound own = support::case_of(flags);
    const double straight = k_pi * own.r * own.r * std::stod(flags.at("round_collar"));
    EXPECT_NEAR(model.cavity_volume, own.cavity() + straight, 1e-7 * own.cavity());
  }
}

TEST(FoldedSolids, ShortOnes) {
  for (const Flags& flags : support::k_short_square_to_rounds) expect_solids(flags);
}

TEST(FoldedSolids, ShortOnesWithACollar) {
  for (const Flags& flags : support::k_short_square_to_rounds) {
    const Flags collared = support::with(flags, {{"round_collar", "100"}});
    SCOPED_TRACE(support::written("square_to_round", collared));
    const Fitting fitting = square_to_round(collared);
    const Model model = build_model(fitting, Gate::full);
    EXPECT_EQ(model.parts.size(), fitting.pieces.size() + 2);
    EXPECT_LT(model.volume_error, 1e-7);
    EXPECT_LT(model.fill_error, 1e-7);
  }
}

// Where the metal's cone folds over itself at its corner a hole in the liner alone leaves it as it is. The
// mitres of the others turn so sharply that only finer curves than the usual ones lie on the one face about
// the hole, of the last on a finer face.
TEST(FoldedSolids, ShortOnesWithAHoleInACorner) {
  const Flags folded = support::with(support::k_short_square_to_rounds.back(),
                                     {{"openings", "test hole at 150mm around 45 diameter 20mm"}});
  const Flags sharp{{"width", "900"},    {"height", "900"},
                    {"diameter", "800"}, {"length", "180"},
                    {"thickness", "20"}, {"openings", "test hole at 150mm around 40 diameter 20mm"}};
  const Flags sharper{{"width", "1165.8"},   {"height", "705.2"},
                      {"diameter", "546.1"}, {"length", "169.1"},
                      {"thickness", "21.1"}, {"openings", "test hole at 247mm around 224 diameter 18mm"}};
  for (const Flags& pierced : {folded, sharp, sharper}) {
    SCOPED_TRACE(support::written("square_to_round", pierced));
    const Model model = build_model(square_to_round(pierced), Gate::full);
    EXPECT_LT(model.volume_error, 1e-7);
    EXPECT_LT(model.fill_error, 1e-7);
    for (const Part& part : model.parts)
      EXPECT_EQ(open_edges(mesh_of(part.solid, {0.1, 0.1}, 0.8)), 0) << part.name;
  }
}

TEST(FoldedSolids, AsStepAndBack) {
  const Fitting fitting = square_to_round(k_square_to_round);
  const Model model = build_model(fitting);
  const support::Folder folder;
  write_step(folder.path() / "folded.step", fitting, model);
  const std::vector<Part> read = read_step(folder.path() / "folded.step");
  ASSERT_EQ(read.size(), model.parts.size());
  for (std::size_t i = 0; i < read.size(); ++i) {
    EXPECT_EQ(read[i].name, model.parts[i].name);
    EXPECT_NEAR(read[i].volume, model.parts[i].volume, 1e-6 * model.parts[i].volume);
  }
}

TEST(FoldedSolids, CircleMovedAndFlaring) {
  // at one corner a single flat trims all of the cone
  expect_solids(
      support::with(k_square_to_round, {{"shift_right", "90"}, {"shift_up", "-50"}, {"pieces", "2"}}));
  expect_solids(support::with(k_square_to_round, {{"width", "400"}, {"height", "360"}, {"diameter", "500"}}));
}

}  // namespace linerwright
