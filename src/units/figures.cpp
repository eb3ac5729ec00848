#include "linerwright/units/figures.hpp"

#include <algorithm>
#include <cmath>

namespace linerwright {

namespace {

bool by_figures(Quantity quantity) {
  switch (quantity) {
    case Quantity::area:
    case Quantity::flow:
    case Quantity::velocity:
    case Quantity::pressure:
      return true;
    default:
      return false;
  }
}

// Decimals at which the first digit other than zero and those behind it make so many figures.
int decimals_for(double value, int figures) {
  constexpr int k_most = 15;
  return std::clamp(figures - 1 - static_cast<int>(std::floor(std::log10(std::fabs(value)))), 0, k_most);
}

}  // namespace

std::string significant(double value, int figures) {
  if (value == 0.0 || !std::isfinite(value)) return fixed(value, 0);
  const int decimals = decimals_for(value, figures);
  // 9.996 becomes 10.0, not 10.00
  const double scale = std::pow(10.0, decimals);
  const double rounded = std::round(value * scale) / scale;
  return fixed(value, rounded == 0.0 ? decimals : std::min(decimals, decimals_for(rounded, figures)));
}

std::string shown_number(Quantity quantity, double value, Units units, int decimals) {
  const double number = to_units(quantity, value, units);
  return by_figures(quantity) ? significant(number) : trimmed(number, decimals);
}

std::string shown_quantity(Quantity quantity, double value, Units units, int decimals) {
  const std::string_view unit = unit_name(quantity, units);
  return shown_number(quantity, value, units, decimals) + (unit.empty() ? "" : " " + std::string(unit));
}

}  // namespace linerwright
