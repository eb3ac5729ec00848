// Heat through ducts in rooms, dew on the metal, and the sound beside a lining's, each recomputed another
// way.
#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

#include "linerwright/airway/heat.hpp"
#include "linerwright/airway/noise.hpp"
#include "linerwright/units/vector.hpp"

using namespace linerwright;

namespace {

// 14 C air at 0.5 m3/s in a 315 mm duct in a room of 30 C, lined 25 mm of 0.036 W/(m K).
DuctInRoom cold_duct(double thickness) {
  DuctInRoom duct;
  duct.metal_diameter = 315.0;
  duct.gauge = 0.8;
  duct.bore = 315.0 - 2.0 * thickness;
  duct.lining_resistance = thickness > 0.0 ? std::log(315.0 / duct.bore) / (2.0 * k_pi * 0.036) : 0.0;
  duct.flow = 0.5;
  duct.air_temperature = 14.0;
  duct.room_temperature = 30.0;
  duct.air = air_at(101325, 14.0);
  return duct;
}

}  // namespace

// The films written out again and the surface found by substitution: t = T_room - q / (pi D h_e).
TEST(DuctHeat, is_the_series_of_its_resistances) {
  for (const double thickness : {0.0, 13.0, 25.0, 50.0}) {
    const DuctInRoom duct = cold_duct(thickness);
    const double d = duct.bore * 1e-3;
    const double outside = 0.3166;
    const double re = 0.5 / (0.25 * k_pi * d * d) * d / duct.air.viscosity;
    const double kelvin = 287.15;
    const double k = 2.64638e-3 * std::pow(kelvin, 1.5) / (kelvin + 245.4 * std::pow(10.0, -12.0 / kelvin));
    const double pr = duct.air.viscosity * duct.air.density * 1004.68 / k;
    EXPECT_NEAR(pr, 0.71, 0.01) << "air's Prandtl number in any table";
    EXPECT_NEAR(k, 0.0251, 2e-4) << "and its conductivity at 14 C";
    const double inside = 0.023 * std::pow(re, 0.8) * std::pow(pr, 0.4) * k / d;
    double surface = 25.0;
    double q = 0.0;
    for (int i = 0; i < 2000; ++i) {
      const double dt = 30.0 - surface;
      const double still =
          std::pow(outside, 3) * dt <= 10.0 ? 1.25 * std::pow(dt / outside, 0.25) : 1.21 * std::cbrt(dt);
      const double t1 = surface + 273.15;
      const double t2 = 303.15;
      const double film = still + 0.26 * 5.670374e-8 * (std::pow(t1, 4) - std::pow(t2, 4)) / (t1 - t2);
      q = 16.0 / (1.0 / (k_pi * d * inside) + duct.lining_resistance + 1.0 / (k_pi * outside * film));
      surface = 0.5 * surface + 0.5 * (30.0 - q / (k_pi * outside * film));
    }
    const DuctHeat found = duct_heat(duct);
    EXPECT_NEAR(found.per_metre / q, 1.0, 1e-6) << thickness;
    EXPECT_NEAR(found.surface_temperature, surface, 1e-5) << thickness;
    EXPECT_NEAR(found.inside_film.value() / inside, 1.0, 1e-5);
  }
}

TEST(DuctHeat, sign_and_order) {
  double last = 1e9;
  for (const double thickness : {0.0, 5.0, 25.0, 60.0}) {
    const DuctHeat cold = duct_heat(cold_duct(thickness));
    EXPECT_GT(cold.per_metre, 0.0);
    EXPECT_LT(cold.per_metre, last);
    last = cold.per_metre;
    EXPECT_GT(cold.surface_temperature, 14.0);
    EXPECT_LT(cold.surface_temperature, 30.0);
  }
  DuctInRoom warm = cold_duct(25.0);
  warm.air_temperature = 46.0;
  EXPECT_LT(duct_heat(warm).per_metre, 0.0);
  warm.air_temperature = 30.0;
  EXPECT_NEAR(duct_heat(warm).per_metre, 0.0, 1e-9);
  DuctInRoom slow = cold_duct(25.0);
  slow.flow = 0.01;
  EXPECT_FALSE(duct_heat(slow).inside_film);
  slow.flow = 0.0;
  EXPECT_THROW(duct_heat(slow), std::invalid_argument);
  slow.flow = 1.0;
  slow.emissivity = 1.2;
  EXPECT_THROW(duct_heat(slow), std::invalid_argument);
}

// At the least thickness the metal is exactly as warm as the dew point; a millimetre less is wet.
TEST(LeastDry, meets_the_dew_point) {
  const double dew = dew_point(30.0, 70.0);
  const double least = least_dry_thickness(cold_duct(0.0), 0.036, dew).value();
  EXPECT_GT(least, 3.0);
  EXPECT_LT(least, 60.0);
  EXPECT_NEAR(duct_heat(cold_duct(least)).surface_temperature, dew, 1e-4);
  EXPECT_LT(duct_heat(cold_duct(least - 1.0)).surface_temperature, dew);
  EXPECT_EQ(least_dry_thickness(cold_duct(0.0), 0.036, 5.0).value(), 0.0)
      << "the air is warmer than the dew point";
  EXPECT_FALSE(least_dry_thickness(cold_duct(0.0), 0.036, 29.99));
}

// Reynolds and Bledsoe's table 5.5 as handbooks print it in dB/m (rounded): to 180 mm 0.10 0.10 0.16 0.16
// 0.33 0.33 0.33.
TEST(BareAttenuation, of_a_metre) {
  const double printed[] = {0.10, 0.10, 0.16, 0.16, 0.33, 0.33, 0.33};
  const auto taken = bare_attenuation(150, 1000);
  for (std::size_t i = 0; i < 7; ++i) EXPECT_NEAR(taken[i], printed[i], 0.006) << i;
  EXPECT_NEAR(bare_attenuation(500, 10000)[0], 10 * 0.02 / 0.3048, 1e-9);
  EXPECT_NEAR(bare_attenuation(1500, 10000)[3], 10 * 0.02 / 0.3048, 1e-9);
  EXPECT_THROW(bare_attenuation(1600, 1000), std::invalid_argument);
}

// 10 m/s in 1 m2: 57 dB in all; the octave at 63 Hz lies 2 + 26 lg 1.266 = 4.7 dB under it; twice the
// velocity is 15 dB more in all.
TEST(FlowNoise, by_hand) {
  const auto levels = flow_noise(10.0, 1e6);
  EXPECT_NEAR(levels[0], 57.0 - 2.0 - 26.0 * std::log10(1.266), 1e-9);
  EXPECT_NEAR(levels[7], 57.0 - 2.0 - 26.0 * std::log10(1.14 + 16.0), 1e-9);
  const auto faster = flow_noise(20.0, 1e6);
  EXPECT_NEAR(faster[0] - levels[0], 50.0 * std::log10(2.0) + 26.0 * std::log10(1.266 / 1.203), 1e-9);
  for (std::size_t i = 1; i < 8; ++i) EXPECT_LT(levels[i], levels[i - 1]);
  for (const double velocity : {0.0, 1.99, 20.01})
    EXPECT_THROW(flow_noise(velocity, 1e6), std::invalid_argument);
  EXPECT_LT(flow_noise(2.0, 1e6)[0], levels[0]);
}
