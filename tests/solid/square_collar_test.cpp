// Solids of square-to-rounds with a rectangular collar: valid, closed, their volumes those of the integrals.
#include <gtest/gtest.h>

#include "linerwright/solid/solid.hpp"
#include "support/square_to_rounds.hpp"

namespace linerwright {
namespace {

using support::Flags;

const std::vector<Flags> k_changes{
    {},
    {{"pieces", "1"}, {"shift_right", "70"}, {"shift_up", "-30"}},
    {{"width", "400"}, {"height", "300"}, {"diameter", "500"}, {"pieces", "2"}},
    {{"round_collar", "100"}},
    {{"width", "500"}, {"height", "500"}, {"diameter", "450"}, {"length", "300"}}};

}  // namespace

TEST(SquareCollarSolids, PiecesMetalAndBore) {
  for (const Flags& changes : k_changes) {
    const Flags flags =
        support::with(support::with(support::k_square_to_round, {{"square_collar", "150"}}), changes);
    SCOPED_TRACE(support::written("square_to_round", flags));
    const Fitting fitting = support::square_to_round(flags);
    const Model model = build_model(fitting, Gate::full);
    EXPECT_EQ(model.parts.size(), fitting.pieces.size() + 2);
    EXPECT_LT(model.volume_error, 1e-7);
    EXPECT_LT(model.fill_error, 1e-7);
    for (const Part& part : model.parts) {
      const Mesh mesh = mesh_of(part.solid, {0.1, 0.1}, fitting.liner.gauge);
      EXPECT_EQ(open_edges(mesh), 0) << part.name;
      EXPECT_NEAR(mesh_volume(mesh), part.volume, 0.01 * part.volume) << part.name;
    }
  }
}

}  // namespace linerwright
