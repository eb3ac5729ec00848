// Numbers in the tables and pages that people read: areas, flows, velocities and pressures (losses, powers)
// with three significant figures, so that none of them vanishes for being small; lengths and angles to fixed
// decimals.
#pragma once

#include <string>

#include "linerwright/units/units.hpp"

namespace linerwright {

constexpr int k_table_figures = 3;
constexpr int k_csv_figures = 9;  // in tables for spreadsheets, which go on reckoning

// At least so many significant figures: "0.00250", "6.42", "64.2"; whole numbers stand in full, "12345". The
// same digits whatever the locale; zero is "0".
std::string significant(double value, int figures = k_table_figures);

// A quantity in the job's units as a table shows it, without and with its unit; `decimals` is for what is not
// told by significant figures, and trailing zeros of those are dropped.
std::string shown_number(Quantity quantity, double value, Units units, int decimals = 2);
std::string shown_quantity(Quantity quantity, double value, Units units, int decimals = 2);

}  // namespace linerwright
