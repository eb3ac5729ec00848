// Square-to-rounds with a rectangular collar: volumes and joints against half planes cut section by section
// and closed forms of the panels, worked out apart from the program, and what is refused.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "linerwright/fitting/port.hpp"
#include "linerwright/fitting/shop_words.hpp"
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

std::string told_of(const Flags& changes) {
  try {
    square_to_round(collared(changes));
  } catch (const InputError& error) {
    return error.what();
  }
  return {};
}

bool holds(const std::string& told, const std::string& words) {
  return told.find(words) != std::string::npos;
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

// Two pieces, seams on the middles of the right and the left side.
TEST(SquareCollar, PanelsLieBesideWhatTheyMeet) {
  const Fitting fitting = square_to_round(collared({{"pieces", "2"}, {"round_collar", "100"}}));
  const auto next = [&](const std::string& id) {
    for (const Piece& piece : fitting.pieces)
      if (piece.id == id) return piece.next;
    return std::vector<std::string>{};
  };
  using Ids = std::vector<std::string>;
  EXPECT_EQ(next("panel1"), (Ids{"1", "2", "panel2", "panel4"}));
  EXPECT_EQ(next("panel2"), (Ids{"1", "panel3", "panel1"}));
  EXPECT_EQ(next("panel3"), (Ids{"1", "2", "panel4", "panel2"}));
  EXPECT_EQ(next("panel4"), (Ids{"2", "panel1", "panel3"}));
  const Ids of_collar = next("collar");
  EXPECT_EQ(std::count(of_collar.begin(), of_collar.end(), "panel1"), 0);
  // a panel is no wider than the rectangle's end, through which it goes in
  for (const std::string& warning : shop_warnings(fitting))
    EXPECT_EQ(warning.find("panel"), std::string::npos) << warning;
}

TEST(SquareCollar, BadInput) {
  EXPECT_EQ(told_of({}), "");
  EXPECT_TRUE(holds(told_of({{"square_collar", "-5"}}), "at least 10 mm"));
  EXPECT_TRUE(holds(told_of({{"square_collar", "5"}}), "at least 10 mm"));
  EXPECT_TRUE(holds(told_of({{"square_collar", "long"}}), "'long' is not a number"));
  EXPECT_TRUE(holds(told_of({{"square_collar", "6000"}}), "at most 5000 mm"));
  // cut in one: 1600 long of boards that leave 1500
  EXPECT_TRUE(holds(told_of({{"square_collar", "1600"}, {"board_width", "1200"}, {"board_length", "1500"}}),
                    "is 400 mm by 1600 mm, its board leaves 1500 mm by 1200 mm"));
  EXPECT_TRUE(holds(told_of({{"openings", "sensor piece panel1 at 60mm around 0 diameter 20mm"}}),
                    "a rectangular collar's panels are drawn whole so far"));
}

// The steepest side leans by (300 - 50) / 200: its joint reaches 25 tan(atan(1.25) / 2) = 12.0156 down.
TEST(SquareCollar, NoShorterThanItsJointAndTheShortestPiece) {
  const Flags steep{{"diameter", "100"}, {"length", "200"}};
  EXPECT_TRUE(holds(told_of(support::with(steep, {{"square_collar", "13"}})), "reaches 12.02 mm down"));
  EXPECT_EQ(told_of(support::with(steep, {{"square_collar", "13.03"}})), "");
}

TEST(SquareCollar, MeetsNoCone) {
  const Flags wide{{"width", "900"}, {"height", "800"}, {"diameter", "800"}, {"thickness", "20"}};
  EXPECT_TRUE(holds(told_of(support::with(wide, {{"length", "180"}})), "would meet a rounded corner's"));
  EXPECT_EQ(told_of(support::with(wide, {{"length", "230"}})), "");
}

TEST(SquareCollar, SeesItsPanelsWhole) {
  const Flags flared{{"width", "100"},  {"height", "150"},  {"diameter", "600"},
                     {"length", "100"}, {"shift_up", "30"}, {"thickness", "20"}};
  EXPECT_TRUE(holds(told_of(flared), "an upper corner of a panel is undercut"));
  EXPECT_FALSE(holds(told_of(support::with(flared, {{"length", "600"}})), "undercut"));
}

// The bore of the second as solid and by half planes: 62 604 823.884; its integral over rulings would leave
// out two pieces beside the ears, 257.3 together.
TEST(SquareCollar, TheCirclesMiddleLiesWithinThePanelsOfEars) {
  const Flags square{{"width", "150"},  {"height", "150"},   {"diameter", "600"},
                     {"length", "300"}, {"thickness", "50"}, {"shift_up", "24.9"}};
  EXPECT_EQ(told_of(square), "");
  const std::string told = told_of(support::with(square, {{"shift_up", "25.1"}}));
  EXPECT_TRUE(holds(told, "beyond the collar's air face on the top side")) << told;
  EXPECT_TRUE(holds(told_of({{"width", "747.743439"},
                             {"height", "144.566382"},
                             {"diameter", "500"},
                             {"length", "747.743439"},
                             {"shift_up", "20.9626065"},
                             {"thickness", "61.7828552"},
                             {"square_collar", "50"}}),
                    "undercut by its panel"));
}

}  // namespace linerwright
