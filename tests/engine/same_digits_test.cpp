// The browser's mathematical functions against the compiler's of 113 bits, rounded: the nearest double, every
// time.
#include "same_digits.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "support/cases.hpp"
#include "support/chance.hpp"

#if defined(__GNUC__) && !defined(__clang__)
#include <quadmath.h>

namespace linerwright::same_digits {
namespace {

double nearest(__float128 value) {
  return static_cast<double>(value);
}

// A neighbour or the same: what another library might answer.
double beside(support::Chance& chance, double value) {
  const int way = chance.whole(-1, 1);
  return way == 0 ? value : std::nextafter(value, way * std::numeric_limits<double>::infinity());
}

TEST(SameDigitsRandom, AreTheNearestDoubles) {
  support::Chance chance(3);
  const double k_half_pi = std::acos(0.0);
  const int all = support::cases(60000);
  for (int i = 0; i < all; ++i) {
    // angles of all sizes, and beside whole quarters of a turn
    const double x = chance.one_in(4) ? chance.whole(-40, 40) * k_half_pi +
                                            (chance.share() - 0.5) * std::pow(10.0, -chance.whole(0, 15))
                                      : chance.between(-30.0, 30.0);
    const double a = chance.between(-1000.0, 1000.0),
                 b = chance.one_in(3) ? a * (1.0 + 1e-9 * chance.share()) : chance.between(-1000.0, 1000.0);
    const double share = 2.0 * chance.share() - 1.0;
    ASSERT_EQ(sine(x, beside(chance, std::sin(x))), nearest(sinq(x))) << x;
    ASSERT_EQ(cosine(x, beside(chance, std::cos(x))), nearest(cosq(x))) << x;
    ASSERT_EQ(tangent(x, beside(chance, std::tan(x))), nearest(tanq(x))) << x;
    ASSERT_EQ(angle_of(a, b, beside(chance, std::atan2(a, b))), nearest(atan2q(a, b))) << a << " " << b;
    ASSERT_EQ(angle_of_sine(share, beside(chance, std::asin(share))), nearest(asinq(share))) << share;
    ASSERT_EQ(angle_of_cosine(share, beside(chance, std::acos(share))), nearest(acosq(share))) << share;
    ASSERT_EQ(length(a, b), nearest(sqrtq(static_cast<__float128>(a) * a + static_cast<__float128>(b) * b)))
        << a << " " << b;
  }
}

TEST(SameDigits, EdgesAreTheLibrarys) {
  for (const double x : {0.0, -0.0, 1e-300, 1e300, std::numeric_limits<double>::infinity()}) {
    EXPECT_EQ(sine(x, 7.0), 7.0);
    EXPECT_EQ(angle_of(x, 0.0, 7.0), 7.0);
  }
  EXPECT_EQ(angle_of_sine(1.0, 7.0), 7.0);
  EXPECT_EQ(angle_of_cosine(-1.0, 7.0), 7.0);
  EXPECT_EQ(length(3.0, 4.0), 5.0);
  EXPECT_EQ(length(0.0, 0.0), 0.0);
  EXPECT_EQ(length(0.0, -2.5), 2.5);
}

}  // namespace
}  // namespace linerwright::same_digits
#endif
