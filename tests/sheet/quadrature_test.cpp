// The Gauss-Legendre rule that every integral of the library rests on.
#include <gtest/gtest.h>

#include "linerwright/sheet/sheet.hpp"
#include "sheet/numeric.hpp"

using namespace linerwright;

TEST(Quadrature, integrates_powers_exactly_up_to_degree_19) {
  // Integral of x^p over [0, 1] = 1 / (p + 1); ten terms rounded by half an ulp each leave 10 x 1.1e-16.
  for (int p = 0; p <= 19; ++p)
    EXPECT_NEAR(integrate([p](double x) { return std::pow(x, p); }, 0.0, 1.0, 1), 1.0 / (p + 1), 1.1e-15)
        << p;
}

TEST(Quadrature, misses_degree_20_by_the_textbook_amount) {
  // Remainder of the n-point rule on [0, 1]: (n!)^4 / ((2n + 1) ((2n)!)^3) f^(2n); here n = 10, f^(20) = 20!
  // (Abramowitz & Stegun, Handbook of Mathematical Functions, 25.4.30; from memory).
  const double n_factorial = 3628800.0;
  const double twice_factorial = 2432902008176640000.0;
  const double missing = std::pow(n_factorial, 4) / (21.0 * twice_factorial * twice_factorial);
  const double got = integrate([](double x) { return std::pow(x, 20); }, 0.0, 1.0, 1);
  EXPECT_NEAR(1.0 / 21.0 - got, missing, 1e-4 * missing);
}

TEST(Quadrature, nodes_and_weights_are_the_tables) {
  // Abramowitz & Stegun, table 25.4, n = 10, on [-1, 1] (from memory).
  const double x[] = {0.148874338981631211, 0.433395394129247191, 0.679409568299024406, 0.865063366688984511,
                      0.973906528517171720};
  const double weight[] = {0.295524224714752870, 0.269266719309996355, 0.219086362515982044,
                           0.149451349150580593, 0.066671344308688138};
  const GaussRule& rule = gauss_rule();
  for (std::size_t i = 0; i < 5; ++i) {
    EXPECT_NEAR(2.0 * rule.node[5 + i] - 1.0, x[i], 2e-16);
    EXPECT_NEAR(1.0 - 2.0 * rule.node[4 - i], x[i], 2e-16);
    EXPECT_NEAR(2.0 * rule.weight[5 + i], weight[i], 2e-15);
    EXPECT_NEAR(2.0 * rule.weight[4 - i], weight[i], 2e-15);
  }
}

TEST(Quadrature, partial_sums_integrate_powers_up_to_each_node) {
  // sum_j partial[i][j] x_j^p = integral from 0 to x_i of x^p = x_i^(p + 1) / (p + 1), exact up to p = 9.
  const GaussRule& rule = gauss_rule();
  for (std::size_t i = 0; i < 10; ++i)
    for (int p = 0; p <= 9; ++p) {
      double sum = 0.0;
      for (std::size_t j = 0; j < 10; ++j) sum += rule.partial[i][j] * std::pow(rule.node[j], p);
      EXPECT_NEAR(sum, std::pow(rule.node[i], p + 1) / (p + 1), 2e-15) << i << ' ' << p;
    }
}

TEST(Quadrature, panels_share_out_the_range) {
  // Integral of exp over [-1, 3] = e^3 - 1/e, whatever the number of panels; backwards it changes sign.
  const double exact = std::exp(3.0) - std::exp(-1.0);
  for (const int panels : {2, 3, 7, 40}) {
    const auto f = [](double x) { return std::exp(x); };
    EXPECT_NEAR(integrate(f, -1.0, 3.0, panels), exact, 2e-14 * exact) << panels;
    EXPECT_NEAR(integrate(f, 3.0, -1.0, panels), -exact, 2e-14 * exact) << panels;
  }
}
