// How finely totals are held, and how a job's units show them.
#pragma once

#include <string>
#include <string_view>

#include "linerwright/report/totals.hpp"

namespace linerwright {

constexpr double k_time_resolution = 1e-6;  // s
constexpr double k_cost_resolution = 1e-6;

// In the library's units: 1, 1e-6 mm, 1e-3 mm2, 1e-9 kg.
double resolution_of(TotalsUnit unit);
// Decimals that write the resolution.
int decimals_of(TotalsUnit unit);
// The value as the nearest multiple of the resolution, a power of ten.
double held(double value, double resolution);

// Metres or feet, m2 or ft2, kg or lb; the unit of a count is empty.
std::string_view unit_of(TotalsUnit unit, Units units);
double in_unit(TotalsUnit unit, double value, Units units);
// For a table.
std::string shown(TotalsUnit unit, double value, Units units);
// Minutes and seconds: "12:05".
std::string shown_time(double seconds);

}  // namespace linerwright
