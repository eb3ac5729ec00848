// Numbers in tables and pages: significant figures.
#include <gtest/gtest.h>

#include <cmath>

#include "linerwright/units/figures.hpp"

namespace linerwright {
namespace {

TEST(Significant, KeepsThreeFigures) {
  EXPECT_EQ(significant(0.0025), "0.00250");
  EXPECT_EQ(significant(0.00000123456), "0.00000123");
  EXPECT_EQ(significant(0.0706858), "0.0707");
  EXPECT_EQ(significant(6.4159), "6.42");
  EXPECT_EQ(significant(64.159), "64.2");
  EXPECT_EQ(significant(641.59), "642");
  EXPECT_EQ(significant(-0.0123456), "-0.0123");
  EXPECT_EQ(significant(0.0706858347, 6), "0.0706858");
}

TEST(Significant, WholeNumbersStandInFull) {
  EXPECT_EQ(significant(2400.0), "2400");
  EXPECT_EQ(significant(123456.7), "123457");
}

TEST(Significant, RoundsUpToTheNextDecade) {
  EXPECT_EQ(significant(9.996), "10.0");
  EXPECT_EQ(significant(0.09996), "0.100");
  EXPECT_EQ(significant(999.7), "1000");
  EXPECT_EQ(significant(9.994), "9.99");
}

TEST(Significant, ZeroIsZero) {
  EXPECT_EQ(significant(0.0), "0");
  EXPECT_EQ(significant(-0.0), "0");
}

// For every decade and first digits: what is printed lies within half a unit of the third figure of the
// value, and has three figures.
TEST(Significant, WithinHalfAUnitOfTheLastFigure) {
  int tried = 0;
  for (int decade = -9; decade <= 5; ++decade)
    for (int n = 100; n < 1000; n += 7)
      for (const double part : {0.0, 0.31, 0.49, 0.77}) {
        const double value = (n + part) * std::pow(10.0, decade - 2);
        const std::string text = significant(value);
        EXPECT_LE(std::fabs(std::stod(text) - value), 0.5000001 * std::pow(10.0, std::min(decade - 2, 0)))
            << text;
        std::string digits;
        for (const char c : text)
          if (c != '.' && (c != '0' || !digits.empty())) digits += c;
        EXPECT_GE(digits.size(), 3U) << text;
        if (decade < 2) {
          EXPECT_LE(digits.size(), 3U) << text;
        }
        ++tried;
      }
  EXPECT_GT(tried, 5000);
}

TEST(ShownQuantity, LengthsAndAnglesKeepTheirDecimals) {
  EXPECT_EQ(shown_quantity(Quantity::length, 609.6, Units::inch), "24 in");
  EXPECT_EQ(shown_quantity(Quantity::length, 0.004, Units::metric, 2), "0 mm");
  EXPECT_EQ(shown_quantity(Quantity::area, 2000.0, Units::metric), "0.00200 m2");
  EXPECT_EQ(shown_quantity(Quantity::flow, 0.5, Units::metric), "0.500 m3/s");
  EXPECT_EQ(shown_quantity(Quantity::velocity, 5.08, Units::inch), "1000 fpm");
  EXPECT_EQ(shown_quantity(Quantity::pressure, 2.0222, Units::metric), "2.02 Pa");
  EXPECT_EQ(shown_number(Quantity::area, 92903.04 * 1.5, Units::inch), "1.50");
}

}  // namespace
}  // namespace linerwright
