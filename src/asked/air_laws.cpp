#include "air_laws.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "space.hpp"

namespace linerwright::asked {

namespace {

constexpr double k_slack = 1e-9;

double in_degrees(double angle) {
  return angle * 180.0 / k_pi;
}

// 1/sqrt(f) = -2 log10(e/(3.7 d) + 2.51/(Re sqrt(f))): the right side less the left one falls as f grows, so
// halving finds the one f.
double colebrook(double reynolds, double relative) {
  double low = 1e-4;
  double high = 10.0;
  for (int i = 0; i < 100; ++i) {
    const double f = std::sqrt(low * high);
    const double root = std::sqrt(f);
    (1.0 / root + 2.0 * std::log10(relative / 3.7 + 2.51 / (reynolds * root)) > 0.0 ? low : high) = f;
  }
  return std::sqrt(low * high);
}

// How the turn's angle counts in a smooth bend: read between the handbook's 70, 90 and 100 degrees.
double turn_counts(double degrees) {
  const auto between = [&](double from, double at_from, double to, double at_to) {
    return at_from + (at_to - at_from) * (degrees - from) / (to - from);
  };
  const auto gentle = [](double d) { return 0.9 * std::sin(d * k_pi / 180.0); };
  const auto sharp = [](double d) { return 0.7 + 0.35 * d / 90.0; };
  if (degrees > 100.0) return sharp(degrees);
  if (degrees > 90.0) return between(90.0, 1.0, 100.0, sharp(100.0));
  if (degrees > 70.0) return between(70.0, gentle(70.0), 90.0, 1.0);
  return gentle(degrees);
}

// C = A1 B1 k_Re k_rough of Idelchik's diagram 6-1, a round section.
std::optional<double> smooth_takes(const Stream& air, double angle, double radius, double diameter) {
  const double bend = radius / diameter;
  const double reynolds = reynolds_of(air, diameter);
  if (bend < 0.7 - k_slack || bend > 3.0 + 3.0 * k_slack || angle > k_pi + k_slack || reynolds < 4e4)
    return {};
  const double relative = air.roughness / diameter;
  const double rough =
      reynolds >= 2e5 ? 1.0 + 1000.0 * relative : colebrook(reynolds, relative) / colebrook(reynolds, 0.0);
  const double shape = bend > 1.0 ? 0.21 / std::sqrt(bend) : 0.21 / (bend * bend * std::sqrt(bend));
  return shape * turn_counts(in_degrees(angle)) * std::max(1.0, 11.5 * std::pow(reynolds, -0.19)) *
         std::min(2.0, std::max(1.0, rough));
}

}  // namespace

double pressure_of(const Stream& air, double diameter) {
  const double velocity = air.flow / (k_pi / 4.0 * diameter * diameter * 1e-6);
  return air.density * velocity * velocity / 2.0;
}

double reynolds_of(const Stream& air, double diameter) {
  return 4.0 * air.flow / (k_pi * diameter * 1e-3 * air.viscosity);
}

double friction_of(const Stream& air, double diameter, double length) {
  const double reynolds = reynolds_of(air, diameter);
  if (reynolds == 0.0) return 0.0;
  double f = std::numeric_limits<double>::quiet_NaN();
  if (reynolds < 2300.0) f = 64.0 / reynolds;
  if (reynolds >= 4000.0) f = colebrook(reynolds, air.roughness / diameter);
  return f * length / diameter * pressure_of(air, diameter);  // Darcy and Weisbach
}

double friction_of(const Stream& air, double from, double to, double length) {
  constexpr int k_parts = 40;
  double sum = 0.0;
  for (int part = 0; part < k_parts; ++part)
    for (int i = 0; i < 5; ++i) {
      const double share = (part + k_gauss_at[i]) / k_parts;
      sum += k_gauss_weight[i] * friction_of(air, from + (to - from) * share, length / k_parts);
    }
  return sum;
}

std::optional<double> mitres_take(const Stream& air, double angle, int mitres, double radius,
                                  double diameter) {
  const double sine = std::sin(angle / mitres / 2.0);
  const double square = sine * sine;
  if (mitres == 1) return (0.95 * square + 2.05 * square * square) * (0.95 + 33.5 / in_degrees(angle));
  if (radius < 1.5 * diameter * (1.0 - k_slack)) return {};
  const double each = 0.9457 * square + 2.047 * square * square;
  return std::max(mitres * each, smooth_takes(air, angle, radius, diameter).value_or(0.0));
}

double taper_takes(double from, double to, double length) {
  const double slope = std::abs(to - from) / 2.0 / length;
  const double narrow = std::min(from, to);
  const double n = std::pow(narrow / std::max(from, to), 2.0);
  if (to > from) {
    const double step = (1.0 - n) * (1.0 - n);
    return in_degrees(std::atan(slope)) > 20.0 + 1e-7 ? step : 3.2 * std::pow(slope, 1.25) * step;
  }
  const double a = 2.0 * std::atan(slope);
  const double of_ratio =
      -0.0125 * std::pow(n, 4) + 0.0224 * std::pow(n, 3) - 0.00723 * n * n + 0.00444 * n - 0.00745;
  return std::max(0.0, of_ratio * (std::pow(a, 3) - k_turn * a * a - 10.0 * a));
}

std::optional<double> branch_leaves_run(double share, double area, double angle) {
  const double degrees = in_degrees(angle);
  const bool holds = (degrees > 14.9995 && degrees < 60.0005) || std::abs(degrees - 90.0) < 0.499;
  if (!holds || share > 1.0 || area > 1.0 + k_slack) return {};
  double factor = 0.4;
  if (area > 0.4) factor = (share > 0.5 ? 0.3 : 2.0) * (2.0 * share - 1.0);
  return factor * share * share;
}

}  // namespace linerwright::asked
