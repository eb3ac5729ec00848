// What bores, bends, tapers and branches take, as the proof of runs has it.
#include <gtest/gtest.h>

#include <cmath>

#include "air_laws.hpp"

namespace linerwright::asked {
namespace {

constexpr double k_degree = 3.141592653589793 / 180.0;

// Air through a bore of 1 m, for which half the density times the square of its velocity is 0.5 Pa.
Stream stream_at(double reynolds, double roughness = 0.0) {
  return {0.78539816339744831, roughness, 1.0, 1.0 / reynolds};
}

double factor(double reynolds, double relative) {
  return friction_of(stream_at(reynolds, 1000.0 * relative), 1000.0, 1000.0) / 0.5;
}

TEST(AirLaws, FrictionIsColebrooks) {
  // solutions of the equation computed apart from this program, to the figures shown
  EXPECT_NEAR(factor(1e4, 0.0), 0.030883, 0.5e-6);
  EXPECT_NEAR(factor(1e4, 1e-3), 0.0323818, 0.5e-7);
  EXPECT_NEAR(factor(1e5, 0.0), 0.0179898, 0.5e-7);
  EXPECT_NEAR(factor(1e5, 1e-3), 0.0221745, 0.5e-7);
}

TEST(AirLaws, SlowAirIsLaminarAndBetweenTheLawsNothingIsHeld) {
  EXPECT_NEAR(factor(1000.0, 0.01), 0.064, 1e-12);  // Hagen and Poiseuille
  EXPECT_TRUE(std::isnan(factor(3000.0, 0.01)));
  EXPECT_EQ(friction_of({0.0, 0.1, 1.204, 1.5e-5}, 300.0, 1000.0), 0.0);
}

// Laminar friction goes with the fourth power of the bore (Hagen and Poiseuille), whose integral is closed.
TEST(AirLaws, FrictionOfATaperIsTheIntegralOfAnEvenBores) {
  const Stream slow{1e-3, 0.0, 1.0, 1e-4};
  const double wide = friction_of(slow, 500.0, 1000.0);
  const double ratio = 500.0 / 250.0;
  EXPECT_NEAR(friction_of(slow, 500.0, 250.0, 1000.0) / wide,
              (std::pow(ratio, 3) - 1.0) / (3.0 * (1.0 - 1.0 / ratio)), 1e-9);
  EXPECT_NEAR(friction_of(slow, 500.0, 500.0, 1000.0) / wide, 1.0, 1e-12);
}

// Idelchik, diagrams 6-1 and 6-7; Weisbach's table for single knees: 0.984 at 90 degrees, 0.139 at 40 (from
// memory).
TEST(AirLaws, MitresTakeWhatTheHandbooksHave) {
  const Stream fast = stream_at(1e6);
  EXPECT_NEAR(*mitres_take(fast, 90 * k_degree, 1, 1000, 1000),
              (0.95 + 33.5 / 90) * (0.95 * 0.5 + 2.05 * 0.25), 1e-9);
  EXPECT_NEAR(*mitres_take(fast, 180 * k_degree, 2, 1500, 1000), 2 * 0.984, 2e-3);
  EXPECT_NEAR(*mitres_take(fast, 80 * k_degree, 2, 1500, 1000), 2 * 0.139, 1.5e-3);
  EXPECT_FALSE(mitres_take(fast, 90 * k_degree, 4, 1499, 1000));
  // with very many they are a smooth bend, 0.21 of diagram 6-1 at R/D 1 and 90 degrees
  EXPECT_NEAR(*mitres_take(fast, 90 * k_degree, 1000, 2000, 1000), 0.21 / std::sqrt(2.0), 1e-9);
  EXPECT_NEAR(*mitres_take(stream_at(1e5), 90 * k_degree, 1000, 2000, 1000),
              0.21 / std::sqrt(2.0) * 11.5 / std::pow(1e5, 0.19), 1e-9);
  EXPECT_NEAR(*mitres_take(stream_at(1e6, 3.0), 45 * k_degree, 1000, 2000, 1000),
              0.42 / std::sqrt(2.0) * 0.9 * std::sqrt(0.5), 1e-9);
}

TEST(AirLaws, TapersTakeALittleAndStepsWhatBordaHas) {
  EXPECT_NEAR(taper_takes(200, 400, 1e-6), 0.5625, 1e-12);
  EXPECT_NEAR(taper_takes(250, 400, 1000), 3.2 * std::pow(0.075, 1.25) * std::pow(1 - 0.390625, 2), 1e-12);
  EXPECT_LT(taper_takes(400, 250, 1000), 0.05);
  EXPECT_GT(taper_takes(400, 250, 1000), 0.0);
  EXPECT_NEAR(taper_takes(40000, 1, 1e-6), 0.465, 0.005);  // a sharp edge out of a room: near 0.5
}

// The worked example of tees_of_published_examples (tests/airway/loss_test.cpp): an equal wye at 45 degrees,
// 1515 l/min straight on and 950 aside, run -0.06809.
TEST(AirLaws, TheWayPastABranchIsThatOfAPublishedExample) {
  EXPECT_NEAR(*branch_leaves_run(950.0 / (1515.0 + 950.0), 1.0, 45 * k_degree), -0.06809, 2e-5);
  EXPECT_NEAR(*branch_leaves_run(0.5, 0.25, 90 * k_degree), 0.1, 1e-12);  // 0.4 of the share's square
  EXPECT_FALSE(branch_leaves_run(0.5, 0.25, 75 * k_degree));
  EXPECT_FALSE(branch_leaves_run(0.5, 1.1, 90 * k_degree));
}

}  // namespace
}  // namespace linerwright::asked
