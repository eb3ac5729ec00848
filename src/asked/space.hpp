// Points and directions, as few as the formulas need. Lengths mm, angles radians.
#pragma once

#include <array>
#include <cmath>

namespace linerwright::asked {

constexpr double k_pi = 3.141592653589793238;
constexpr double k_turn = 2.0 * k_pi;

// Gauss's five points on [0, 1] (Abramowitz and Stegun, table 25.4).
constexpr double k_gauss_at[5] = {0.046910077030668004, 0.23076534494715845, 0.5, 0.76923465505284155,
                                  0.953089922969332};
constexpr double k_gauss_weight[5] = {0.11846344252809454, 0.23931433524968324, 0.28444444444444444,
                                      0.23931433524968324, 0.11846344252809454};

using Point = std::array<double, 2>;
using Place = std::array<double, 3>;

inline Place operator+(const Place& a, const Place& b) {
  return {a[0] + b[0], a[1] + b[1], a[2] + b[2]};
}
inline Place operator-(const Place& a, const Place& b) {
  return {a[0] - b[0], a[1] - b[1], a[2] - b[2]};
}
inline Place operator*(double k, const Place& a) {
  return {k * a[0], k * a[1], k * a[2]};
}
inline double along(const Place& a, const Place& b) {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
inline double size(const Place& a) {
  return std::sqrt(along(a, a));
}
inline Place square_to(const Place& a, const Place& b) {
  return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
}
inline double radians(double degrees) {
  return degrees * k_pi / 180.0;
}

}  // namespace linerwright::asked
