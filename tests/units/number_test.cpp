// Numbers as they go into output files.
#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <random>
#include <string>

#include "linerwright/units/units.hpp"

namespace linerwright {
namespace {

TEST(Fixed, KeepsItsDecimals) {
  EXPECT_EQ(fixed(1.5, 3), "1.500");
  EXPECT_EQ(fixed(1234567.0, 1), "1234567.0");
  EXPECT_EQ(fixed(1e15, 0), "1000000000000000");
  EXPECT_EQ(fixed(-2.25, 1), "-2.2");  // IEC 60559: the binary value is exact, ties to even
  EXPECT_EQ(fixed(1e-9, 4), "0.0000");
}

TEST(Fixed, HasNoNegativeZero) {
  EXPECT_EQ(fixed(-0.0, 0), "0");
  EXPECT_EQ(fixed(-0.0004, 3), "0.000");
  EXPECT_EQ(fixed(-0.0006, 3), "-0.001");
}

// As the C library's printf prints them, correctly rounded (glibc): halves, nearly halves and large numbers
// among them.
TEST(Fixed, RandomNumbersAreThoseOfPrintf) {
  std::mt19937_64 chance(7);
  std::uniform_real_distribution<double> spread(-1.0, 1.0);
  for (int i = 0; i < 200000; ++i) {
    const int decimals = static_cast<int>(chance() % 8);
    const double wide = std::ldexp(spread(chance), static_cast<int>(chance() % 70) - 10);
    const double halves = std::round(1e7 * spread(chance)) * 0.5 * std::pow(10.0, -decimals);
    for (double value : {wide, halves, std::nextafter(halves, 1e9)}) {
      char printed[64];
      std::snprintf(printed, sizeof printed, "%.*f", decimals, value);
      std::string expected = printed;
      if (expected.front() == '-' && expected.find_first_not_of("-0.") == std::string::npos)
        expected.erase(0, 1);
      ASSERT_EQ(fixed(value, decimals), expected)
          << std::hexfloat << value << ", " << decimals << " decimals";
    }
  }
}

TEST(Trimmed, DropsZerosAndBarePoint) {
  EXPECT_EQ(trimmed(24.0, 3), "24");
  EXPECT_EQ(trimmed(24.5, 3), "24.5");
  EXPECT_EQ(trimmed(100.0, 0), "100");
  EXPECT_EQ(trimmed(-0.0001, 3), "0");
}

}  // namespace
}  // namespace linerwright
