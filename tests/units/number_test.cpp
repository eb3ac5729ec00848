// Numbers as they go into output files.
#include <gtest/gtest.h>

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

TEST(Trimmed, DropsZerosAndBarePoint) {
  EXPECT_EQ(trimmed(24.0, 3), "24");
  EXPECT_EQ(trimmed(24.5, 3), "24.5");
  EXPECT_EQ(trimmed(100.0, 0), "100");
  EXPECT_EQ(trimmed(-0.0001, 3), "0");
}

}  // namespace
}  // namespace linerwright
