// Patterns of a rectangular collar's panels: both faces' corners, how the knife leans along each side.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "linerwright/pattern/pattern.hpp"
#include "linerwright/sheet/panels.hpp"
#include "support/square_to_rounds.hpp"

namespace linerwright {
namespace {

const Pattern& pattern_of(const std::vector<Pattern>& patterns, const std::string& id) {
  return *std::find_if(patterns.begin(), patterns.end(), [&](const Pattern& each) { return each.id == id; });
}

double area_of(const Ring& ring) {
  double twice = 0.0;
  for (std::size_t i = 0; i < ring.size(); ++i) twice += cross(ring[i], ring[(i + 1) % ring.size()]);
  return 0.5 * std::fabs(twice);
}

}  // namespace

// 600 x 400 to 400 over 400, 25 thick: the sides that are 400 long narrow by 1 in 4, their panels meet the
// flats 25 tan(atan(1/4) / 2) = 3.077641 down; the others stand upright.
TEST(SquareCollarPatterns, FacesAndTilts) {
  const Fitting fitting =
      support::square_to_round(support::with(support::k_square_to_round, {{"square_collar", "150"}}));
  const std::vector<Pattern> patterns = make_patterns(fitting);
  ASSERT_EQ(patterns.size(), 8U);
  for (int side = 0; side < 4; ++side) {
    const Pattern& panel = pattern_of(patterns, "panel" + std::to_string(side + 1));
    const double across = side % 2 == 0 ? 400.0 : 600.0;
    const double down = side % 2 == 0 ? 3.077641 : 0.0;
    EXPECT_NEAR(area_of(panel.duct.outer), across * 150.0, 1e-2);
    // a panel that stands higher than its neighbours follows their flats at its upper corners: triangles as
    // high as that and, where it ends, 25 (S - 1) wide beside a flat that narrows
    const double lean = std::hypot(1.0, 0.25) - 1.0;
    const double ears = side % 2 == 0 ? 0.0 : 25.0 * lean * 3.077641;
    EXPECT_NEAR(area_of(panel.air.outer), (across - 50.0) * (150.0 - down) - ears, 1e-2) << panel.id;
    EXPECT_NEAR(panel.stretch_out, 2.0 * (across + 150.0), 1e-9);
    EXPECT_NEAR(panel.max_tilt, 0.25 * k_pi, 1e-6);
    int square = 0;
    for (const TiltRow& row : panel.tilts) {
      const double tilt = std::fabs(row.tilt);
      const double top = std::atan2(down, 25.0);
      EXPECT_LT(std::min({std::fabs(tilt - 0.25 * k_pi), std::fabs(tilt - top), tilt}), 1e-6) << panel.id;
      if (tilt < 1e-9) ++square;
    }
    EXPECT_GT(square, 0);
  }
}

// What no straight blade cuts is told at the corners beside it. The ears of the 600 sides are triangles
// 3.077641 high and 25 (S - 1) = 0.769401 wide; with the air face up the duct face goes on beyond the blade's
// corners, on the narrowing sides by 25 at the upright edges' ends and by 3.077641 at the upper one's.
TEST(SquareCollarPatterns, WhatIsLeftToTheHand) {
  const double ear = 3.077641 * 0.769401 / std::hypot(3.077641, 0.769401);
  const auto left_of = [](const char* up, std::size_t side) {
    const Fitting fitting = support::square_to_round(
        support::with(support::k_square_to_round, {{"square_collar", "150"}, {"face_up", up}}));
    const std::vector<Pattern> patterns = make_patterns(fitting);
    std::vector<double> left;
    for (const TiltRow& row : pattern_of(patterns, "panel" + std::to_string(side)).tilts)
      left.push_back(row.left);
    return left;
  };
  const auto expect = [](const std::vector<double>& left, const std::array<double, 8>& wanted) {
    ASSERT_EQ(left.size(), wanted.size());
    for (std::size_t i = 0; i < wanted.size(); ++i) EXPECT_NEAR(left[i], wanted[i], 1e-5) << i;
  };
  // two rows for each side: the open end, up one corner, the joint with the flat, down the other corner
  expect(left_of("duct", 1), {0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0});
  expect(left_of("duct", 2), {0.0, 0.0, 0.0, ear, ear, ear, ear, 0.0});
  // laid the other way up: up one corner, the joint, down the other corner, the open end
  expect(left_of("air", 1), {0.0, 3.077641, 25.0, 25.0, 3.077641, 0.0, 25.0, 25.0});
  expect(left_of("air", 2), {0.0, ear, 25.0, 25.0, ear, 0.0, 25.0, 25.0});
}

// A panel hardly wider than five thicknesses, whose air face's sides are much shorter than the duct face's: a
// blade that looked for its foot on them found none. The joint leans by half of the flat's lean.
TEST(SquareCollarPatterns, ShortSidesLeanAsWell) {
  const Fitting fitting = support::square_to_round({{"width", "65.3054974"},
                                                    {"height", "65.3054974"},
                                                    {"diameter", "60"},
                                                    {"length", "127.102151"},
                                                    {"thickness", "12.7"},
                                                    {"round_collar", "100"},
                                                    {"square_collar", "52.9087394"}});
  const std::vector<Pattern> patterns = make_patterns(fitting);
  const double half_lean = 0.5 * std::atan((0.5 * 65.3054974 - 30.0) / 127.102151);
  for (const char* id : {"panel1", "panel2", "panel3", "panel4"}) {
    const std::vector<TiltRow>& rows = pattern_of(patterns, id).tilts;
    ASSERT_EQ(rows.size(), 8U);
    const std::array<double, 4> wanted{0.0, 0.25 * k_pi, half_lean, 0.25 * k_pi};
    for (std::size_t i = 0; i < rows.size(); ++i) {
      EXPECT_NEAR(std::fabs(rows[i].tilt), wanted[i / 2], 1e-9) << id << ' ' << i;
      EXPECT_EQ(rows[i].left, 0.0) << id << ' ' << i;
    }
  }
}

}  // namespace linerwright
