#include "linerwright/airway/airway.hpp"
#include "require.hpp"

namespace linerwright {

using namespace airway;

namespace {

// Dry air: rho = p / (R T), R = 287.053 J/(kg K). U.S. Standard Atmosphere 1976 (R* = 8314.32 J/(kmol K),
// molar mass 28.9644 kg/kmol). The duct handbooks' d = 3.48 p/T (kPa, K) is the same law with R rounded to
// 287.4.
constexpr double k_gas_constant = 8314.32 / 28.9644;
constexpr double k_celsius_zero = 273.15;

}  // namespace

double air_density(double pressure, double temperature) {
  require_positive(pressure, "air pressure (absolute, Pa)");
  require_finite(temperature, "air temperature (degrees C)");
  const double kelvin = temperature + k_celsius_zero;
  require_positive(kelvin, "absolute temperature");
  return in_range(pressure / (k_gas_constant * kelvin), "air density");
}

Air air_at(double pressure, double temperature) {
  require_finite(temperature, "air temperature (degrees C)");
  if (temperature < -50.0 || temperature > 200.0) {
    throw std::invalid_argument(
        fmt::format("air temperature {} C is outside -50 to 200 C, the range for duct air", temperature));
  }
  // Sutherland's law as the U.S. Standard Atmosphere 1976 states it:
  // mu = 1.458e-6 T^1.5 / (T + 110.4) Pa s; nu = mu / rho.
  const double kelvin = temperature + k_celsius_zero;
  const double dynamic = 1.458e-6 * kelvin * std::sqrt(kelvin) / (kelvin + 110.4);
  const double density = air_density(pressure, temperature);
  return {density, in_range(dynamic / density, "air viscosity")};
}

// The troposphere of the U.S. Standard Atmosphere 1976: p = p0 (1 - L h / T0)^(g M / (R* L)), T0 = 288.15 K,
// L = 6.5 K/km.
double pressure_at(double altitude) {
  require_finite(altitude, "altitude (m)");
  if (altitude < -500.0 || altitude > 11000.0) {
    throw std::invalid_argument(
        fmt::format("altitude {} m is outside -500 to 11000 m, the range of the formula", altitude));
  }
  constexpr double k_base = 288.15;
  constexpr double k_lapse = 0.0065;
  constexpr double k_gravity = 9.80665;
  return k_standard_pressure *
         std::pow(1.0 - k_lapse * altitude / k_base, k_gravity / (k_gas_constant * k_lapse));
}

namespace {

// Magnus' formula in the constants of the WMO Guide to Instruments and Methods of Observation (WMO-No. 8,
// annex 4.B), over water, -45 to 60 C: e = 611.2 exp(17.62 t / (243.12 + t)) Pa.
constexpr double k_magnus_a = 17.62;
constexpr double k_magnus_b = 243.12;  // C
constexpr double k_magnus_0 = 611.2;   // Pa

double magnus_power(double temperature) {
  require_finite(temperature, "air temperature (degrees C)");
  if (temperature < -45.0 || temperature > 60.0) {
    throw std::invalid_argument(fmt::format(
        "temperature {} C is outside -45 to 60 C, the range of the formula for water vapour", temperature));
  }
  return k_magnus_a * temperature / (k_magnus_b + temperature);
}

void require_humidity(double humidity) {
  require_not_negative(humidity, "relative humidity (%)");
  if (humidity > 100.0) throw std::invalid_argument(fmt::format("humidity {} % is over 100 %", humidity));
}

}  // namespace

double saturation_pressure(double temperature) {
  return k_magnus_0 * std::exp(magnus_power(temperature));
}

// Magnus turned round.
double dew_point(double temperature, double humidity) {
  require_humidity(humidity);
  require_positive(humidity, "relative humidity (%)");
  const double g = std::log(humidity / 100.0) + magnus_power(temperature);
  return k_magnus_b * g / (k_magnus_a - g);
}

// Dalton: rho = (p - e) / (R T) + e / (R_w T), R_w of water vapour, 18.01528 kg/kmol. The dynamic viscosity
// is dry air's: vapour lowers it by under 2 % up to saturation at 40 C (from memory).
Air moist_air_at(double pressure, double temperature, double humidity) {
  require_humidity(humidity);
  const Air dry = air_at(pressure, temperature);
  if (humidity == 0.0) return dry;
  const double vapour = humidity / 100.0 * saturation_pressure(temperature);
  if (vapour >= pressure)
    throw std::invalid_argument("the water vapour alone would have more pressure than the air");
  constexpr double k_vapour_constant = 8314.32 / 18.01528;
  const double kelvin = temperature + k_celsius_zero;
  Air moist;
  moist.density = in_range(
      (pressure - vapour) / (k_gas_constant * kelvin) + vapour / (k_vapour_constant * kelvin), "air density");
  moist.viscosity = in_range(dry.viscosity * dry.density / moist.density, "air viscosity");
  return moist;
}

}  // namespace linerwright
