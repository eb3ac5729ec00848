#include "bore_units.hpp"

#include <fmt/format.h>

#include <cctype>
#include <optional>
#include <stdexcept>

#include "linerwright/report/bore.hpp"
#include "linerwright/units/figures.hpp"

namespace linerwright {

namespace {

constexpr double k_hundred_feet = 30.48;  // m

struct Form {
  Quantity quantity;
  std::optional<int> metric_decimals{}, inch_decimals{};  // none: told by significant figures
};

Form form_of(Figure figure) {
  switch (figure) {
    case Figure::length:
      return {Quantity::length, 1, 2};
    case Figure::area:
      return {Quantity::area};
    case Figure::flow:
      return {Quantity::flow};
    case Figure::velocity:
      return {Quantity::velocity};
    case Figure::pressure:
    case Figure::friction:
      return {Quantity::pressure};
    case Figure::mass:
      return {Quantity::mass, 1, 1};
    case Figure::power:  // watts in both systems
    case Figure::heat:
    case Figure::heat_per_length:
      return {Quantity::number};
    case Figure::temperature:
      return {Quantity::temperature, 1, 1};
    case Figure::resistance:
      return {Quantity::conductivity, 3, 2};
    case Figure::length_resistance:
      return {Quantity::conductivity, 4, 3};
  }
  throw std::logic_error("unknown figure");
}

// Takes the ending off where it is there, blanks and case aside.
bool cut_ending(std::string& text, std::string_view ending) {
  if (text.size() < ending.size() || text.compare(text.size() - ending.size(), ending.size(), ending) != 0)
    return false;
  text.resize(text.size() - ending.size());
  return true;
}

// A friction as a person writes it, in Pa/m.
double parse_friction(std::string_view written, Units units) {
  std::string text;
  for (const char c : written)
    if (c != ' ') text += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  double length = units == Units::inch ? k_hundred_feet : 1.0;
  bool stated = true;
  if (cut_ending(text, "/m") || cut_ending(text, "perm"))
    length = 1.0;
  else if (cut_ending(text, "/100ft") || cut_ending(text, "per100ft"))
    length = k_hundred_feet;
  else
    stated = false;
  const double pressure = parse_quantity(Quantity::pressure, text, units);
  const bool bare = pressure != parse_quantity(Quantity::pressure, text,
                                               units == Units::inch ? Units::metric : Units::inch);
  if (bare == stated)
    throw std::invalid_argument("write a friction as 1 Pa/m or 0.1 in w.g./100ft, or as a bare number");
  return pressure / length;
}

}  // namespace

std::string_view unit_of(Figure figure, Units units) {
  const bool inch = units == Units::inch;
  switch (figure) {
    case Figure::friction:
      return inch ? "in w.g./100ft" : "Pa/m";
    case Figure::power:
      return "W";
    case Figure::heat:
      return inch ? "Btu/h" : "W";
    case Figure::heat_per_length:
      return inch ? "Btu/(h ft)" : "W/m";
    case Figure::resistance:
      return inch ? "h ft2 F/Btu" : "m2 K/W";
    case Figure::length_resistance:
      return inch ? "h ft F/Btu" : "m K/W";
    default:
      return unit_name(form_of(figure).quantity, units);
  }
}

double in_unit(Figure figure, double value, Units units) {
  const Quantity quantity = form_of(figure).quantity;
  if (units == Units::metric) return to_units(quantity, value, units);
  switch (figure) {
    case Figure::friction:
      return to_units(quantity, value * k_hundred_feet, units);
    // Of one W/(m K), 12 Btu in/(h ft2 F) are one Btu/(h ft F); a degree F is 5/9 K, a foot 0.3048 m.
    case Figure::heat_per_length:
      return value / (from_units(Quantity::conductivity, 12.0, units) * 5.0 / 9.0);
    case Figure::heat:
      return value / (from_units(Quantity::conductivity, 12.0, units) * 5.0 / 9.0 * 0.3048);
    // One Btu in/(h ft2 F) in W/(m K), over an inch in metres, is one Btu/(h ft2 F); twelve are one Btu/(h ft
    // F).
    case Figure::resistance:
      return value * from_units(Quantity::conductivity, 1.0, units) / 0.0254;
    case Figure::length_resistance:
      return value * from_units(Quantity::conductivity, 12.0, units);
    default:
      return to_units(quantity, value, units);
  }
}

std::string shown(Figure figure, double value, Units units) {
  const Form form = form_of(figure);
  const double number = in_unit(figure, value, units);
  const std::optional<int> decimals = units == Units::inch ? form.inch_decimals : form.metric_decimals;
  return decimals ? fixed(number, *decimals) : significant(number);
}

std::string csv_figure(Figure figure, double value, Units units) {
  const Form form = form_of(figure);
  const double number = in_unit(figure, value, units);
  return form.metric_decimals ? fixed(number, 6) : significant(number, k_csv_figures);
}

std::string_view words_of(DiameterSeries series) {
  switch (series) {
    case DiameterSeries::en1506:
      return "EN 1506";
    case DiameterSeries::en1506_all:
      return "EN 1506 with the additional sizes";
    case DiameterSeries::inch:
      return "inch sizes";
  }
  throw std::logic_error("unknown series");
}

std::string_view words_of(StepUpCriterion criterion) {
  switch (criterion) {
    case StepUpCriterion::area:
      return "area";
    case StepUpCriterion::velocity:
      return "velocity";
    case StepUpCriterion::friction:
      return "friction";
  }
  throw std::logic_error("unknown criterion");
}

double step_up_limit(StepUpCriterion criterion, std::string_view written, Units units) {
  const double limit = criterion == StepUpCriterion::friction ? parse_friction(written, units)
                       : criterion == StepUpCriterion::velocity
                           ? parse_quantity(Quantity::velocity, written, units)
                           : parse_quantity(Quantity::area, written, units);
  if (!(limit > 0.0)) throw std::invalid_argument("must be above zero: no size can give that");
  return limit;
}

}  // namespace linerwright
