// Air by altitude and humidity against the tables of its standards.
#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

#include "linerwright/airway/airway.hpp"

using namespace linerwright;

// U.S. Standard Atmosphere 1976, table I: pressure at geopotential altitudes.
TEST(Pressure, of_the_standard_atmosphere) {
  EXPECT_NEAR(pressure_at(0), 101325.0, 1e-9);
  EXPECT_NEAR(pressure_at(1000), 89874.6, 1.0);
  EXPECT_NEAR(pressure_at(2000), 79495.2, 1.0);
  EXPECT_NEAR(pressure_at(5000), 54019.9, 1.0);
  EXPECT_NEAR(pressure_at(11000), 22632.1, 1.0);
  EXPECT_NEAR(pressure_at(1524), 84307.0, 2.0) << "5000 ft: 12.228 psi";
  EXPECT_THROW(pressure_at(11001), std::invalid_argument);
  EXPECT_THROW(pressure_at(std::nan("")), std::invalid_argument);
}

// Saturation over water in steam tables: 611.2 Pa at 0 C, 1228 at 10, 2339 at 20, 4246 at 30, 7384 at 40
// (from memory); the formula is within 0.3 % of them.
TEST(Vapour, saturation) {
  const double table[][2] = {{0, 611.2}, {10, 1228}, {20, 2339}, {30, 4246}, {40, 7384}};
  for (const auto& [t, pressure] : table) EXPECT_NEAR(saturation_pressure(t) / pressure, 1.0, 3e-3) << t;
  EXPECT_THROW(saturation_pressure(61), std::invalid_argument);
}

// Dew points as psychrometric tables give them to a tenth of a degree (from memory): 20 C 50 %: 9.3; 25 C 60
// %: 16.7; 30 C 80 %: 26.2; 75 F 50 %: 55 F. At saturation it is the air's own.
TEST(Vapour, dew_point) {
  EXPECT_NEAR(dew_point(20, 50), 9.3, 0.05);
  EXPECT_NEAR(dew_point(25, 60), 16.7, 0.05);
  EXPECT_NEAR(dew_point(30, 80), 26.2, 0.05);
  EXPECT_NEAR(dew_point((75 - 32) / 1.8, 50) * 1.8 + 32, 55.1, 0.2);
  // a public calculation sheet for duct insulation, room at 30 C: 90 % 28.2, 80 % 26.2, 75 % 25.1, 70 % 23.9
  const double sheet[][2] = {{90, 28.2}, {80, 26.2}, {75, 25.1}, {70, 23.9}};
  for (const auto& [humidity, dew] : sheet) EXPECT_NEAR(dew_point(30, humidity), dew, 0.05) << humidity;
  for (const double t : {-20.0, 0.0, 17.3, 55.0}) EXPECT_NEAR(dew_point(t, 100), t, 1e-9);
  for (const double t : {5.0, 24.0})
    EXPECT_NEAR(saturation_pressure(dew_point(t, 37)), 0.37 * saturation_pressure(t), 1e-9);
  EXPECT_THROW(dew_point(20, 0), std::invalid_argument);
  EXPECT_THROW(dew_point(20, 101), std::invalid_argument);
}

// Dalton's law by hand at 30 C, 101325 Pa, 60 %: e = 0.6 x 4240 = 2544 Pa; (101325 - 2544) / (287.05 x
// 303.15) + 2544 / (461.5 x 303.15) = 1.1352 + 0.0182 = 1.1534 kg/m3.
TEST(Moist, is_lighter_than_dry) {
  const Air dry = air_at(101325, 30);
  const Air moist = moist_air_at(101325, 30, 60);
  EXPECT_NEAR(moist.density, 1.1534, 3e-4);
  EXPECT_LT(moist.density, dry.density);
  EXPECT_NEAR(moist.density * moist.viscosity, dry.density * dry.viscosity, 1e-12);
  const Air none = moist_air_at(101325, 30, 0);
  EXPECT_EQ(none.density, dry.density);
  EXPECT_THROW(moist_air_at(101325, 30, 130), std::invalid_argument);
  EXPECT_THROW(moist_air_at(4000, 30, 100), std::invalid_argument);
}
