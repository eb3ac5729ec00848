#include "linerwright/airway/heat.hpp"

#include <algorithm>

#include "linerwright/units/vector.hpp"
#include "require.hpp"

namespace linerwright {

using namespace airway;

namespace {

constexpr double k_celsius_zero = 273.15;
constexpr double k_stefan_boltzmann = 5.670374419e-8;  // W/(m2 K4), by definition of the SI since 2019

void require_duct(const DuctInRoom& duct) {
  require_positive(duct.metal_diameter, "diameter (mm)");
  require_not_negative(duct.gauge, "thickness of the metal (mm)");
  require_not_negative(duct.lining_resistance, "resistance of the lining (m K/W)");
  require_positive(duct.bore, "bore (mm)");
  require_positive(duct.flow, "flow (m3/s)");
  for (const double t : {duct.air_temperature, duct.room_temperature})
    if (!(t >= -50.0 && t <= 200.0))
      throw std::invalid_argument(
          fmt::format("temperature {} C is outside -50 to 200 C, the range for duct air", t));
  require_positive(duct.emissivity, "emissivity");
  if (duct.emissivity > 1.0) throw std::invalid_argument("emissivity is 1 at most");
}

// Specific heat of air, 7/2 R (U.S. Standard Atmosphere 1976), J/(kg K).
constexpr double k_specific_heat = 3.5 * 8314.32 / 28.9644;

// Conductivity of air, W/(m K): 2.64638e-3 T^1.5 / (T + 245.4 x 10^(-12/T)) (U.S. Standard Atmosphere 1976).
double air_conductivity(double temperature) {
  const double kelvin = temperature + k_celsius_zero;
  return 2.64638e-3 * kelvin * std::sqrt(kelvin) / (kelvin + 245.4 * std::pow(10.0, -12.0 / kelvin));
}

}  // namespace

// F. W. Dittus, L. M. K. Boelter, Univ. California Publ. Eng. 2 (1930) 443, in W. H. McAdams' constants: Nu =
// 0.023 Re^0.8 Pr^n, n 0.4 where the wall warms the air and 0.3 where it cools it; Re from 10 000, long
// ducts, smooth walls (a rough lining has more).
std::optional<double> inside_film(double bore, double flow, double air_temperature, double wall_temperature,
                                  const Air& air) {
  const double re = reynolds(velocity(flow, circle_area(bore)), bore, air);
  if (re < 1e4) return std::nullopt;
  const double conductivity = air_conductivity(air_temperature);
  const double prandtl = air.viscosity * air.density * k_specific_heat / conductivity;
  const double power = wall_temperature >= air_temperature ? 0.4 : 0.3;
  const double nusselt = 0.023 * std::pow(re, 0.8) * std::pow(prandtl, power);
  return in_range(nusselt * conductivity / (bore * 1e-3), "film of air");
}

// ISO 12241, horizontal pipes in still air (from memory): h = 1.25 (dT / D)^(1/4) up to D^3 dT = 10 m3
// K, 1.21 dT^(1/3) beyond; radiation C (T1^4 - T2^4) / (T1 - T2), C = emissivity x Stefan and Boltzmann's
// constant.
double outside_film(double outside_diameter, double surface_temperature, double room_temperature,
                    double emissivity) {
  require_positive(outside_diameter, "outside diameter (mm)");
  require_finite(surface_temperature, "temperature of the surface (degrees C)");
  require_finite(room_temperature, "temperature of the room (degrees C)");
  require_positive(emissivity, "emissivity");
  const double d = outside_diameter * 1e-3;
  const double dt = std::fabs(surface_temperature - room_temperature);
  const double still = d * d * d * dt <= 10.0 ? 1.25 * std::pow(dt / d, 0.25) : 1.21 * std::cbrt(dt);
  const double t1 = surface_temperature + k_celsius_zero;
  const double t2 = room_temperature + k_celsius_zero;
  return still + emissivity * k_stefan_boltzmann * (t1 * t1 + t2 * t2) * (t1 + t2);
}

namespace {

// Resistance of one metre from the air to the metal's outside; the metal's own is left out. The film at the
// lining's face is taken at the metal's temperature for a bare duct's wall: it only decides which of two
// powers holds.
double inner_resistance(const DuctInRoom& duct, std::optional<double>& film) {
  film = inside_film(duct.bore, duct.flow, duct.air_temperature, duct.room_temperature, duct.air);
  return duct.lining_resistance + (film ? 1.0 / (k_pi * duct.bore * 1e-3 * *film) : 0.0);
}

double outside_of(const DuctInRoom& duct) {
  return duct.metal_diameter + 2.0 * duct.gauge;
}

}  // namespace

// Steady radial heat (ISO 12241, cylinders): q = (T_room - T_air) / (1/(pi d h_i) + R'_lining + 1/(pi D
// h_e)). The outside film depends on the surface's own temperature: what comes from the room falls and what
// goes into the air rises with it, so halving finds where they meet.
DuctHeat duct_heat(const DuctInRoom& duct) {
  require_duct(duct);
  DuctHeat out;
  const double inner = inner_resistance(duct, out.inside_film);
  const double around = k_pi * outside_of(duct) * 1e-3;
  const auto film = [&](double t) {
    return outside_film(outside_of(duct), t, duct.room_temperature, duct.emissivity);
  };
  const double room = duct.room_temperature;
  const double air = duct.air_temperature;
  if (inner == 0.0) {
    out.surface_temperature = air;
  } else {
    double low = std::min(room, air);
    double high = std::max(room, air);
    for (int i = 0; i < 200 && high > low; ++i) {
      const double t = 0.5 * (low + high);
      if (t <= low || t >= high) break;
      const double excess = around * film(t) * (room - t) - (t - air) / inner;
      (excess > 0.0 ? low : high) = t;
    }
    out.surface_temperature = 0.5 * (low + high);
  }
  out.outside_film = film(out.surface_temperature);
  out.per_metre = around * out.outside_film * (room - out.surface_temperature);
  return out;
}

// The surface warms with the thickness, so halving finds the least; the bore shrinks with it, and with it the
// film inside.
std::optional<double> least_dry_thickness(const DuctInRoom& duct, double conductivity, double dew_point) {
  require_positive(conductivity, "conductivity (W/(m K))");
  require_finite(dew_point, "dew point (degrees C)");
  const auto coldest = [&](double thickness) {
    DuctInRoom with = duct;
    with.bore = duct.metal_diameter - 2.0 * thickness;
    with.lining_resistance =
        thickness > 0.0 ? lining_resistance(duct.metal_diameter, thickness, conductivity).per_length : 0.0;
    return duct_heat(with).surface_temperature;
  };
  if (coldest(0.0) >= dew_point) return 0.0;
  double high = 0.45 * duct.metal_diameter;
  if (coldest(high) < dew_point) return std::nullopt;
  double low = 0.0;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    (coldest(middle) < dew_point ? low : high) = middle;
  }
  return high;
}

}  // namespace linerwright
