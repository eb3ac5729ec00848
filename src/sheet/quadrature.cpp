#include "linerwright/sheet/sheet.hpp"

namespace linerwright {

namespace {

constexpr int k_n = GaussRule::k_points;

// Roots of the Legendre polynomial by Newton's method from the Chebyshev-like first guess (textbook
// construction, from memory; the tests integrate powers up to degree 19 exactly).
GaussRule make_rule() {
  GaussRule rule{};
  for (int i = 0; i < k_n; ++i) {
    double x = std::cos(k_pi * (i + 0.75) / (k_n + 0.5));
    double slope = 1.0;
    for (int step = 0; step < 100; ++step) {
      double p0 = 1.0;
      double p1 = x;
      for (int degree = 2; degree <= k_n; ++degree) {
        const double p2 = ((2.0 * degree - 1.0) * x * p1 - (degree - 1.0) * p0) / degree;
        p0 = p1;
        p1 = p2;
      }
      slope = k_n * (x * p1 - p0) / (x * x - 1.0);
      const double change = p1 / slope;
      x -= change;
      if (std::fabs(change) < 1e-16) break;
    }
    const auto place = static_cast<std::size_t>(k_n - 1 - i);
    rule.node[place] = 0.5 * (1.0 + x);
    rule.weight[place] = 1.0 / ((1.0 - x * x) * slope * slope);
  }
  for (std::size_t i = 0; i < k_n; ++i) {
    for (std::size_t j = 0; j < k_n; ++j) {
      double sum = 0.0;
      for (std::size_t q = 0; q < k_n; ++q) {
        const double x = rule.node[i] * rule.node[q];
        double lagrange = 1.0;
        for (std::size_t m = 0; m < k_n; ++m)
          if (m != j) lagrange *= (x - rule.node[m]) / (rule.node[j] - rule.node[m]);
        sum += rule.weight[q] * lagrange;
      }
      rule.partial[i][j] = sum * rule.node[i];
    }
  }
  return rule;
}

}  // namespace

const GaussRule& gauss_rule() {
  static const GaussRule rule = make_rule();
  return rule;
}

}  // namespace linerwright
