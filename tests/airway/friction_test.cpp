// Friction: Colebrook to machine precision, published solutions of it, and turning it round.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>

#include "linerwright/airway/airway.hpp"
#include "linerwright/units/vector.hpp"

using namespace linerwright;

namespace {

constexpr double k_epsilon = std::numeric_limits<double>::epsilon();

// The published algorithm of D. Clamond, Efficient Resolution of the Colebrook Equation, Ind. Eng. Chem. Res.
// 48 (2009) 3665: an independent way to the same root (quartic iterations on a logarithmic form), accurate to
// about machine precision for every Re > 3.
double clamond(double re, double relative) {
  const double x1 = relative * re * 0.123968186335417556;
  const double x2 = std::log(re) - 0.779397488455682028;
  double f = x2 - 0.2;
  for (int i = 0; i < 2; ++i) {
    const double e = (std::log(x1 + f) + f - x2) / (1 + x1 + f);
    f -= (1 + x1 + f + 0.5 * e) * e * (x1 + f) / (1 + x1 + f + e * (1 + e / 3));
  }
  f = 1.151292546497022842 / f;
  return f * f;
}

struct Random {
  std::mt19937_64 engine{20240611};
  double log_uniform(double low, double high) {
    std::uniform_real_distribution<double> d(std::log(low), std::log(high));
    return std::exp(d(engine));
  }
};

}  // namespace

TEST(Colebrook, grid) {
  // Solutions of the equation computed apart from this program, to the figures shown.
  EXPECT_NEAR(friction_factor(1e4, 0), 0.030883, 0.5e-6);
  EXPECT_NEAR(friction_factor(1e4, 1e-3), 0.0323818, 0.5e-7);
  EXPECT_NEAR(friction_factor(1e5, 0), 0.0179898, 0.5e-7);
  EXPECT_NEAR(friction_factor(1e5, 1e-4), 0.0185139, 0.5e-7);
  EXPECT_NEAR(friction_factor(1e5, 1e-3), 0.0221745, 0.5e-7);
  EXPECT_NEAR(friction_factor(1e5, 1e-2), 0.0385035, 0.5e-7);
  EXPECT_NEAR(friction_factor(1e6, 0), 0.0116450, 0.5e-7);
  EXPECT_NEAR(friction_factor(1e6, 1e-3), 0.0199435, 0.5e-7);
  EXPECT_NEAR(friction_factor(1e6, 1e-2), 0.0379647, 0.5e-7);
}

TEST(Colebrook, residual_is_at_machine_precision) {
  Random random;
  int checked = 0;
  for (int i = 0; i < 20000; ++i) {
    const double re = random.log_uniform(4000, 1e9);
    const double relative = i % 10 == 0 ? 0.0 : random.log_uniform(1e-8, 0.4999);
    const double x = 1 / std::sqrt(friction_factor(re, relative));
    const double residual = x + 2 * std::log10(relative / 3.7 + 2.51 * x / re);
    // x back from f, its logarithm and the sum each round once or twice.
    EXPECT_LE(std::abs(residual), 4 * k_epsilon * x) << "Re " << re << " eps/D " << relative;
    ++checked;
  }
  EXPECT_EQ(checked, 20000);
}

TEST(Colebrook, agrees_with_clamonds_algorithm) {
  Random random;
  for (int i = 0; i < 5000; ++i) {
    const double re = random.log_uniform(4000, 1e8);
    const double relative = random.log_uniform(1e-7, 0.1);
    const double f = friction_factor(re, relative);
    EXPECT_NEAR(f / clamond(re, relative), 1, 1e-13) << "Re " << re << " eps/D " << relative;
  }
}

TEST(Colebrook, agrees_with_haaland_within_his_stated_accuracy) {
  // S. E. Haaland, J. Fluids Eng. 105 (1983) 89: 1/sqrt(f) = -1.8 log10((eps/(3.7 D))^1.11 + 6.9/Re), within
  // 2 % of Colebrook for 4000 <= Re <= 1e8 and 1e-6 <= eps/D <= 0.05 (range and accuracy from memory).
  Random random;
  double worst = 0;
  for (int i = 0; i < 5000; ++i) {
    const double re = random.log_uniform(4000, 1e8);
    const double relative = random.log_uniform(1e-6, 0.05);
    const double haaland = std::pow(-1.8 * std::log10(std::pow(relative / 3.7, 1.11) + 6.9 / re), -2);
    worst = std::max(worst, std::abs(haaland / friction_factor(re, relative) - 1));
  }
  EXPECT_LT(worst, 0.02);
}

TEST(Colebrook, agrees_with_swamee_and_jain_in_their_range) {
  // P. K. Swamee, A. K. Jain, J. Hydraulics Div. ASCE 102 (1976) 657: f = 1.325 / ln(eps/(3.7 D)
  // + 5.74/Re^0.9)^2 for 5e3 <= Re <= 1e8, 1e-6 <= eps/D <= 1e-2. The accuracy held here, 3 %, is the
  // textbooks' (from memory).
  Random random;
  for (int i = 0; i < 2000; ++i) {
    const double re = random.log_uniform(5e3, 1e8);
    const double relative = random.log_uniform(1e-6, 1e-2);
    const double other = 1.325 / std::pow(std::log(relative / 3.7 + 5.74 / std::pow(re, 0.9)), 2);
    EXPECT_NEAR(other / friction_factor(re, relative), 1, 0.03) << "Re " << re << " eps/D " << relative;
  }
}

TEST(Colebrook, the_two_ends_of_moodys_chart) {
  // Moody diagram sheet: smooth 1/sqrt(f) = 2 log10(Re sqrt(f)) - 0.8; rough 1/sqrt(f) = 1.14 - 2
  // log10(eps/D). Their constants are rounded (2 log10 2.51 = 0.799, 2 log10 3.7 = 1.136).
  for (const double re : {1e4, 1e5, 1e6, 1e7}) {
    const double root = std::sqrt(friction_factor(re, 0));
    EXPECT_NEAR(1 / root, 2 * std::log10(re * root) - 0.8, 0.0011) << re;
  }
  for (const double relative : {1e-4, 1e-3, 1e-2, 5e-2}) {
    EXPECT_NEAR(1 / std::sqrt(friction_factor(1e14, relative)), 1.14 - 2 * std::log10(relative), 0.0037)
        << relative;
  }
}

TEST(FrictionFactor, laminar_and_joints) {
  EXPECT_DOUBLE_EQ(friction_factor(1000, 0), 0.064);  // Hagen-Poiseuille, 64/Re
  EXPECT_DOUBLE_EQ(friction_factor(1000, 0.02), 0.064);
  EXPECT_EQ(flow_regime(2299.9), FlowRegime::laminar);
  EXPECT_EQ(flow_regime(2300), FlowRegime::transition);
  EXPECT_EQ(flow_regime(3999.9), FlowRegime::transition);
  EXPECT_EQ(flow_regime(4000), FlowRegime::turbulent);
  for (const double relative : {0.0, 1e-3, 1e-2, 0.05, 0.4}) {
    // No jump where the laws meet.
    EXPECT_NEAR(friction_factor(std::nextafter(2300.0, 0.0), relative), friction_factor(2300, relative),
                1e-12);
    EXPECT_NEAR(friction_factor(std::nextafter(4000.0, 0.0), relative), friction_factor(4000, relative),
                1e-12);
    // Half way between: the mean of the ends.
    EXPECT_NEAR(friction_factor(3150, relative), 0.5 * (64 / 2300.0 + friction_factor(4000, relative)),
                1e-15);
  }
}

TEST(BoreFlow, worked_example) {
  // 0.5 m3/s in standard air; Darcy and Colebrook computed apart from this program.
  struct Row {
    double bore, roughness, velocity, reynolds, factor, friction;
  };
  const Row rows[] = {{315, 0.09, 6.415921, 134198, 0.018575, 1.46126},
                      {265, 0.09, 9.065429, 159518, 0.018434, 3.44158},
                      {265, 0.9, 9.065429, 159518, 0.027875, 5.20408},
                      {265, 3.0, 9.065429, 159518, 0.039895, 7.44812}};
  for (const Row& row : rows) {
    const BoreFlow flow = bore_flow(row.bore, 0.5, row.roughness, {1.204, 1.506e-5});
    EXPECT_NEAR(flow.velocity, row.velocity, 0.5e-6);
    EXPECT_NEAR(flow.reynolds, row.reynolds, 0.5);
    EXPECT_NEAR(flow.friction_factor, row.factor, 0.5e-6);
    EXPECT_NEAR(flow.friction, row.friction, 0.5e-5);
    EXPECT_EQ(flow.regime, FlowRegime::turbulent);
    EXPECT_TRUE(flow.doubts.empty());
  }
}

TEST(BoreFlow, galvanized_chart) {
  // A published friction chart for galvanized duct, 4000 cfm in 20 in: about 0.23 in w.g. per 100 ft, read
  // off a log scale. It is drawn for rougher joints than today's 0.09 mm, so at 0.15 mm (the older charts'
  // roughness) Colebrook gives 0.212: within the 10 % such a chart can be read to.
  const double flow = 4000 * std::pow(0.3048, 3) / 60;
  const double inches_per_100_ft = bore_flow(508, flow, 0.15).friction * 30.48 / 249.089;
  EXPECT_NEAR(inches_per_100_ft, 0.23, 0.023);
  EXPECT_NEAR(inches_per_100_ft, 0.212, 0.0005);
}

TEST(BoreFlow, hagen_poiseuille) {
  // Laminar: dp/L = 128 mu Q / (pi D^4). 10 mm bore, 1e-5 m3/s: Re = 84.5.
  const Air air;
  const double expected = 128 * air.density * air.viscosity * 1e-5 / (k_pi * std::pow(0.010, 4));
  EXPECT_NEAR(bore_flow(10, 1e-5, 0).friction, expected, 1e-12);
}

TEST(BoreFlow, doubts_are_flagged) {
  // 100 mm, Re 3000: V = 3000 nu / 0.1 = 0.4518 m/s.
  const BoreFlow slow = bore_flow(100, flow_for_velocity(100, 3000 * 1.506e-5 / 0.1), 0.09);
  EXPECT_EQ(slow.regime, FlowRegime::transition);
  ASSERT_EQ(slow.doubts.size(), 1u);
  EXPECT_NE(slow.doubts[0].find("Reynolds number 3000 lies between"), std::string::npos);
  ASSERT_EQ(bore_flow(40, 0.01, 3).doubts.size(), 1u);
  EXPECT_NE(bore_flow(40, 0.01, 3).doubts[0].find("0.075 of the bore"), std::string::npos);
  EXPECT_TRUE(bore_flow(60, 0.01, 3).doubts.empty());  // exactly 0.05
}

TEST(Friction, rises_with_flow_and_roughness_and_falls_with_the_bore) {
  Random random;
  for (int i = 0; i < 3000; ++i) {
    const double bore = random.log_uniform(50, 2000);
    const double flow = random.log_uniform(1e-4, 30);  // laminar to fast
    const double roughness = random.log_uniform(0.001, 5);
    const double here = bore_flow(bore, flow, roughness).friction;
    EXPECT_GT(bore_flow(bore, flow * 1.01, roughness).friction, here)
        << bore << ' ' << flow << ' ' << roughness;
    EXPECT_LT(bore_flow(bore * 1.01, flow, roughness).friction, here)
        << bore << ' ' << flow << ' ' << roughness;
    EXPECT_GE(bore_flow(bore, flow, roughness * 1.01).friction, here)
        << bore << ' ' << flow << ' ' << roughness;
  }
}

TEST(Friction, turned_round_gives_the_start) {
  Random random;
  int regimes[3] = {0, 0, 0};
  for (int i = 0; i < 3000; ++i) {
    const double bore = random.log_uniform(50, 1500);
    const double re = random.log_uniform(300, 1e6);
    const double roughness = random.log_uniform(0.01, 5);
    const double flow = flow_for_velocity(bore, re * 1.506e-5 / (bore * 1e-3));
    const BoreFlow there = bore_flow(bore, flow, roughness);
    ++regimes[static_cast<int>(there.regime)];
    EXPECT_NEAR(flow_for_friction(bore, there.friction, roughness) / flow, 1, 1e-12) << bore << ' ' << re;
    EXPECT_NEAR(bore_for_friction(flow, there.friction, roughness) / bore, 1, 1e-12) << bore << ' ' << re;
  }
  for (const int count : regimes) EXPECT_GT(count, 100);
}

TEST(Friction, known_points_turned_round) {
  // The worked example from its other end: 5.20408 Pa/m in 265 mm at 0.9 mm is 0.5 m3/s.
  EXPECT_NEAR(flow_for_friction(265, 5.20408, 0.9), 0.5, 1e-6);
  EXPECT_NEAR(bore_for_friction(0.5, 5.20408, 0.9), 265, 1e-4);
}

TEST(Friction, refusals) {
  EXPECT_THROW(friction_factor(0, 0), std::invalid_argument);
  EXPECT_THROW(friction_factor(-1, 0), std::invalid_argument);
  EXPECT_THROW(friction_factor(std::numeric_limits<double>::quiet_NaN(), 0), std::invalid_argument);
  EXPECT_THROW(friction_factor(1e5, -1e-3), std::invalid_argument);
  EXPECT_THROW(friction_factor(1e5, 0.5), std::invalid_argument);
  EXPECT_THROW(flow_regime(0), std::invalid_argument);
  EXPECT_THROW(bore_flow(100, 0, 0.09), std::invalid_argument);
  EXPECT_THROW(bore_flow(100, 1, -0.09), std::invalid_argument);
  EXPECT_THROW(bore_flow(100, 1, 50), std::invalid_argument);
  EXPECT_THROW(bore_flow(0, 1, 0.09), std::invalid_argument);
  EXPECT_THROW(flow_for_friction(100, 0, 0.09), std::invalid_argument);
  EXPECT_THROW(flow_for_friction(100, 1, 60), std::invalid_argument);
  EXPECT_THROW(bore_for_friction(1, 0, 0.09), std::invalid_argument);
  EXPECT_THROW(bore_for_friction(0, 1, 0.09), std::invalid_argument);
  // A loss so high that even a bore of twice the roughness would meet it.
  EXPECT_THROW(bore_for_friction(1e-6, 1e9, 5), std::invalid_argument);
}
