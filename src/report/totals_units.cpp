#include "totals_units.hpp"

#include <cmath>

#include <fmt/format.h>

#include "linerwright/units/figures.hpp"

namespace linerwright {

double resolution_of(TotalsUnit unit) {
  switch (unit) {
    case TotalsUnit::length:
      return 1e-6;
    case TotalsUnit::area:
      return 1e-3;
    case TotalsUnit::mass:
      return 1e-9;
    case TotalsUnit::count:
      break;
  }
  return 1.0;
}

int decimals_of(TotalsUnit unit) {
  return static_cast<int>(std::lround(-std::log10(resolution_of(unit))));
}

std::string_view unit_of(TotalsUnit unit, Units units) {
  switch (unit) {
    case TotalsUnit::length:
      return units == Units::inch ? "ft" : "m";
    case TotalsUnit::area:
      return unit_name(Quantity::area, units);
    case TotalsUnit::mass:
      return unit_name(Quantity::mass, units);
    case TotalsUnit::count:
      break;
  }
  return "";
}

double in_unit(TotalsUnit unit, double value, Units units) {
  switch (unit) {
    case TotalsUnit::length:
      return value / (units == Units::inch ? 12.0 * 25.4 : 1000.0);
    case TotalsUnit::area:
      return to_units(Quantity::area, value, units);
    case TotalsUnit::mass:
      return to_units(Quantity::mass, value, units);
    case TotalsUnit::count:
      break;
  }
  return value;
}

std::string shown(TotalsUnit unit, double value, Units units) {
  const double number = in_unit(unit, value, units);
  return unit == TotalsUnit::area ? significant(number) : fixed(number, unit == TotalsUnit::count ? 0 : 1);
}

std::string shown_time(double seconds) {
  const long whole = std::lround(seconds);
  return fmt::format("{}:{:02}", whole / 60, whole % 60);
}

}  // namespace linerwright
