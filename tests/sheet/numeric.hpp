// Plain numerics that the geometry is held against: differences, sums around a turn, and random sheets from
// fixed seeds.
#pragma once

#include <cmath>
#include <cstdint>
#include <random>
#include <string>

#include "linerwright/sheet/sheet.hpp"
#include "support/cases.hpp"

namespace linerwright {

constexpr double k_degree = k_pi / 180.0;
constexpr double k_inch = 25.4;

using support::cases;

// Random numbers that are the same on every machine.
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : engine_(seed) {}
  double between(double low, double high) {
    return low + (high - low) * static_cast<double>(engine_() >> 11) * 0x1.0p-53;
  }
  // one of 0 .. count - 1
  int pick(int count) { return static_cast<int>(engine_() % static_cast<std::uint64_t>(count)); }

 private:
  std::mt19937_64 engine_;
};

// df/dx by the five-point rule.
template <class F>
auto slope(F&& f, double x, double h = 1e-3) {
  return (1.0 / (12.0 * h)) * (8.0 * (f(x + h) - f(x - h)) - (f(x + 2.0 * h) - f(x - 2.0 * h)));
}

// Integral over one turn by equal steps: on a smooth periodic function it converges faster than any power.
template <class F>
double around(F&& f, int steps) {
  double sum = 0.0;
  for (int i = 0; i < steps; ++i) sum += f(k_two_pi * i / steps);
  return sum * k_two_pi / steps;
}

inline Vec3 random_direction(Dice& dice) {
  const double z = dice.between(-1.0, 1.0);
  const double turn = dice.between(0.0, k_two_pi);
  return {std::sqrt(1.0 - z * z) * std::cos(turn), std::sqrt(1.0 - z * z) * std::sin(turn), z};
}

inline Frame random_frame(Dice& dice) {
  Frame frame;
  frame.origin = {dice.between(-2000, 2000), dice.between(-2000, 2000), dice.between(-2000, 2000)};
  frame.z = random_direction(dice);
  Vec3 other = random_direction(dice);
  while (norm(cross(other, frame.z)) < 0.1) other = random_direction(dice);
  frame.x = normalised(cross(other, frame.z));
  frame.y = cross(frame.z, frame.x);
  return frame;
}

// A cylinder, a right cone or an oblique cone, each as often.
inline Sheet random_sheet(Dice& dice) {
  const Frame frame = random_frame(dice);
  const double r1 = dice.between(50, 1000);
  const double r2 = r1 * dice.between(0.4, 1.8);
  const double height = r1 * dice.between(0.4, 4.0);
  switch (dice.pick(3)) {
    case 0:
      return Sheet::cylinder(frame, r1);
    case 1:
      return Sheet::cone(frame, r1, r2, height);
    default:
      return Sheet::cone(frame, r1, r2, height, dice.between(0.0, 0.8) * height);
  }
}

inline std::string describe(const Sheet& sheet) {
  return "r1 " + std::to_string(sheet.r1()) + ", r2 " + std::to_string(sheet.r2()) + ", height " +
         std::to_string(sheet.height()) + ", offset " + std::to_string(sheet.offset());
}

}  // namespace linerwright
