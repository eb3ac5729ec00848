// Mathematical functions for the engine in a browser, in the place of its C library's: nearly always the
// double nearest to the true value, as the C library of the native program gives it, so that both print the
// same digits. Each is a sum of two doubles (T. J. Dekker, "A floating-point technique for extending the
// available precision", Numer. Math. 18, 1971), some 100 bits, rounded once at the end.
#include "same_digits.hpp"

#include <cmath>
#include <limits>

namespace linerwright::same_digits {

namespace {

struct Double2 {
  double high = 0.0, low = 0.0;
};

Double2 quick_sum(double a, double b) {  // |a| >= |b|
  const double s = a + b;
  return {s, b - (s - a)};
}
Double2 sum(double a, double b) {
  const double s = a + b;
  const double t = s - a;
  return {s, (a - (s - t)) + (b - t)};
}
Double2 product(double a, double b) {
  const auto split = [](double x) -> Double2 {
    const double t = 134217729.0 * x;  // 2^27 + 1
    const double high = t - (t - x);
    return {high, x - high};
  };
  const double p = a * b;
  const Double2 x = split(a), y = split(b);
  return {p, ((x.high * y.high - p) + x.high * y.low + x.low * y.high) + x.low * y.low};
}
Double2 operator+(Double2 a, Double2 b) {
  Double2 s = sum(a.high, b.high);
  const Double2 t = sum(a.low, b.low);
  s = quick_sum(s.high, s.low + t.high);
  return quick_sum(s.high, s.low + t.low);
}
Double2 operator-(Double2 a) {
  return {-a.high, -a.low};
}
Double2 operator-(Double2 a, Double2 b) {
  return a + -b;
}
Double2 operator*(Double2 a, Double2 b) {
  const Double2 p = product(a.high, b.high);
  return quick_sum(p.high, p.low + (a.high * b.low + a.low * b.high));
}
Double2 operator/(Double2 a, Double2 b) {
  const double first = a.high / b.high;
  const Double2 rest = a - b * Double2{first, 0.0};
  const double second = rest.high / b.high;
  const Double2 last = rest - b * Double2{second, 0.0};
  return quick_sum(first, second) + Double2{last.high / b.high, 0.0};
}

// Pi's half as three doubles.
constexpr double k_half_pi[] = {1.5707963267948966, 6.123233995736766e-17, -1.4973849048591833e-33};

struct Turn {
  Double2 rest;  // within an eighth of a turn of 0
  int quarter;   // 0 to 3
};
Turn reduced(double x) {
  const double turns = std::nearbyint(x / k_half_pi[0]);
  const Double2 first = product(turns, k_half_pi[0]);
  Double2 rest = sum(x, -first.high) + Double2{-first.low, 0.0};
  rest = rest - product(turns, k_half_pi[1]);
  rest = rest - product(turns, k_half_pi[2]);
  return {rest, static_cast<int>(std::fmod(std::fmod(turns, 4.0) + 4.0, 4.0))};
}

// Taylor's series within an eighth of a turn: 1 - x^2 / (2 3) (1 - x^2 / (4 5) (...)).
Double2 series(Double2 x, int first) {
  const Double2 square = x * x;
  constexpr int k_terms = 14;
  Double2 value{1.0, 0.0};
  for (int k = k_terms; k >= 1; --k) {
    const double below = (2.0 * k + first - 1.0) * (2.0 * k + first);
    value = Double2{1.0, 0.0} - square * value / Double2{below, 0.0};
  }
  return value;
}
struct Point {
  Double2 sine, cosine;
};
// On by quarters of a turn, 0 to 3.
Point turned(const Point& p, int quarters) {
  switch (quarters) {
    case 0:
      return p;
    case 1:
      return {p.cosine, -p.sine};
    case 2:
      return {-p.sine, -p.cosine};
    default:
      return {-p.cosine, p.sine};
  }
}
Point on_circle(double x) {
  const Turn turn = reduced(x);
  const Double2 s = turn.rest * series(turn.rest, 1);
  const Double2 c = series(turn.rest, 0);
  return turned({s, c}, turn.quarter);
}

double rounded(Double2 value) {
  return value.high + value.low;
}

// The same to some 60 bits, which is nearly always enough to know the nearest double.
Point quickly_on_circle(double x) {
  constexpr double k_first =
      1.57079632673412561417;  // 33 bits of pi's half: times a small number it is exact
  constexpr double k_rest = 6.07710050650619224932e-11;
  const double turns = std::nearbyint(x / k_half_pi[0]);
  const double far = x - turns * k_first;
  const double off = turns * k_rest;
  const double high = far - off;
  const Double2 rest{high, (far - high) - off};
  Double2 square = product(high, high);
  square = quick_sum(square.high, square.low + 2.0 * high * rest.low);
  const double z = square.high;
  constexpr Double2 k_sixth{0.16666666666666666, 9.25185853854297e-18};
  constexpr Double2 k_24th{0.041666666666666664, 2.3129646346357427e-18};
  const double fifth =
      high * z * z *
      (1.0 / 120.0 -
       z * (1.0 / 5040.0 -
            z * (1.0 / 362880.0 -
                 z * (1.0 / 39916800.0 -
                      z * (1.0 / 6227020800.0 - z * (1.0 / 1307674368000.0 - z / 355687428096000.0))))));
  const Double2 s = rest - rest * square * k_sixth + Double2{fifth, 0.0};
  const double sixth =
      z * z * z *
      (1.0 / 720.0 -
       z * (1.0 / 40320.0 - z * (1.0 / 3628800.0 - z * (1.0 / 479001600.0 -
                                                        z * (1.0 / 87178291200.0 - z / 20922789888000.0)))));
  const Double2 c =
      (Double2{1.0, 0.0} - square * Double2{0.5, 0.0}) + square * square * k_24th - Double2{sixth, 0.0};
  return turned({s, c}, static_cast<int>(turns) & 3);
}

// Whether a value that may be off by `error` still has one nearest double.
bool is_sure(Double2 value, double error) {
  return value.high + (value.low + error) == value.high + (value.low - error);
}
constexpr double k_quick_error = 3.5e-18;  // 2^-58
bool is_small(double x) {
  return std::fabs(x) < 1000.0 && std::fabs(x) > 1e-3;
}
bool is_sure(Double2 value) {
  return std::fabs(value.high) > 1e-3 && is_sure(value, k_quick_error * std::fabs(value.high));
}

// A value with what it may be off by.
struct Nearly {
  Double2 value;
  double error;
};
struct NearPoint {
  Nearly sine, cosine;
};

// The same to some 56 bits, in a few dozen operations: enough nine times of ten.
NearPoint nearly_on_circle(double x) {
  constexpr double k_first =
      1.57079632673412561417;  // 33 bits of pi's half: times a small number it is exact
  constexpr double k_rest = 6.07710050650619224932e-11;
  const double turns = std::nearbyint(x * 0.63661977236758138);
  const double far = x - turns * k_first;
  const double off = turns * k_rest;
  const double high = far - off;
  const double low = (far - high) - off;
  const Double2 square = product(high, high);
  const double z = square.high;
  const double z_low = square.low + 2.0 * high * low;
  const double third =
      high * (z * (-1.0 / 6.0 +
                   z * (1.0 / 120.0 - z * (1.0 / 5040.0 - z * (1.0 / 362880.0 -
                                                               z * (1.0 / 39916800.0 -
                                                                    z * (1.0 / 6227020800.0 -
                                                                         z * (1.0 / 1307674368000.0 -
                                                                              z / 355687428096000.0)))))))) -
      high * (z_low * (1.0 / 6.0));
  const Nearly s{quick_sum(high, third + low * (1.0 - 0.5 * z)), 6e-16 * std::fabs(third) + 1e-19};
  const double half = 0.5 * z;
  const double left = 1.0 - half;
  const double fourth =
      z * (z * (1.0 / 24.0 -
                z * (1.0 / 720.0 -
                     z * (1.0 / 40320.0 -
                          z * (1.0 / 3628800.0 - z * (1.0 / 479001600.0 -
                                                      z * (1.0 / 87178291200.0 - z / 20922789888000.0)))))));
  const Nearly c{quick_sum(left, ((1.0 - left) - half) - 0.5 * z_low + fourth), 6e-16 * fourth + 1e-18};
  const Nearly minus_s{-s.value, s.error};
  const Nearly minus_c{-c.value, c.error};
  switch (static_cast<int>(turns) & 3) {
    case 0:
      return {s, c};
    case 1:
      return {c, minus_s};
    case 2:
      return {minus_s, minus_c};
    default:
      return {minus_c, s};
  }
}
bool is_sure(const Nearly& nearly) {
  return std::fabs(nearly.value.high) > 1e-3 && is_sure(nearly.value, nearly.error);
}

// Beyond this the first product would need more bits; no angle of ours comes near.
constexpr double k_largest = 1e8;
bool plain(double x) {
  return std::fabs(x) < k_largest && std::fabs(x) > 1e-20;
}

// The angle of (c, s), improved from one that is nearly right.
double improved(double angle, Double2 s, Double2 c) {
  const auto better = [&](const Point& at) {
    const Double2 miss = (s * at.cosine - c * at.sine) / (c * at.cosine + s * at.sine);
    return quick_sum(angle, miss.high) + Double2{miss.low, 0.0};
  };
  if (is_small(angle)) {
    const NearPoint at = nearly_on_circle(angle);
    // the products nearly cancel; what is left of them is exact
    const Double2 up = product(s.high, at.cosine.value.high);
    const Double2 down = product(c.high, at.sine.value.high);
    const double size = c.high * at.cosine.value.high + s.high * at.sine.value.high;
    const double miss = ((up.high - down.high) + (up.low - down.low) +
                         (s.high * at.cosine.value.low - c.high * at.sine.value.low) +
                         (s.low * at.cosine.value.high - c.low * at.sine.value.high)) /
                        size;
    const Double2 first = quick_sum(angle, miss);
    if (is_sure(first, at.sine.error + at.cosine.error + 1e-18)) return rounded(first);
    if (const Double2 quick = better(quickly_on_circle(angle)); is_sure(quick, 2.0 * k_quick_error))
      return rounded(quick);
  }
  return rounded(better(on_circle(angle)));
}

Double2 root(Double2 square) {
  const double first = std::sqrt(square.high);
  if (!(first > 0.0)) return {};
  const Double2 rest = square - product(first, first);
  return quick_sum(first, rest.high / (2.0 * first));
}

}  // namespace

namespace {
bool g_careful = true;
}

bool careful() {
  return g_careful;
}

void be_careful(bool careful) {
  g_careful = careful;
}

double sine(double x, double nearly) {
  if (is_small(x)) {
    if (const Nearly first = nearly_on_circle(x).sine; is_sure(first)) return rounded(first.value);
    if (const Double2 quick = quickly_on_circle(x).sine; is_sure(quick)) return rounded(quick);
  }
  return plain(x) ? rounded(on_circle(x).sine) : nearly;
}
double cosine(double x, double nearly) {
  if (is_small(x)) {
    if (const Nearly first = nearly_on_circle(x).cosine; is_sure(first)) return rounded(first.value);
    if (const Double2 quick = quickly_on_circle(x).cosine; is_sure(quick)) return rounded(quick);
  }
  return plain(x) ? rounded(on_circle(x).cosine) : nearly;
}
double tangent(double x, double nearly) {
  if (!plain(x)) return nearly;
  const Point at = on_circle(x);
  return rounded(at.sine / at.cosine);
}

double angle_of(double y, double x, double nearly) {
  const double size = std::fmax(std::fabs(x), std::fabs(y));
  const double least = std::fmin(std::fabs(x), std::fabs(y));
  if (!(size < 1e100) || !(least > 1e-100) || !(least > 1e-15 * size)) return nearly;
  return improved(nearly, {y, 0.0}, {x, 0.0});
}
double angle_of_sine(double s, double nearly) {
  if (!(std::fabs(s) < 1.0) || !(std::fabs(s) > 1e-8)) return nearly;
  return improved(nearly, {s, 0.0}, root(Double2{1.0, 0.0} - product(s, s)));
}
double angle_of_cosine(double c, double nearly) {
  if (!(std::fabs(c) < 1.0) || !(std::fabs(c) > 1e-8)) return nearly;
  return improved(nearly, root(Double2{1.0, 0.0} - product(c, c)), {c, 0.0});
}

double length(double x, double y) {
  const double size = std::fmax(std::fabs(x), std::fabs(y));
  if (!(size < 1e140) || !(size > 1e-140)) return std::sqrt(x * x + y * y);
  return rounded(root(product(x, x) + product(y, y)));
}

}  // namespace linerwright::same_digits
