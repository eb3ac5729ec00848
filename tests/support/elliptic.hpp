// Complete elliptic integrals of a modulus, which not every standard library has.
#pragma once

#include <cmath>

namespace linerwright::support {

#if defined(__cpp_lib_math_special_functions)

inline double elliptic_k(double modulus) {
  return std::comp_ellint_1(modulus);
}
inline double elliptic_e(double modulus) {
  return std::comp_ellint_2(modulus);
}

#else

// By the arithmetic-geometric mean (Abramowitz and Stegun, 17.6).
struct Elliptic {
  double k, e;
};
inline Elliptic elliptic(double modulus) {
  if (modulus >= 1.0) return {HUGE_VAL, 1.0};
  double a = 1.0, b = std::sqrt((1.0 - modulus) * (1.0 + modulus)), c = modulus;
  double lost = 0.5 * c * c;
  for (double power = 1.0; c > 1e-16 * a; power *= 2.0) {
    c = 0.5 * (a - b);
    const double mean = 0.5 * (a + b);
    b = std::sqrt(a * b);
    a = mean;
    lost += power * c * c;
  }
  const double k = std::acos(-1.0) / (2.0 * a);
  return {k, k * (1.0 - lost)};
}
inline double elliptic_k(double modulus) {
  return elliptic(modulus).k;
}
inline double elliptic_e(double modulus) {
  return elliptic(modulus).e;
}

#endif

}  // namespace linerwright::support
