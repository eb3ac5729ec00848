// Every unit in both directions, against values from outside the project.
#include <gtest/gtest.h>

#include <cmath>
#include <random>
#include <string>
#include <vector>

#include "linerwright/units/units.hpp"

namespace linerwright {
namespace {

struct Factor {
  Quantity quantity;
  std::string unit;
  double factor;     // library units in one
  double tolerance;  // relative: half a unit of the source's last digit, or 1e-14 for an exact value
};

// Sources, quoted from memory: NIST Special Publication 811 (2008), appendix B.8, unless the line says exact;
// exact values follow from 1 in = 25.4 mm, 1 lb = 0.45359237 kg, 1 cal(IT) = 4.1868 J and 9.80665 m/s2.
const std::vector<Factor> k_factors = {
    {Quantity::length, "mm", 1.0, 1e-14},
    {Quantity::length, "cm", 10.0, 1e-14},
    {Quantity::length, "m", 1000.0, 1e-14},
    {Quantity::length, "in", 25.4, 1e-14},           // exact
    {Quantity::length, "ft", 304.8, 1e-14},          // exact
    {Quantity::angle, "deg", 1.745329252e-2, 1e-9},  // pi/180
    {Quantity::angle, "rad", 1.0, 1e-14},
    {Quantity::area, "mm2", 1.0, 1e-14},
    {Quantity::area, "cm2", 100.0, 1e-14},
    {Quantity::area, "m2", 1.0e6, 1e-14},
    {Quantity::area, "sq m", 1.0e6, 1e-14},
    {Quantity::area, "in2", 645.16, 1e-14},  // exact
    {Quantity::area, "sq. in.", 645.16, 1e-14},
    {Quantity::area, "ft2", 92903.04, 1e-14},  // exact
    {Quantity::area, "ft\xC2\xB2", 92903.04, 1e-14},
    {Quantity::area, "sq ft", 92903.04, 1e-14},
    {Quantity::flow, "m3/s", 1.0, 1e-14},
    {Quantity::flow, "m\xC2\xB3/s", 1.0, 1e-14},
    {Quantity::flow, "m3/min", 1.0 / 60.0, 1e-14},
    {Quantity::flow, "m3/h", 1.0 / 3600.0, 1e-14},
    {Quantity::flow, "m\xC2\xB3/h", 1.0 / 3600.0, 1e-14},
    {Quantity::flow, "m3/hr", 1.0 / 3600.0, 1e-14},
    {Quantity::flow, "l/s", 1.0e-3, 1e-14},
    {Quantity::flow, "L/s", 1.0e-3, 1e-14},
    {Quantity::flow, "cfm", 4.719474e-4, 2e-7},
    {Quantity::flow, "CFM", 0.028316846592 / 60.0, 1e-14},  // exact: 1 ft3 = 0.028316846592 m3
    {Quantity::flow, "ft3/min", 0.028316846592 / 60.0, 1e-14},
    {Quantity::velocity, "m/s", 1.0, 1e-14},
    {Quantity::velocity, "fpm", 5.08e-3, 1e-14},  // exact
    {Quantity::velocity, "ft/min", 5.08e-3, 1e-14},
    {Quantity::velocity, "ft/s", 0.3048, 1e-14},  // exact
    {Quantity::velocity, "fps", 0.3048, 1e-14},
    {Quantity::pressure, "Pa", 1.0, 1e-14},
    {Quantity::pressure, "kPa", 1000.0, 1e-14},
    {Quantity::pressure, "in w.g.", 249.08891, 1e-14},  // exact: conventional inch of water
    {Quantity::pressure, "in wg", 249.0889, 1e-7},
    {Quantity::pressure, "in. w.c.", 249.08891, 1e-14},
    {Quantity::pressure, "inH2O", 249.08891, 1e-14},
    {Quantity::pressure, "\" w.g.", 249.08891, 1e-14},
    {Quantity::density, "kg/m3", 1.0, 1e-14},
    {Quantity::density, "kg/m\xC2\xB3", 1.0, 1e-14},
    {Quantity::density, "lb/ft3", 16.01846, 3e-7},
    {Quantity::density, "lb/ft3", 0.45359237 / 0.028316846592, 1e-14},  // exact
    {Quantity::density, "pcf", 0.45359237 / 0.028316846592, 1e-14},
    {Quantity::conductivity, "W/(m K)", 1.0, 1e-14},
    {Quantity::conductivity, "W/mK", 1.0, 1e-14},
    {Quantity::conductivity, "W/(m\xC2\xB7K)", 1.0, 1e-14},
    {Quantity::conductivity, "W/m/K", 1.0, 1e-14},
    {Quantity::conductivity, "Btu in/(h ft2 F)", 0.1442279, 4e-7},
    {Quantity::conductivity, "Btu in/h ft2 F", 0.1442279, 4e-7},
    {Quantity::conductivity,
     "Btu\xC2\xB7in/(h\xC2\xB7"
     "ft\xC2\xB2\xC2\xB7\xC2\xB0"
     "F)",
     0.1442279, 4e-7},
    {Quantity::conductivity, "Btu-in/(hr-ft2-F)", 0.1442279, 4e-7},
    {Quantity::conductivity,
     "Btu-in./hr.-sq.ft.-\xC2\xB0"
     "F",
     0.1442279, 4e-7},
    {Quantity::conductivity, "BTU in/h sq ft F", 0.1442279, 4e-7},
    {Quantity::conductivity, "Btu in/(ft2 h F)", 0.1442279, 4e-7},
    {Quantity::conductivity, "Btu in/(ft2 hr F)", 0.1442279, 4e-7},
    {Quantity::conductivity, "Btu/(h ft F)", 1.730735, 3e-7},
    {Quantity::conductivity, "Btu/(hr ft F)", 1.730735, 3e-7},
    {Quantity::viscosity, "m2/s", 1.0, 1e-14},
    {Quantity::viscosity, "mm2/s", 1.0e-6, 1e-14},
    {Quantity::viscosity, "cSt", 1.0e-6, 1e-14},         // exact
    {Quantity::viscosity, "ft2/s", 9.290304e-2, 1e-14},  // exact
    {Quantity::area_mass, "kg/m2", 1.0, 1e-14},
    {Quantity::area_mass, "lb/ft2", 4.882428, 1e-7},
    {Quantity::area_mass, "lb/ft2", 0.45359237 / 0.09290304, 1e-14},  // exact
    {Quantity::mass, "kg", 1.0, 1e-14},
    {Quantity::mass, "g", 1.0e-3, 1e-14},
    {Quantity::mass, "lb", 0.45359237, 1e-14},  // exact
    {Quantity::mass, "lbs", 0.45359237, 1e-14},
};

TEST(UnitFactor, FromTheUnitToTheLibrary) {
  for (const Factor& row : k_factors) {
    for (const std::string& text : {"3" + row.unit, "3 " + row.unit}) {
      const double value = parse_quantity(row.quantity, text, Units::metric);
      EXPECT_NEAR(value / (3.0 * row.factor), 1.0, row.tolerance) << text;
    }
  }
}

// And back: the library's value of one outside unit reads as one again through the printed unit it equals.
TEST(UnitFactor, FromTheLibraryToThePrintedUnit) {
  struct Printed {
    Quantity quantity;
    Units units;
    std::string name;
    double factor;
    double tolerance;
  };
  const std::vector<Printed> rows = {
      {Quantity::length, Units::metric, "mm", 1.0, 1e-14},
      {Quantity::length, Units::inch, "in", 25.4, 1e-14},
      {Quantity::angle, Units::metric, "deg", 1.745329252e-2, 1e-9},
      {Quantity::angle, Units::inch, "deg", 1.745329252e-2, 1e-9},
      {Quantity::area, Units::metric, "m2", 1.0e6, 1e-14},
      {Quantity::area, Units::inch, "ft2", 92903.04, 1e-14},
      {Quantity::flow, Units::metric, "m3/s", 1.0, 1e-14},
      {Quantity::flow, Units::inch, "cfm", 4.719474e-4, 2e-7},
      {Quantity::velocity, Units::metric, "m/s", 1.0, 1e-14},
      {Quantity::velocity, Units::inch, "fpm", 5.08e-3, 1e-14},
      {Quantity::pressure, Units::metric, "Pa", 1.0, 1e-14},
      {Quantity::pressure, Units::inch, "in w.g.", 249.08891, 1e-14},
      {Quantity::density, Units::metric, "kg/m3", 1.0, 1e-14},
      {Quantity::density, Units::inch, "lb/ft3", 16.01846, 3e-7},
      {Quantity::conductivity, Units::metric, "W/(m K)", 1.0, 1e-14},
      {Quantity::conductivity, Units::inch, "Btu in/(h ft2 F)", 0.1442279, 4e-7},
      {Quantity::viscosity, Units::metric, "m2/s", 1.0, 1e-14},
      {Quantity::viscosity, Units::inch, "m2/s", 1.0, 1e-14},
      {Quantity::area_mass, Units::metric, "kg/m2", 1.0, 1e-14},
      {Quantity::area_mass, Units::inch, "lb/ft2", 4.882428, 1e-7},
      {Quantity::mass, Units::metric, "kg", 1.0, 1e-14},
      {Quantity::mass, Units::inch, "lb", 0.45359237, 1e-14},
      {Quantity::number, Units::metric, "", 1.0, 1e-14},
      {Quantity::number, Units::inch, "", 1.0, 1e-14},
  };
  for (const Printed& row : rows) {
    EXPECT_EQ(unit_name(row.quantity, row.units), row.name);
    EXPECT_NEAR(to_units(row.quantity, 7.0 * row.factor, row.units), 7.0, 7.0 * row.tolerance) << row.name;
    EXPECT_NEAR(from_units(row.quantity, 7.0, row.units) / row.factor, 7.0, 7.0 * row.tolerance) << row.name;
    // A bare number takes exactly the printed unit.
    EXPECT_DOUBLE_EQ(parse_quantity(row.quantity, "7", row.units), from_units(row.quantity, 7.0, row.units));
    EXPECT_DOUBLE_EQ(parse_quantity(row.quantity, "7 " + row.name, Units::metric),
                     from_units(row.quantity, 7.0, row.units));
  }
}

TEST(FormatQuantity, DropsTrailingZeros) {
  EXPECT_EQ(format_quantity(Quantity::length, 609.6, Units::inch), "24 in");
  EXPECT_EQ(format_quantity(Quantity::length, 609.6, Units::metric), "609.6 mm");
  EXPECT_EQ(format_quantity(Quantity::length, 38.1, Units::inch), "1.5 in");
  EXPECT_EQ(format_quantity(Quantity::length, 100.0, Units::inch), "3.937 in");
  EXPECT_EQ(format_quantity(Quantity::length, 100.0, Units::inch, 1), "3.9 in");
  EXPECT_EQ(format_quantity(Quantity::length, -0.0001, Units::metric), "0 mm");
  EXPECT_EQ(format_quantity(Quantity::angle, 1.5707963267948966, Units::metric), "90 deg");
  EXPECT_EQ(format_quantity(Quantity::area, 92903.04, Units::inch), "1 ft2");
  EXPECT_EQ(format_quantity(Quantity::flow, 0.5663369318400, Units::inch), "1200 cfm");
  EXPECT_EQ(format_quantity(Quantity::velocity, 7.62, Units::inch), "1500 fpm");
  EXPECT_EQ(format_quantity(Quantity::viscosity, 1.5e-5, Units::inch, 6), "0.000015 m2/s");
  EXPECT_EQ(format_quantity(Quantity::number, 1.25, Units::inch), "1.25");
}

// What is printed reads back as what it was, to half of the last printed digit.
TEST(FormatQuantity, ReadsBackAsPrinted) {
  std::mt19937_64 random(20260101);
  std::uniform_real_distribution<double> exponent(-2.0, 5.0);
  int checked = 0;
  for (int i = 0; i < 5000; ++i) {
    const double value = std::pow(10.0, exponent(random)) * (i % 5 == 0 ? -1.0 : 1.0);
    for (const Units units : {Units::metric, Units::inch}) {
      for (const int decimals : {1, 3, 6}) {
        const std::string text = format_quantity(Quantity::length, value, units, decimals);
        const double half = 0.5 * std::pow(10.0, -decimals) * (units == Units::inch ? 25.4 : 1.0);
        const Units other = units == Units::inch ? Units::metric : Units::inch;  // the text names its unit
        ASSERT_NEAR(parse_quantity(Quantity::length, text, other), value, half + 1e-12 * std::abs(value))
            << text;
        ++checked;
      }
    }
  }
  EXPECT_EQ(checked, 30000);
}

// Inches in 64ths, written as shops write them, read back exactly.
TEST(FormatQuantity, MixedFractionsReadExactly) {
  for (int feet = 0; feet < 4; ++feet) {
    for (int inches = 0; inches < 12; ++inches) {
      for (int parts = 1; parts < 64; ++parts) {
        const std::string text =
            std::to_string(feet) + "' " + std::to_string(inches) + " " + std::to_string(parts) + "/64\"";
        ASSERT_DOUBLE_EQ(parse_quantity(Quantity::length, text, Units::metric),
                         (feet * 12 + inches + parts / 64.0) * 25.4)
            << text;
      }
    }
  }
}

}  // namespace
}  // namespace linerwright
