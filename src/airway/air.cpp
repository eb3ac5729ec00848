#include "linerwright/airway.hpp"
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

}  // namespace linerwright
