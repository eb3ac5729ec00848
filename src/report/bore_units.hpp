// The figures of a bore report as a job's units show them, and in the words of its tables.
#pragma once

#include <string>
#include <string_view>

#include "linerwright/airway/airway.hpp"
#include "linerwright/units/units.hpp"

namespace linerwright {

// A figure of the report, its unit where the job is metric and where it is in inches, and how a table shows
// it.
enum class Figure {
  length,
  area,
  flow,
  velocity,
  pressure,
  friction,
  mass,
  power,
  heat,
  heat_per_length,
  temperature,
  resistance,
  length_resistance
};

std::string_view unit_of(Figure figure, Units units);
double in_unit(Figure figure, double value, Units units);
std::string shown(Figure figure, double value, Units units);
// The same for a spreadsheet: more digits.
std::string csv_figure(Figure figure, double value, Units units);

// A series and a criterion in words.
std::string_view words_of(DiameterSeries series);
std::string_view words_of(StepUpCriterion criterion);

}  // namespace linerwright
