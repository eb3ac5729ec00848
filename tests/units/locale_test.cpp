// Reading and printing do not follow the machine's language.
#include <gtest/gtest.h>

#include <clocale>
#include <locale>
#include <sstream>

#include "linerwright/units.hpp"

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
  bool found = false;
  for (const char* name : {"de_DE.UTF-8", "de_DE.utf8", "de_DE", "fr_FR.UTF-8", "fr_FR.utf8"}) {
    if (std::setlocale(LC_ALL, name) == nullptr) continue;
    found = true;
    break;
  }
  if (!found) GTEST_SKIP() << "no locale with a decimal comma is installed";
  expect_points();
  std::setlocale(LC_ALL, "C");
}

}  // namespace
}  // namespace linerwright
