// Every unit the tool reads or prints, in one table. Each factor is derived here from the exact definitions
// of the inch, the pound, standard gravity and the International Table calorie; none is typed in as a rounded
// decimal.
#pragma once

#include <string_view>

#include "linerwright/units/units.hpp"
#include "linerwright/units/vector.hpp"

namespace linerwright::unit_table {

// Exact by definition: inch and pound (international yard and pound agreement, 1959), standard gravity (3rd
// CGPM, 1901), International Table calorie 4.1868 J (5th International Conference on the Properties of Steam,
// 1956).
constexpr double k_inch = 25.4;         // mm
constexpr double k_pound = 0.45359237;  // kg
constexpr double k_gravity = 9.80665;   // m/s2
constexpr double k_calorie = 4.1868;    // J; warms 1 g by 1 K

constexpr double k_foot = 12.0 * k_inch;      // mm
constexpr double k_foot_m = k_foot / 1000.0;  // m
constexpr double k_inch_m = k_inch / 1000.0;  // m
constexpr double k_foot2_m = k_foot_m * k_foot_m;
constexpr double k_foot3_m = k_foot2_m * k_foot_m;
constexpr double k_minute = 60.0;                                      // s
constexpr double k_hour = 3600.0;                                      // s
constexpr double k_fahrenheit = 5.0 / 9.0;                             // K
constexpr double k_degree = k_pi / 180.0;                              // rad
constexpr double k_btu = k_calorie * 1000.0 * k_pound * k_fahrenheit;  // J: warms 1 lb by 1 F
// The conventional inch of water: 1000 kg/m3 under standard gravity, 249.08891 Pa. It is the trade's "at 4
// C"; real water at 4 C is 0.003 percent lighter.
constexpr double k_inch_water = 1000.0 * k_gravity * k_inch_m;                         // Pa
constexpr double k_btu_inch = k_btu * k_inch_m / (k_hour * k_foot2_m * k_fahrenheit);  // W/(m K)

// One spelling of one unit: lower case, and for compound units without spaces, dots, hyphens and brackets.
struct Spelling {
  Quantity quantity;
  std::string_view text;
  double factor;  // library units in one of this unit
};

constexpr Spelling k_spellings[] = {
    {Quantity::length, "mm", 1.0},
    {Quantity::length, "millimetre", 1.0},
    {Quantity::length, "millimetres", 1.0},
    {Quantity::length, "millimeter", 1.0},
    {Quantity::length, "millimeters", 1.0},
    {Quantity::length, "cm", 10.0},
    {Quantity::length, "centimetre", 10.0},
    {Quantity::length, "centimetres", 10.0},
    {Quantity::length, "centimeter", 10.0},
    {Quantity::length, "centimeters", 10.0},
    {Quantity::length, "m", 1000.0},
    {Quantity::length, "metre", 1000.0},
    {Quantity::length, "metres", 1000.0},
    {Quantity::length, "meter", 1000.0},
    {Quantity::length, "meters", 1000.0},
    {Quantity::length, "in", k_inch},
    {Quantity::length, "ins", k_inch},
    {Quantity::length, "inch", k_inch},
    {Quantity::length, "inches", k_inch},
    {Quantity::length, "\"", k_inch},
    {Quantity::length, "ft", k_foot},
    {Quantity::length, "foot", k_foot},
    {Quantity::length, "feet", k_foot},
    {Quantity::length, "'", k_foot},
    {Quantity::angle, "deg", k_degree},
    {Quantity::angle, "degs", k_degree},
    {Quantity::angle, "degree", k_degree},
    {Quantity::angle, "degrees", k_degree},
    {Quantity::angle, "\xC2\xB0", k_degree},
    {Quantity::angle, "'", k_degree / 60.0},
    {Quantity::angle, "rad", 1.0},
    {Quantity::angle, "radian", 1.0},
    {Quantity::angle, "radians", 1.0},
    {Quantity::area, "mm2", 1.0},
    {Quantity::area, "cm2", 100.0},
    {Quantity::area, "m2", 1.0e6},
    {Quantity::area, "sqm", 1.0e6},
    {Quantity::area, "in2", k_inch* k_inch},
    {Quantity::area, "sqin", k_inch* k_inch},
    {Quantity::area, "ft2", k_foot* k_foot},
    {Quantity::area, "sqft", k_foot* k_foot},
    {Quantity::flow, "m3/s", 1.0},
    {Quantity::flow, "m3/min", 1.0 / k_minute},
    {Quantity::flow, "m3/h", 1.0 / k_hour},
    {Quantity::flow, "m3/hr", 1.0 / k_hour},
    {Quantity::flow, "l/s", 1.0e-3},
    {Quantity::flow, "cfm", k_foot3_m / k_minute},
    {Quantity::flow, "ft3/min", k_foot3_m / k_minute},
    {Quantity::velocity, "m/s", 1.0},
    {Quantity::velocity, "fpm", k_foot_m / k_minute},
    {Quantity::velocity, "ft/min", k_foot_m / k_minute},
    {Quantity::velocity, "ft/s", k_foot_m},
    {Quantity::velocity, "fps", k_foot_m},
    {Quantity::pressure, "pa", 1.0},
    {Quantity::pressure, "kpa", 1000.0},
    {Quantity::pressure, "inwg", k_inch_water},
    {Quantity::pressure, "inwc", k_inch_water},
    {Quantity::pressure, "inh2o", k_inch_water},
    {Quantity::pressure, "\"wg", k_inch_water},
    {Quantity::pressure, "\"wc", k_inch_water},
    {Quantity::pressure, "\"h2o", k_inch_water},
    {Quantity::density, "kg/m3", 1.0},
    {Quantity::density, "lb/ft3", k_pound / k_foot3_m},
    {Quantity::density, "pcf", k_pound / k_foot3_m},
    {Quantity::conductivity, "w/mk", 1.0},
    {Quantity::conductivity, "w/m/k", 1.0},
    {Quantity::conductivity, "btuin/hft2f", k_btu_inch},
    {Quantity::conductivity, "btuin/hrft2f", k_btu_inch},
    {Quantity::conductivity, "btuin/ft2hf", k_btu_inch},
    {Quantity::conductivity, "btuin/ft2hrf", k_btu_inch},
    {Quantity::conductivity, "btuin/hsqftf", k_btu_inch},
    {Quantity::conductivity, "btuin/hrsqftf", k_btu_inch},
    {Quantity::conductivity, "btu/hftf", 12.0 * k_btu_inch},
    {Quantity::conductivity, "btu/hrftf", 12.0 * k_btu_inch},
    {Quantity::viscosity, "m2/s", 1.0},
    {Quantity::viscosity, "mm2/s", 1.0e-6},
    {Quantity::viscosity, "cst", 1.0e-6},
    {Quantity::viscosity, "ft2/s", k_foot2_m},
    {Quantity::area_mass, "kg/m2", 1.0},
    {Quantity::area_mass, "lb/ft2", k_pound / k_foot2_m},
    {Quantity::mass, "kg", 1.0},
    {Quantity::mass, "g", 1.0e-3},
    {Quantity::mass, "lb", k_pound},
    {Quantity::mass, "lbs", k_pound},
    {Quantity::temperature, "c", 1.0},
    {Quantity::temperature, "degc", 1.0},
    {Quantity::temperature, "f", k_fahrenheit},
    {Quantity::temperature, "degf", k_fahrenheit},
    {Quantity::temperature, "k", 1.0},
    {Quantity::percent, "%", 1.0},
    {Quantity::percent, "percent", 1.0},
    {Quantity::number, "", 1.0},
};

// Degrees Celsius at the unit's own zero: 32 F is 0 C, 273.15 K is 0 C (by definition).
constexpr double k_celsius_of_zero_fahrenheit = -32.0 * k_fahrenheit;
constexpr double k_celsius_of_zero_kelvin = -273.15;

// How one quantity is printed in both systems, and what a message offers.
struct Printed {
  Quantity quantity;
  std::string_view metric;  // bare numbers take this unit
  std::string_view inch;
  std::string_view choices;
  std::string_view example;
  bool compound;  // its units are written with spaces, brackets and dots that carry no meaning
};

constexpr Printed k_printed[] = {
    {Quantity::length, "mm", "in", "mm, cm, m, in, ft", "24in or 600 mm", false},
    {Quantity::angle, "deg", "deg", "deg, rad", "90 or 90deg", false},
    {Quantity::area, "m2", "ft2", "mm2, cm2, m2, in2, ft2", "2 m2 or 20 ft2", true},
    {Quantity::flow, "m3/s", "cfm", "m3/s, m3/min, m3/h, l/s, cfm", "1200 cfm or 0.5 m3/s", true},
    {Quantity::velocity, "m/s", "fpm", "m/s, ft/s, fpm", "1500 fpm or 8 m/s", true},
    {Quantity::pressure, "Pa", "in w.g.", "Pa, kPa, in w.g.", "25 Pa or 0.1 in w.g.", true},
    {Quantity::density, "kg/m3", "lb/ft3", "kg/m3, lb/ft3", "48 kg/m3 or 3 lb/ft3", true},
    {Quantity::conductivity, "W/(m K)", "Btu in/(h ft2 F)", "W/(m K), Btu in/(h ft2 F), Btu/(h ft F)",
     "0.036 W/(m K)", true},
    {Quantity::viscosity, "m2/s", "m2/s", "m2/s, mm2/s, ft2/s", "1.5e-5 m2/s", true},
    {Quantity::area_mass, "kg/m2", "lb/ft2", "kg/m2, lb/ft2", "1.2 kg/m2", true},
    {Quantity::mass, "kg", "lb", "kg, g, lb", "2 kg or 4 lb", false},
    {Quantity::temperature, "C", "F", "C, F, K", "20 C or 68 F", true},
    {Quantity::percent, "%", "%", "%", "50 %", true},
    {Quantity::number, "", "", "no unit", "1.5", false},
};

}  // namespace linerwright::unit_table
