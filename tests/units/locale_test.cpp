// Reading and printing do not follow the machine's language.
#include <gtest/gtest.h>

#include <cstdio>
#include <locale>
#include <sstream>

#include "linerwright/units/units.hpp"
#include "support/comma_locale.hpp"

namespace linerwright {
namespace {

// Comma for the decimal mark, dots between thousands.
struct CommaMarks : std::numpunct<char> {
  char do_decimal_point() const override { return ','; }
  char do_thousands_sep() const override { return '.'; }
  std::string do_grouping() const override { return "\3"; }
};

void expect_points() {
  EXPECT_DOUBLE_EQ(parse_quantity(Quantity::length, "1.5 in", Units::metric), 38.1);
  EXPECT_DOUBLE_EQ(parse_quantity(Quantity::length, "1234.5", Units::metric), 1234.5);
  EXPECT_THROW(parse_quantity(Quantity::length, "1,5 in", Units::metric), std::invalid_argument);
  EXPECT_EQ(format_quantity(Quantity::length, 1234.5, Units::metric), "1234.5 mm");
  EXPECT_EQ(fixed(1234567.25, 2), "1234567.25");
}

TEST(Locale, CxxLocaleIsNotFollowed) {
  const std::locale before = std::locale::global(std::locale(std::locale(), new CommaMarks));
  std::ostringstream stream;
  stream << 1234.5;
  EXPECT_EQ(stream.str(), "1.234,5");  // the locale is in force
  expect_points();
  std::locale::global(before);
}

TEST(Locale, CLocaleIsNotFollowed) {
  const support::CommaLocale comma;
  char printed[16];
  std::snprintf(printed, sizeof printed, "%.1f", 1.5);
  EXPECT_STREQ(printed, "1,5");  // the locale is in force
  expect_points();
}

}  // namespace
}  // namespace linerwright
