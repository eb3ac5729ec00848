// Square-to-rounds with a rectangular collar: volumes and joints against half planes cut section by section
// and closed forms of the panels, worked out apart from the program, and what is refused.
#include <gtest/gtest.h>

#include <array>
#include <cmath>

#include "linerwright/fitting/port.hpp"
#include "linerwright/sheet/panels.hpp"
#include "linerwright/units/error.hpp"
#include "support/square_to_rounds.hpp"

namespace linerwright {
namespace {

using support::Flags;
using support::k_square_to_round;
using support::square_to_round;

struct Known {
  Flags changes;
  std::array<double, 4> tops;  // of the panels at 25 mm
  double cavity, bore;
  std::array<double, 4> panels;  // volumes
};

// Bores: sections by half planes, 240 and 120 lines extrapolated, Gauss along the axis; the rest closed
// forms.
const std::vector<Known> k_known{
    {{{"width", "600"}, {"height", "400"}, {"diameter", "400"}},
     {-3.077641, 0.0, -3.077641, 0.0},
     111421827.486,
     88451177.9,
     {1392144.147, 2156230.267, 1392144.147, 2156230.267}},
    {{{"width", "500"}, {"height", "500"}, {"diameter", "450"}, {"length", "300"}},
     {-1.039864, -1.039864, -1.039864, -1.039864},
     100904312.809,
     81324013.3,
     {1775184.124, 1775184.124, 1775184.124, 1775184.124}},
    {{{"width", "400"}, {"height", "300"}, {"diameter", "500"}},
     {1.556444, 3.077641, 1.556444, 3.077641},
     83513272.113,
     64403801.6,
     {1036438.146, 1420358.263, 1036438.146, 1420358.263}},
    {{{"width", "600"}, {"height", "400"}, {"diameter", "400"}, {"shift_right", "100"}},
     {0.0, 0.0, -5.901699, 0.0},
     111421827.486,
     88273936.7,
     {1406250.000, 2156177.437, 1379200.545, 2156177.437}}};

Flags collared(const Flags& changes) {
  return support::with(support::with(k_square_to_round, {{"square_collar", "150"}}), changes);
}

double panel_volume(const Sheet& sheet, int side, double t) {
  // a polygon that grows evenly with the depth
  return t / 6.0 *
         (panel_area(sheet, side, 0.0) + 4.0 * panel_area(sheet, side, 0.5 * t) + panel_area(sheet, side, t));
}

}  // namespace

TEST(SquareCollar, PanelsMeetTheirFlatsAtEqualDepth) {
  for (const Known& known : k_known) {
    const Fitting fitting = square_to_round(collared(known.changes));
    const Sheet& sheet = fitting.wall(0).sheet;
    for (int side = 0; side < 4; ++side)
      EXPECT_NEAR(25.0 * panel_top(sheet, side), known.tops[static_cast<std::size_t>(side)], 1e-6) << side;
  }
}

TEST(SquareCollar, Volumes) {
  for (const Known& known : k_known) {
    const Fitting fitting = square_to_round(collared(known.changes));
    EXPECT_NEAR(shell_volume(fitting, 0.0), known.cavity, 1e-9 * known.cavity);
    EXPECT_NEAR(shell_volume(fitting, 25.0), known.bore, 1e-8 * known.bore);
    for (int side = 0; side < 4; ++side) {
      const double volume = known.panels[static_cast<std::size_t>(side)];
      EXPECT_NEAR(panel_volume(fitting.wall(0).sheet, side, 25.0), volume, 1e-8 * volume) << side;
      EXPECT_NEAR(wall_area(fitting, side + 1, 25.0), panel_area(fitting.wall(0).sheet, side, 25.0), 1e-5)
          << side;
    }
  }
}

}  // namespace linerwright
