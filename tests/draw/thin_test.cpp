#include <gtest/gtest.h>

#include "helpers.hpp"
#include "linerwright/draw/polygon.hpp"

namespace linerwright {
namespace {

constexpr double k_degree = k_pi / 180.0;

double turn_at(const std::vector<Vec2>& points, std::size_t i) {
  const std::size_t n = points.size();
  const Vec2 a = points[i] - points[(i + n - 1) % n];
  const Vec2 b = points[(i + 1) % n] - points[i];
  return std::abs(std::atan2(cross(a, b), dot(a, b)));
}

double furthest_from(const std::vector<Vec2>& original, const std::vector<Vec2>& result, bool closed) {
  double worst = 0.0;
  for (const Vec2 p : original) {
    double nearest = 1e9;
    for (std::size_t i = closed ? 0 : 1; i < result.size(); ++i) {
      nearest = std::min(nearest,
                         distance_to_segment(p, result[(i + result.size() - 1) % result.size()], result[i]));
    }
    worst = std::max(worst, nearest);
  }
  return worst;
}

// A chord of a circle of radius r that strays by e from it turns by 2 acos(1 - e/r): the chord error rules
// below 52 mm for 0.05 mm and 5 degrees, the turn rules above it. No result may have fewer vertices than that
// allows.
TEST(Thinned, circles_keep_chord_error_and_turn) {
  for (const double radius : {5.0, 30.0, 80.0, 600.0}) {
    const std::vector<Vec2> original = circle({10, -20}, radius, 3600);
    const ThinOptions options;
    const std::vector<Vec2> result = thinned(original, true, options);
    const double turn = std::min(options.max_turn, 2.0 * std::acos(1.0 - options.chord_error / radius));
    EXPECT_GE(result.size(), static_cast<std::size_t>(std::ceil(k_two_pi / turn - 1e-9))) << radius;
    EXPECT_LE(result.size(), static_cast<std::size_t>(k_two_pi / turn * 1.3) + 2) << radius;
    EXPECT_LE(furthest_from(original, result, true), options.chord_error + 1e-9);
    for (std::size_t i = 0; i < result.size(); ++i) EXPECT_LE(turn_at(result, i), options.max_turn + 1e-9);
    EXPECT_TRUE(result.front() == original.front());
  }
}

// The mitre of a 4-gore elbow 24 in across unrolls to a sine wave (see DEVELOPERS, patterns): 1915 mm long
// here, 81 mm to either side.
TEST(Thinned, a_gore_edge_keeps_its_ends_and_needs_few_vertices) {
  std::vector<Vec2> original;
  for (int i = 0; i <= 4000; ++i) {
    const double u = i / 4000.0;
    original.push_back({1915.0 * u, 81.0 * std::cos(k_two_pi * u)});
  }
  const std::vector<Vec2> result = thinned(original, false);
  EXPECT_TRUE(result.front() == original.front());
  EXPECT_TRUE(result.back() == original.back());
  EXPECT_LE(furthest_from(original, result, false), 0.05 + 1e-9);
  EXPECT_LT(result.size(), 90u);
  EXPECT_GT(result.size(), 30u);
  for (std::size_t i = 1; i + 1 < result.size(); ++i) EXPECT_LE(turn_at(result, i), 5.0 * k_degree + 1e-9);
}

TEST(Thinned, corners_stay_and_straight_runs_become_one_piece) {
  std::vector<Vec2> square;
  for (int i = 0; i < 100; ++i) square.push_back({1.0 * i, 0.0});
  for (int i = 0; i < 100; ++i) square.push_back({100.0, 1.0 * i});
  for (int i = 0; i < 100; ++i) square.push_back({100.0 - i, 100.0});
  for (int i = 0; i < 100; ++i) square.push_back({0.0, 100.0 - i});
  const std::vector<Vec2> result = thinned(square, true);
  ASSERT_EQ(result.size(), 4u);
  EXPECT_TRUE(result[1] == (Vec2{100.0, 0.0}));
  EXPECT_TRUE(result[2] == (Vec2{100.0, 100.0}));
  // Where the first point lies on a straight run it stays all the same.
  std::rotate(square.begin(), square.begin() + 50, square.end());
  EXPECT_EQ(thinned(square, true).size(), 5u);
  // A V notch of 10 mm in a straight edge.
  EXPECT_EQ(thinned({{0, 0}, {20, 0}, {40, 0}, {45, 10}, {50, 0}, {70, 0}, {90, 0}}, false).size(), 5u);
}

TEST(Thinned, small_inputs_and_repeated_points) {
  EXPECT_TRUE(thinned({}, true).empty());
  EXPECT_EQ(thinned({{1, 1}, {1, 1}, {1, 1}}, true).size(), 1u);
  EXPECT_EQ(thinned({{1, 1}, {2, 2}}, false).size(), 2u);
  EXPECT_EQ(thinned({{0, 0}, {9, 0}, {9, 0}, {9, 9}, {0, 0}}, true).size(), 3u);
  EXPECT_THROW(thinned({{0, 0}, {1, 1}}, false, {0.0, 0.1}), std::invalid_argument);
  EXPECT_THROW(thinned({{0, 0}, {1, 1}}, false, {0.1, -0.1}), std::invalid_argument);
}

TEST(Thinned, a_coarse_line_is_left_as_it_is) {
  const std::vector<Vec2> twelve = circle({0, 0}, 100.0, 12);
  EXPECT_EQ(thinned(twelve, true).size(), 12u);
}

}  // namespace
}  // namespace linerwright
