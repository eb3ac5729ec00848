// Friction as the proof of runs has it.
#include "run_losses.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace linerwright::asked {
namespace {

// The friction factor behind what a bore of 1 m takes over 1 m: there 0.5 rho v^2 is 0.5 at 1 m/s and 1
// kg/m3.
double factor(double reynolds, double relative) {
  return friction_of(1000.0, 1000.0, 0.78539816339744831, 1000.0 * relative, 1.0, 1.0 / reynolds) / 0.5;
}

TEST(RunLosses, FrictionIsColebrooks) {
  // solutions of the equation computed apart from this program, to the figures shown
  EXPECT_NEAR(factor(1e4, 0.0), 0.030883, 0.5e-6);
  EXPECT_NEAR(factor(1e4, 1e-3), 0.0323818, 0.5e-7);
  EXPECT_NEAR(factor(1e5, 0.0), 0.0179898, 0.5e-7);
  EXPECT_NEAR(factor(1e5, 1e-3), 0.0221745, 0.5e-7);
}

TEST(RunLosses, SlowAirIsLaminarAndBetweenTheLawsNothingIsHeld) {
  EXPECT_NEAR(factor(1000.0, 0.01), 0.064, 1e-12);  // Hagen and Poiseuille
  EXPECT_TRUE(std::isnan(factor(3000.0, 0.01)));
  EXPECT_EQ(friction_of(300.0, 1000.0, 0.0, 0.1, 1.204, 1.5e-5), 0.0);
}

}  // namespace
}  // namespace linerwright::asked
