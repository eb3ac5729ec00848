#include "linerwright/draw/polygon.hpp"

#include <gtest/gtest.h>

#include <random>

#include "helpers.hpp"
#include "segments.hpp"

namespace linerwright {
namespace {

TEST(Polygon, area_has_the_sign_of_the_direction) {
  EXPECT_DOUBLE_EQ(signed_area(rectangle(5, 7, 30, 20)), 600.0);
  EXPECT_DOUBLE_EQ(signed_area(reversed(rectangle(5, 7, 30, 20))), -600.0);
  // n sin(2 pi / n) r2 / 2 of the regular polygon.
  EXPECT_NEAR(signed_area(circle({1e6, -1e6}, 10.0, 12)), 300.0, 1e-6);
  EXPECT_EQ(signed_area({}), 0.0);
  EXPECT_DOUBLE_EQ(area({rectangle(0, 0, 10, 10), {rectangle(1, 1, 2, 2), reversed(rectangle(5, 5, 3, 1))}}),
                   93.0);
}

TEST(Polygon, box_and_length) {
  EXPECT_FALSE(bounding_box({}).has_value());
  const Box box = bounding_box({{3, -1}, {-2, 5}, {0, 0}}).value();
  EXPECT_TRUE(box.low == (Vec2{-2, -1}) && box.high == (Vec2{3, 5}));
  EXPECT_DOUBLE_EQ(polyline_length(rectangle(0, 0, 3, 4), false), 3 + 4 + 3);
  EXPECT_DOUBLE_EQ(polyline_length(rectangle(0, 0, 3, 4), true), 14.0);
  EXPECT_EQ(polyline_length({{1, 1}}, true), 0.0);
}

TEST(Polygon, point_inside_agrees_with_the_circle) {
  const Ring ring = circle({10, 20}, 30.0, 720);  // within 30 (1 - cos(pi/720)) = 0.0003 mm of the circle
  std::mt19937 random(3);
  std::uniform_real_distribution<double> place(-40.0, 40.0);
  int inside = 0;
  for (int i = 0; i < 5000; ++i) {
    const Vec2 offset_from_centre{place(random), place(random)};
    if (std::abs(norm(offset_from_centre) - 30.0) < 1e-3) continue;
    const bool expected = norm(offset_from_centre) < 30.0;
    inside += expected ? 1 : 0;
    EXPECT_EQ(point_in_polygon(Vec2{10, 20} + offset_from_centre, ring), expected);
  }
  EXPECT_GT(inside, 1000);
  // Level with a vertex, on either side.
  EXPECT_TRUE(point_in_polygon({1, 0}, {{0, -1}, {3, 0}, {0, 1}}));
  EXPECT_FALSE(point_in_polygon({-1, 0}, {{0, -1}, {3, 0}, {0, 1}}));
  EXPECT_FALSE(point_in_polygon({0, 0}, {}));
}

TEST(Polygon, distance_to_a_segment) {
  EXPECT_DOUBLE_EQ(distance_to_segment({5, 3}, {0, 0}, {10, 0}), 3.0);
  EXPECT_DOUBLE_EQ(distance_to_segment({13, 4}, {0, 0}, {10, 0}), 5.0);
  EXPECT_DOUBLE_EQ(distance_to_segment({3, 4}, {0, 0}, {0, 0}), 5.0);
}

TEST(Polygon, self_intersection) {
  EXPECT_FALSE(self_intersects(rectangle(0, 0, 9, 9), true));
  EXPECT_FALSE(self_intersects(circle({0, 0}, 50.0, 1000), true));
  const std::vector<Vec2> bow{{0, 0}, {9, 9}, {9, 0}, {0, 9}};
  EXPECT_TRUE(self_intersects(bow, true));
  EXPECT_TRUE(self_intersects(bow, false));
  EXPECT_TRUE(self_intersects({{0, 0}, {9, 0}, {9, 9}, {4, 0}}, false));  // touches
  EXPECT_FALSE(self_intersects({{0, 0}, {9, 0}, {9, 9}, {4, 1}}, false));
  EXPECT_TRUE(self_intersects({{0, 0}, {9, 0}, {5, 0}}, false));           // back along itself
  EXPECT_FALSE(self_intersects({{0, 0}, {5, 0}, {5, 0}, {9, 0}}, false));  // a repeated point is no crossing
  EXPECT_FALSE(self_intersects({}, true));
}

TEST(Segments, every_way_of_meeting) {
  const auto how = [](Vec2 a, Vec2 b, Vec2 c, Vec2 d) {
    const Segment first{a, b, 0, 0, 1, false};
    const Segment second{c, d, 1, 0, 1, false};
    const Meeting there = meeting(first, second, 1e-4);
    EXPECT_EQ(there, meeting(second, first, 1e-4));
    return there;
  };
  EXPECT_EQ(how({0, 0}, {10, 0}, {5, -5}, {5, 5}), Meeting::cross);
  EXPECT_EQ(how({0, 0}, {10, 0}, {5, 0}, {5, 5}), Meeting::touch);
  EXPECT_EQ(how({0, 0}, {10, 0}, {5, 0.01}, {5, 5}), Meeting::none);
  EXPECT_EQ(how({0, 0}, {10, 0}, {10, 0}, {20, 0}), Meeting::touch);
  EXPECT_EQ(how({0, 0}, {10, 0}, {9, 0}, {20, 0}), Meeting::overlap);
  EXPECT_EQ(how({0, 0}, {10, 0}, {7, 0}, {3, 0}), Meeting::overlap);
  EXPECT_EQ(how({0, 0}, {10, 0}, {0, 0.01}, {10, 0.01}), Meeting::none);
  EXPECT_EQ(how({0, 0}, {10, 0}, {0, -0.01}, {10, 0.01}), Meeting::cross);
  EXPECT_EQ(how({0, 0}, {10, 0}, {20, -5}, {20, 5}), Meeting::none);
}

// The sweep must find what comparing all with all finds.
TEST(Segments, near_pairs_are_all_found) {
  std::mt19937 random(11);
  std::uniform_real_distribution<double> place(0.0, 100.0);
  for (const double stretch : {0.2, 1.0, 5.0}) {
    std::vector<Segment> segments;
    for (int i = 0; i < 300; ++i) {
      const Vec2 a{place(random), stretch * place(random)};
      segments.push_back({a, a + Vec2{place(random) / 5.0, place(random) / 5.0}, i, 0, 1, false});
    }
    const auto meets = [](const Segment& a, const Segment& b) {
      return meeting(a, b, 1e-4) != Meeting::none;
    };
    int expected = 0;
    for (std::size_t i = 0; i < segments.size(); ++i) {
      for (std::size_t j = i + 1; j < segments.size(); ++j)
        expected += meets(segments[i], segments[j]) ? 1 : 0;
    }
    int found = 0;
    for_near_pairs(segments, 1e-4, [&](const Segment& a, const Segment& b) {
      found += meets(a, b) ? 1 : 0;
      return true;
    });
    EXPECT_EQ(found, expected);
    EXPECT_GT(expected, 20);
  }
}

}  // namespace
}  // namespace linerwright
