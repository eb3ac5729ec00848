// Ordinates: comma-separated, in the fitting's units.
#include <fmt/format.h>

#include "linerwright/engine/fitting_files.hpp"

namespace linerwright {

namespace {

double degrees(double radians) {
  return radians * 180.0 / k_pi;
}

std::string length(const Fitting& fitting, double value) {
  return fixed(to_units(Quantity::length, value, fitting.units), fitting.units == Units::inch ? 5 : 4);
}

// The rows of one pattern: edges, notches, holes.
std::string rows_of(const Fitting& fitting, const Pattern& pattern) {
  std::string text;
  int station = 0;
  for (const Ordinate& o : pattern.ordinates)
    text +=
        fmt::format("{},edge,{},{},{},{},{},{},{},{},,\n", pattern.id, station++, fixed(degrees(o.theta), 3),
                    length(fitting, o.at.x), length(fitting, o.at.y), length(fitting, o.duct_low),
                    length(fitting, o.duct_high), length(fitting, o.air_low), length(fitting, o.air_high));
  for (std::size_t k = 0; k < pattern.notch_ordinates.size(); ++k) {
    station = 0;
    for (const auto& [duct, air] : corners_of(pattern.notch_ordinates[k]))
      text += fmt::format("{},notch {},{},{},{},{},,,,,{},{}\n", pattern.id, k + 1, station++,
                          fixed(degrees(pattern.notch_ordinates[k].theta), 3), length(fitting, duct.x),
                          length(fitting, duct.y), length(fitting, air.x), length(fitting, air.y));
  }
  station = 0;
  std::size_t hole = 0;
  for (const HoleOrdinate& o : pattern.hole_ordinates) {
    if (o.hole != hole) station = 0;
    hole = o.hole;
    text += fmt::format("{},hole {},{},{},{},{},,,,,{},{}\n", pattern.id, o.hole + 1, station++,
                        fixed(degrees(o.s), 3), length(fitting, o.duct.x), length(fitting, o.duct.y),
                        length(fitting, o.air.x), length(fitting, o.air.y));
  }
  return text;
}

}  // namespace

std::string ordinates_csv(const Fitting& fitting, const std::vector<Pattern>& patterns) {
  const auto unit = unit_name(Quantity::length, fitting.units);
  std::string text = fmt::format(
      "piece,what,station,angle_deg,x_{0},y_{0},duct_low_{0},duct_high_{0},air_low_{0},air_high_{0},air_x_{0}"
      ",air_y_{0}\n",
      unit);
  for (const Pattern& pattern : patterns) text += rows_of(fitting, pattern);
  for (const Pattern& pattern : site_templates(fitting)) text += rows_of(fitting, pattern);
  return text;
}

}  // namespace linerwright
