// Lengths, angles and the rest as people write them, and what is said about what cannot be read.
#include <gtest/gtest.h>

#include <stdexcept>
#include <string>
#include <vector>

#include "linerwright/units/units.hpp"

namespace linerwright {
namespace {

constexpr double k_in = 25.4;  // exact: international yard and pound agreement, 1959

std::string reason(Quantity quantity, const std::string& text, Units units = Units::inch) {
  try {
    parse_quantity(quantity, text, units);
  } catch (const std::invalid_argument& error) {
    return error.what();
  }
  return "no error";
}

struct Written {
  std::string text;
  double expected;
};

TEST(ParseLength, AsPeopleWriteIt) {
  const std::vector<Written> rows = {
      {"24in", 24 * k_in},
      {"24\"", 24 * k_in},
      {"24 inches", 24 * k_in},
      {"1 inch", k_in},
      {"24 IN.", 24 * k_in},
      {"24-inch", 24 * k_in},
      {"24''", 24 * k_in},
      {"24\xE2\x80\xB3", 24 * k_in},
      {"24\xE2\x80\x9D", 24 * k_in},
      {"  24 in  ", 24 * k_in},
      {"24\tin", 24 * k_in},
      {"24\xC2\xA0in", 24 * k_in},
      {"24\xE2\x80\xAFin", 24 * k_in},
      {"1-1/2in", 1.5 * k_in},
      {"1 1/2\"", 1.5 * k_in},
      {"1 1/2", 1.5 * k_in},
      {"1  1/2", 1.5 * k_in},
      {"1\xC2\xBD", 1.5 * k_in},
      {"1-\xC2\xBD in", 1.5 * k_in},
      {"\xC2\xBD\"", 0.5 * k_in},
      {"\xC2\xBC in", 0.25 * k_in},
      {"2\xC2\xBE in", 2.75 * k_in},
      {"3\xE2\x85\x9B in", 3.125 * k_in},
      {"1 1\xE2\x81\x84"
       "2 in",
       1.5 * k_in},
      {"3/4in", 0.75 * k_in},
      {"3/2 in", 1.5 * k_in},
      {"600mm", 600},
      {"600 MM", 600},
      {"0.6 m", 600},
      {"60cm", 600},
      {".5 m", 500},
      {"5. m", 5000},
      {"600 millimetres", 600},
      {"2ft", 24 * k_in},
      {"2'", 24 * k_in},
      {"2.5'", 30 * k_in},
      {"2 1/2 ft", 30 * k_in},
      {"2' 6\"", 30 * k_in},
      {"2'6 1/2\"", 30.5 * k_in},
      {"2'-6 1/2\"", 30.5 * k_in},
      {"2'-6\"", 30 * k_in},
      {"2' 6", 30 * k_in},
      {"2' .5\"", 24.5 * k_in},
      {"2\xE2\x80\xB2 6\xE2\x80\xB3", 30 * k_in},
      {"2\xE2\x80\x99 6\xE2\x80\x9D", 30 * k_in},
      {"2ft 6in", 30 * k_in},
      {"2 ft. 6 in.", 30 * k_in},
      {"0' 6\"", 6 * k_in},
      {"-3mm", -3},
      {"- 3 mm", -3},
      {"\xE2\x88\x92"
       "3mm",
       -3},
      {"+3mm", 3},
      {"-1-1/2in", -1.5 * k_in},
      {"-2' 6\"", -30 * k_in},
      {"1e3", 1000 * k_in},
      {"1e3 mm", 1000},
      {"1E-1mm", 0.1},
      {"2.5e+1mm", 25},
      {"0", 0},
  };
  for (const Written& row : rows) {
    ASSERT_NO_THROW(parse_quantity(Quantity::length, row.text, Units::inch)) << row.text;
    EXPECT_NEAR(parse_quantity(Quantity::length, row.text, Units::inch), row.expected, 1e-12 * 1000 * k_in)
        << row.text;
  }
}

TEST(ParseLength, BareNumberTakesTheJobsUnit) {
  EXPECT_DOUBLE_EQ(parse_quantity(Quantity::length, "24", Units::inch), 609.6);
  EXPECT_DOUBLE_EQ(parse_quantity(Quantity::length, "24", Units::metric), 24.0);
  EXPECT_DOUBLE_EQ(parse_quantity(Quantity::length, "1 1/2", Units::metric), 1.5);
  EXPECT_DOUBLE_EQ(parse_quantity(Quantity::length, "24", "cm"), 240.0);
  EXPECT_DOUBLE_EQ(parse_quantity(Quantity::length, "24 in", "cm"), 609.6);
  EXPECT_THROW(parse_quantity(Quantity::length, "24", "furlong"), std::invalid_argument);
}

TEST(ParseLength, SaysWhyItCannotBeRead) {
  const std::string comma =
      "a comma is not taken: write a decimal point and no thousands mark, as in 1.5 or 1000";
  const std::string pair = "after whole feet, write inches under 12, as in 2' 6 1/2\"";
  const std::string range = "the number is too large or too small to be used";
  const std::vector<std::pair<std::string, std::string>> rows = {
      {"24 inn", "unknown unit 'inn'; use mm, cm, m, in, ft"},
      {"24 deg", "unknown unit 'deg'; use mm, cm, m, in, ft"},
      {"24-", "unknown unit '-'; use mm, cm, m, in, ft"},
      {"24 \n", "unknown unit '?'; use mm, cm, m, in, ft"},
      {"1,5", comma},
      {"1,000 mm", comma},
      {"", "nothing is written; write it as in 24in or 600 mm"},
      {"   ", "nothing is written; write it as in 24in or 600 mm"},
      {"in", "'in' is not a number"},
      {"inf", "'inf' is not a number"},
      {"-nan", "'nan' is not a number"},
      {".", "'.' is not a number"},
      {"--3", "'-3' is not a number"},
      {"0x18", "hexadecimal numbers are not taken; write a decimal number"},
      {"1e999", range},
      {"1e-999", range},
      {"1e308 m", range},
      {"1/0", "the fraction '1/0' divides by zero"},
      {"1 3/2 in", "the fraction in '1 3/2' must be under 1"},
      {"1/2/3", "'1/2/3' is not a fraction"},
      {"2 6", "'6' is left over after the number; write it as in 24in or 600 mm"},
      {"1.5 1/2", "'1/2' is left over after the number; write it as in 24in or 600 mm"},
      {"1..2", "'.2' is left over after the number; write it as in 24in or 600 mm"},
      {"600 mm 2", "'2' is left over after the unit; write it as in 24in or 600 mm"},
      {"6in 2ft", "'2ft' is left over after the unit; write it as in 24in or 600 mm"},
      {"2ft 6mm", pair},
      {"2' 12\"", pair},
      {"2.5' 6\"", pair},
      {"2' 6\" 3", pair},
      {"2' 6 1/2\" 1\"", pair},
      {std::string(10000, '1'), "10000 characters are too many for a number; write it as in 24in or 600 mm"},
  };
  for (const auto& [text, expected] : rows) EXPECT_EQ(reason(Quantity::length, text), expected) << text;
}

TEST(ParseLength, KeepsLongGarbageShort) {
  EXPECT_EQ(reason(Quantity::length, "5 " + std::string(60, 'x')),
            "unknown unit 'xxxxxxxxxxxxxxxxxxxx...'; use mm, cm, m, in, ft");
}

TEST(ParseAngle, AsPeopleWriteIt) {
  constexpr double k_deg = 3.14159265358979323846 / 180.0;
  const std::vector<Written> rows = {
      {"90", 90 * k_deg},
      {"90deg", 90 * k_deg},
      {"90\xC2\xB0", 90 * k_deg},
      {"90 degrees", 90 * k_deg},
      {"1.57rad", 1.57},
      {"22.5 deg", 22.5 * k_deg},
      {"11 1/4", 11.25 * k_deg},
      {"11\xC2\xBC\xC2\xB0", 11.25 * k_deg},
      {"22\xC2\xB0 30'", 22.5 * k_deg},
      {"22\xC2\xB0"
       "30\xE2\x80\xB2",
       22.5 * k_deg},
      {"-45", -45 * k_deg},
  };
  for (const Written& row : rows) {
    for (const Units units : {Units::metric, Units::inch}) {
      EXPECT_NEAR(parse_quantity(Quantity::angle, row.text, units), row.expected, 1e-15) << row.text;
    }
  }
  EXPECT_EQ(reason(Quantity::angle, "90 grad"), "unknown unit 'grad'; use deg, rad");
  EXPECT_EQ(reason(Quantity::angle, "22\xC2\xB0 60'"),
            "after whole degrees, write minutes under 60, as in 22\xC2\xB0 30'");
}

TEST(ParseNumber, TakesNoUnit) {
  EXPECT_DOUBLE_EQ(parse_quantity(Quantity::number, "1.5", Units::inch), 1.5);
  EXPECT_DOUBLE_EQ(parse_quantity(Quantity::number, "1 1/2", Units::metric), 1.5);
  EXPECT_EQ(reason(Quantity::number, "1.5 in"), "write the number alone, without 'in'");
}

TEST(ParseQuantity, NamesTheUnitsOfEachQuantity) {
  EXPECT_EQ(reason(Quantity::area, "1 x"), "unknown unit 'x'; use mm2, cm2, m2, in2, ft2");
  EXPECT_EQ(reason(Quantity::flow, "1 x"), "unknown unit 'x'; use m3/s, m3/min, m3/h, l/s, cfm");
  EXPECT_EQ(reason(Quantity::velocity, "1 x"), "unknown unit 'x'; use m/s, ft/s, fpm");
  EXPECT_EQ(reason(Quantity::pressure, "1 x"), "unknown unit 'x'; use Pa, kPa, in w.g.");
  EXPECT_EQ(reason(Quantity::density, "1 x"), "unknown unit 'x'; use kg/m3, lb/ft3");
  EXPECT_EQ(reason(Quantity::conductivity, "1 x"),
            "unknown unit 'x'; use W/(m K), Btu in/(h ft2 F), Btu/(h ft F)");
  EXPECT_EQ(reason(Quantity::viscosity, "1 x"), "unknown unit 'x'; use m2/s, mm2/s, ft2/s");
  EXPECT_EQ(reason(Quantity::area_mass, "1 x"), "unknown unit 'x'; use kg/m2, lb/ft2");
  EXPECT_EQ(reason(Quantity::mass, "1 x"), "unknown unit 'x'; use kg, g, lb");
}

}  // namespace
}  // namespace linerwright
