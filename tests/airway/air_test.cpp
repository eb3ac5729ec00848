// Air, bore, velocity and the velocity check, against standards, handbooks and hand arithmetic.
#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <limits>
#include <stdexcept>
#include <string>
#include <vector>

#include "linerwright/airway/airway.hpp"
#include "linerwright/units/vector.hpp"

using namespace linerwright;

namespace {

constexpr double k_nan = std::numeric_limits<double>::quiet_NaN();
constexpr double k_infinity = std::numeric_limits<double>::infinity();

// Names the message, so that an empty or misleading reason is seen.
std::string reason(const std::function<void()>& call) {
  try {
    call();
  } catch (const std::invalid_argument& error) {
    return error.what();
  }
  return "(not refused)";
}

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST(Air, constants_follow_from_exactly_25_4_mm) {
  // 1 fpm = 12 in / 60 s; the trade prints 30.5 and 20.3 m/s for 6000 and 4000 fpm.
  EXPECT_DOUBLE_EQ(k_foot_per_minute, 12 * 25.4e-3 / 60);
  EXPECT_NEAR(k_default_velocity_limit, 30.48, 1e-12);
  EXPECT_NEAR(k_nosing_on_all_edges_above, 20.32, 1e-12);
}

TEST(Air, density_of_the_standard_atmosphere) {
  // U.S. Standard Atmosphere 1976 as tabulated in Mechanical Engineers' Handbook vol. 4, Thermophysical
  // Properties of Fluids, table 6: pressures in bar with 4 decimals, densities with 4. At 0 m the exact
  // pressure is 101325 Pa.
  EXPECT_NEAR(air_density(101325, 15), 1.2250, 0.00005);
  struct Row {
    double bar, kelvin, density;
  };
  const Row rows[] = {{0.8988, 281.65, 1.1117}, {0.7950, 275.15, 1.0066}, {0.7012, 268.66, 0.9093},
                      {0.6166, 262.17, 0.8194}, {0.5405, 255.68, 0.7364}, {0.2650, 223.25, 0.4135}};
  for (const Row& row : rows) {
    // Half a last digit of the density, of the pressure and of the temperature.
    const double rounding = 0.00005 + row.density * (0.00005 / row.bar + 0.005 / row.kelvin);
    EXPECT_NEAR(air_density(row.bar * 1e5, row.kelvin - 273.15), row.density, rounding) << row.bar << " bar";
  }
}

TEST(Air, density_by_the_duct_handbook) {
  // SMACNA HVAC Systems Duct Design, p. 14.58: d = 3.48 p/T (kPa, K); the factor has three figures (0.15 %).
  for (const double celsius : {-20.0, 0.0, 20.0, 60.0, 120.0}) {
    const double handbook = 3.48 * 101.325 / (celsius + 273.15);
    EXPECT_NEAR(air_density(101325, celsius) / handbook, 1.0, 0.005 / 3.48) << celsius;
  }
  // Its standard air, 1.204 kg/m3, is that of 20 C and 101.325 kPa.
  EXPECT_NEAR(air_density(101325, 20), Air{}.density, 0.0005);
}

TEST(Air, viscosity) {
  // Standard atmosphere at sea level: nu 1.460e-5 m2/s (ISA table, four figures).
  EXPECT_NEAR(air_at(101325, 15).viscosity, 1.460e-5, 0.001e-5);
  // A published air table at 1 atm: dynamic viscosity 1.716, 1.813, 1.907e-5 Pa s at 0, 20, 40 C.
  const double dynamic[][2] = {{0, 1.716e-5}, {20, 1.813e-5}, {40, 1.907e-5}};
  for (const auto& row : dynamic) {
    const Air air = air_at(101325, row[0]);
    EXPECT_NEAR(air.viscosity * air.density, row[1], 0.001e-5) << row[0];
  }
  // ISA table at 5000 ft (1524 m, so 15 - 0.0065 x 1524 = 5.094 C): dynamic viscosity 0.9731,
  // kinematic 1.1293 times that at sea level, at a pressure ratio of 0.8320.
  const Air sea = air_at(101325, 15);
  const Air high = air_at(0.8320 * 101325, 5.094);
  EXPECT_NEAR(high.viscosity * high.density / (sea.viscosity * sea.density), 0.9731, 0.00005);
  EXPECT_NEAR(high.viscosity / sea.viscosity, 1.1293, 0.00005 + 1.1293 * 0.00005 / 0.8320);
  // The default is the law's own value at 20 C and 101.325 kPa.
  EXPECT_NEAR(air_at(101325, 20).viscosity, Air{}.viscosity, 0.0005e-5);
  // Half the pressure: half the density, twice the kinematic viscosity.
  EXPECT_NEAR(air_at(50662.5, 20).viscosity, 2 * air_at(101325, 20).viscosity, 1e-18);
}

TEST(Air, default_viscosity_gives_the_handbook_reynolds_number) {
  // SMACNA HVAC Systems Duct Design, table A-7: Re = 66.4 D[mm] V[m/s] = 8.56 D[in] V[fpm]. The two factors
  // disagree: 66.4 x 25.4 x 0.00508 = 8.568, so the inch one is cut, not rounded, and holds to a whole last
  // digit.
  EXPECT_NEAR(reynolds(10, 300) / (300 * 10), 66.4, 0.05);
  EXPECT_NEAR(reynolds(2000 * k_foot_per_minute, 12 * 25.4) / (12 * 2000), 8.56, 0.01);
}

TEST(Air, velocity_pressure) {
  // Duct design lecture slides: p_v = 0.602 V^2, 60.2 Pa at 10 m/s.
  EXPECT_NEAR(velocity_pressure(10), 60.2, 1e-12);
  // Inch practice: V = 4005 sqrt(p_v) fpm, p_v in in w.g., air of 0.075 lb/ft3 (common practice, no source;
  // from memory). The inch of water is that of 68 F: 998.2 kg/m3 x 9.80665 m/s2 x 0.0254 m = 248.64 Pa. 4005
  // has four figures, and the pressure goes with its square.
  const Air inch_air{0.075 * 0.45359237 / std::pow(0.3048, 3), 1.506e-5};
  EXPECT_NEAR(velocity_pressure(4005 * k_foot_per_minute, inch_air) / 248.64, 1.0, 2 * 0.5 / 4005);
}

TEST(Bore, free_area_table) {
  // Hand arithmetic: ((D - 2 t)/D)^2, e.g. (10/12)^2 = 25/36.
  struct Row {
    double diameter, thickness, bore, share;
  };
  const Row rows[] = {{12 * 25.4, 25.4, 10 * 25.4, 25.0 / 36},
                      {10 * 25.4, 25.4, 8 * 25.4, 0.64},
                      {24 * 25.4, 25.4, 22 * 25.4, 121.0 / 144},
                      {24 * 25.4, 50.8, 20 * 25.4, 25.0 / 36},
                      {200, 25, 150, 0.5625},
                      {315, 25, 265, 0.707735},
                      {500, 50, 400, 0.64},
                      {160, 13, 134, 0.701406}};
  for (const Row& row : rows) {
    const double bore = lined_diameter(row.diameter, row.thickness);
    EXPECT_NEAR(bore, row.bore, 1e-9);
    const double bare = circle_area(row.diameter);
    EXPECT_NEAR(share_of_bare(circle_area(bore), bare), row.share, 5e-7);
    EXPECT_NEAR(velocity_factor(circle_area(bore), bare), 1 / row.share, 1e-6);
    EXPECT_NEAR(equivalent_diameter(circle_area(bore)), row.bore, 1e-9);
  }
  EXPECT_NEAR(velocity_factor(circle_area(22), circle_area(24)), 1.1901, 0.00005);
}

TEST(Bore, area_and_equivalent_diameter) {
  EXPECT_NEAR(circle_area(2), k_pi, 1e-15);
  EXPECT_NEAR(circle_area(200), 31415.926535897932, 1e-9);
  // A square of side a: d_e = 2 a / sqrt(pi) = 1.128379 a.
  EXPECT_NEAR(equivalent_diameter(100.0 * 100.0), 112.8379167, 1e-6);
  EXPECT_DOUBLE_EQ(lined_diameter(315, 0), 315);
}

TEST(Bore, narrowest_is_the_first_of_the_smallest) {
  const std::vector<BoreSection> taper = {{0, 900, 1000}, {50, 700, 900}, {100, 500, 800}, {150, 500, 800}};
  EXPECT_EQ(narrowest(taper), 2u);
  // The last differs by rounding only.
  EXPECT_EQ(narrowest({{0, 500, 800}, {10, 500 * (1 - 1e-14), 800}}), 0u);
  EXPECT_EQ(reason([] { narrowest({}); }), "no section of the bore was given");
  EXPECT_TRUE(has(reason([] { narrowest({{0, 900, 800}}); }), "larger than the bare area"));
}

TEST(Bore, velocity_by_hand) {
  // 4000 cfm in 20 in: area pi 100 / 144 ft2 = 2.181662 ft2, 1833.46 fpm.
  const double flow = 4000 * std::pow(0.3048, 3) / 60;
  EXPECT_NEAR(velocity(flow, circle_area(508)) / k_foot_per_minute, 4000 / (k_pi * 100 / 144), 1e-9);
  EXPECT_NEAR(flow_for_velocity(508, velocity(flow, circle_area(508))), flow, 1e-15);
  EXPECT_NEAR(bore_for_velocity(flow, velocity(flow, circle_area(508))), 508, 1e-10);
}

TEST(VelocityCheck, limits) {
  // Exactly at a limit is allowed; the 6000 and 4000 fpm themselves come from NAIMA's and SMACNA's liner
  // rules.
  EXPECT_FALSE(check_velocity(30.48).over_limit);
  EXPECT_FALSE(check_velocity(6000 * k_foot_per_minute).over_limit);
  EXPECT_TRUE(check_velocity(30.49).over_limit);
  EXPECT_FALSE(check_velocity(4000 * k_foot_per_minute).nosing_on_all_edges);
  EXPECT_TRUE(check_velocity(4001 * k_foot_per_minute).nosing_on_all_edges);
  EXPECT_TRUE(check_velocity(12.8, 4000 * k_foot_per_minute).warnings.empty());
  EXPECT_TRUE(check_velocity(25, 4000 * k_foot_per_minute).over_limit);
}

TEST(VelocityCheck, text_gives_both_numbers_in_both_units) {
  const VelocityCheck fast = check_velocity(32);
  ASSERT_EQ(fast.warnings.size(), 1u);
  EXPECT_EQ(
      fast.warnings[0],
      "air at 32.0 m/s (6299 fpm) is over the lining's limit of 30.5 m/s (6000 fpm): its surface may erode "
      "into the air stream; choose a larger size or a lining rated for it");
  ASSERT_EQ(fast.notes.size(), 1u);
  EXPECT_EQ(fast.notes[0],
            "air at 32.0 m/s (6299 fpm) is over 20.3 m/s (4000 fpm): fit metal nosing on every leading "
            "edge of the "
            "lining");
  const VelocityCheck slow = check_velocity(5, k_default_velocity_limit, Before::metal);
  EXPECT_TRUE(slow.nosing_after_metal);
  EXPECT_FALSE(slow.nosing_on_all_edges);
  EXPECT_EQ(slow.notes.size(), 1u);
  EXPECT_TRUE(check_velocity(5).notes.empty());
}

TEST(FittingLoss, coefficient_times_lined_velocity_pressure) {
  // A 5-piece 90 degree elbow of R/D 1.5 has C 0.24 in SMACNA HVAC Systems Duct Design, table A-7B. Lined 315
  // to 265 mm at 0.5 m3/s: V 9.065429 m/s, p_v 0.602 V^2 = 49.47377 Pa, loss 11.873704 Pa.
  const double lined = velocity_pressure(velocity(0.5, circle_area(265)));
  EXPECT_NEAR(fitting_loss(0.24, lined), 11.873704, 1e-4);
  EXPECT_NEAR(fitting_loss(-0.1, lined), -0.1 * lined, 1e-12);
  EXPECT_EQ(fitting_loss(0, lined), 0);
}

TEST(Refusals, each_number_is_refused_with_its_name) {
  for (const double bad : {0.0, -1.0, k_nan, k_infinity, -k_infinity}) {
    EXPECT_TRUE(has(reason([&] { circle_area(bad); }), "diameter (mm) must be"));
    EXPECT_TRUE(has(reason([&] { equivalent_diameter(bad); }), "area (mm2) must be"));
    EXPECT_TRUE(has(reason([&] { lined_diameter(bad, 25); }), "diameter (mm) must be"));
    EXPECT_TRUE(has(reason([&] { share_of_bare(bad, 1); }), "free area (mm2) must be"));
    EXPECT_TRUE(has(reason([&] { velocity_factor(1, bad); }), "bare area (mm2) must be"));
    EXPECT_TRUE(has(reason([&] { velocity(bad, 1); }), "flow (m3/s) must be"));
    EXPECT_TRUE(has(reason([&] { velocity(1, bad); }), "area (mm2) must be"));
    EXPECT_TRUE(has(reason([&] { velocity_pressure(bad); }), "velocity (m/s) must be"));
    EXPECT_TRUE(has(reason([&] { velocity_pressure(1, {bad, 1e-5}); }), "air density (kg/m3) must be"));
    EXPECT_TRUE(has(reason([&] { reynolds(1, 1, {1, bad}); }), "air viscosity (m2/s) must be"));
    EXPECT_TRUE(has(reason([&] { air_density(bad, 20); }), "air pressure (absolute, Pa) must be"));
    EXPECT_TRUE(has(reason([&] { check_velocity(bad); }), "velocity (m/s) must be"));
    EXPECT_TRUE(has(reason([&] { check_velocity(1, bad); }), "velocity limit (m/s) must be"));
    EXPECT_TRUE(has(reason([&] { fitting_loss(0.2, bad); }), "velocity pressure (Pa) must be"));
    EXPECT_TRUE(has(reason([&] { bore_for_velocity(bad, 1); }), "flow (m3/s) must be"));
  }
  EXPECT_TRUE(has(reason([] { fitting_loss(k_nan, 1); }), "loss coefficient must be a finite number"));
  EXPECT_TRUE(has(reason([] { air_density(101325, -273.15); }), "absolute temperature must be over 0"));
  EXPECT_TRUE(has(reason([] { air_at(101325, 300); }), "outside -50 to 200 C"));
  EXPECT_TRUE(has(reason([] { lined_diameter(100, -1); }), "lining thickness (mm) must not be under 0"));
  EXPECT_EQ(reason([] { lined_diameter(100, 50); }),
            "a lining of 50 mm closes a duct of 100 mm: it must be under 50 mm");
}

TEST(Refusals, results_beyond_a_double_are_refused) {
  EXPECT_TRUE(has(reason([] { circle_area(1e200); }), "beyond any duct"));
  EXPECT_TRUE(has(reason([] { circle_area(1e-200); }), "beyond any duct"));
  EXPECT_TRUE(has(reason([] { velocity(1e300, 1e-300); }), "beyond any duct"));
}
