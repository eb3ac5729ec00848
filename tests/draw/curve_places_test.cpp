#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "linerwright/draw/curve_places.hpp"
#include "linerwright/draw/polygon.hpp"

namespace linerwright {
namespace {

// How far the curves stray from the chords between their places, looked for at 400 places of each chord.
double stray(const CurvePair& curves, const std::vector<CurvePlace>& places) {
  double worst = 0.0;
  for (std::size_t i = 0; i + 1 < places.size(); ++i)
    for (int k = 1; k < 400; ++k) {
      const double share = k / 400.0;
      const std::array<Vec2, 2> at =
          curves((1.0 - share) * places[i].parameter + share * places[i + 1].parameter);
      for (std::size_t c = 0; c < 2; ++c)
        worst = std::max(worst, distance_to_segment(at[c], places[i].at[c], places[i + 1].at[c]));
    }
  return worst;
}

std::vector<double> even(double from, double to, int steps) {
  std::vector<double> parameters;
  for (int i = 0; i <= steps; ++i) parameters.push_back(from + (to - from) * i / steps);
  return parameters;
}

// The side of a saddle whose branch nearly touches the side of its body: sqrt(e^2 + x^2) is a corner rounded
// with the radius e. Even steps miss it by nearly half a step.
TEST(CurvePlaces, CornersRoundedByMicronsAreFollowed) {
  for (const double e : {10.0, 1.0, 1e-2, 1e-4, 1e-6}) {
    const CurvePair curves = [&](double x) {
      return std::array<Vec2, 2>{Vec2{x, std::sqrt(e * e + x * x)}, Vec2{x, 0.3 * x}};
    };
    const std::vector<double> parameters = even(-101.0, 100.0, 60);
    std::vector<CurvePlace> plain;
    for (const double s : parameters) plain.push_back({s, curves(s)});
    if (e < 0.1) {
      EXPECT_GT(stray(curves, plain), 0.5) << e;
    }
    const std::vector<CurvePlace> places = curve_places(curves, parameters, 0.005);
    EXPECT_LT(stray(curves, places), 0.01) << e;
    EXPECT_LT(places.size(), 250u) << e;
    for (std::size_t i = 0; i + 1 < places.size(); ++i)
      EXPECT_LT(places[i].parameter, places[i + 1].parameter);
    for (const double s : parameters)
      EXPECT_TRUE(std::any_of(places.begin(), places.end(), [&](const auto& p) { return p.parameter == s; }));
  }
}

// A circle's chord strays by r (1 - cos(step / 2)): as many places as that asks for, up to twice.
TEST(CurvePlaces, CirclesTakeAsManyAsTheyBend) {
  for (const double r : {1.0, 50.0, 2000.0}) {
    const CurvePair curves = [&](double s) {
      const Vec2 at{r * std::cos(s), r * std::sin(s)};
      return std::array<Vec2, 2>{at, 0.5 * at};
    };
    const std::vector<CurvePlace> places = curve_places(curves, even(0.0, k_two_pi, 8), 0.01);
    const double needed = k_pi / std::acos(1.0 - 0.01 / r);
    EXPECT_GE(static_cast<double>(places.size()), needed) << r;
    EXPECT_LE(static_cast<double>(places.size()), 2.0 * needed + 16.0) << r;
    EXPECT_LE(stray(curves, places), 0.0101) << r;
  }
}

// Straight curves and even ones that need nothing stay as they are; a jump does not keep it busy.
TEST(CurvePlaces, LeavesWhatNeedsNothing) {
  const CurvePair straight = [](double s) { return std::array<Vec2, 2>{Vec2{s, 2.0 * s}, Vec2{}}; };
  EXPECT_EQ(curve_places(straight, even(0.0, 1000.0, 3), 0.001).size(), 4u);
  const CurvePair jump = [](double s) {
    return std::array<Vec2, 2>{Vec2{s, s < 0.3 ? 0.0 : 5.0}, Vec2{s, 0.0}};
  };
  EXPECT_LT(curve_places(jump, even(0.0, 10.0, 10), 0.001).size(), 300u);
}

}  // namespace
}  // namespace linerwright
