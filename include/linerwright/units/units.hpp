// Quantities as people write and read them: 24in, 1-1/2", 2' 6", 600 mm, 90deg, 1200 cfm.
// Inside the library: millimetres, square and cubic millimetres, radians; air in SI (m3/s, m/s, Pa, kg/m3,
// W/(m K)).
#pragma once

#include <string>
#include <string_view>

namespace linerwright {

// The job's units: what a bare number means and what tables print.
enum class Units { metric, inch };

enum class Quantity {
  length,        // mm inside; bare numbers mm or in
  angle,         // rad inside; bare numbers degrees
  area,          // mm2; printed m2 or ft2
  flow,          // m3/s; bare numbers m3/s or cfm
  velocity,      // m/s; bare numbers m/s or fpm
  pressure,      // Pa; bare numbers Pa or in w.g.
  density,       // kg/m3; bare numbers kg/m3 or lb/ft3
  conductivity,  // W/(m K); bare numbers W/(m K) or Btu in/(h ft2 F)
  viscosity,     // kinematic, m2/s in both systems, or ft2/s when so written
  area_mass,     // kg/m2; bare numbers kg/m2 or lb/ft2
  mass,          // kg; bare numbers kg or lb
  temperature,   // degrees Celsius; bare numbers C or F
  percent,       // 50 % is 50
  number,        // no unit
};

// The value of `text` in the library's unit. A bare number takes the unit of `units`.
// Throws std::invalid_argument with a reason fit to be shown ("unknown unit 'inn'; use mm, cm, m, in, ft").
// Never returns NaN or infinity. The sign is kept; ranges are the caller's business.
double parse_quantity(Quantity quantity, std::string_view text, Units units);
// The same, where a bare number takes the unit named `bare_unit` (a column head's, say). Throws as above on
// an unknown `bare_unit` too.
double parse_quantity(Quantity quantity, std::string_view text, std::string_view bare_unit);

// "24 in", "609.6 mm", "90 deg": at most `decimals` decimals, trailing zeros dropped.
std::string format_quantity(Quantity quantity, double value, Units units, int decimals = 3);

// The unit's name as printed in a table's head: "in", "mm", "ft2", "cfm".
std::string_view unit_name(Quantity quantity, Units units);
// The library's value in that unit, and back.
double to_units(Quantity quantity, double value, Units units);
double from_units(Quantity quantity, double value, Units units);

// A number for any output file: `decimals` decimals, point as separator whatever the locale, no exponent, no
// "-0".
std::string fixed(double value, int decimals);
// The same with trailing zeros (and a bare point) dropped.
std::string trimmed(double value, int decimals);

}  // namespace linerwright
