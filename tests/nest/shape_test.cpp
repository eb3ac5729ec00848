#include "shape.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "shapes.hpp"

namespace linerwright {
namespace {

// The booleans round corners to 1e-5 mm, which can leave slivers of that width along the edges.
double rounding(const Ring& ring) {
  return 1e-5 * polyline_length(ring, true);
}

double uncovered(const Ring& inner, const Ring& outer) {
  double sum = 0.0;
  for (const Region& region : subtracted({{inner, {}}}, {{outer, {}}})) sum += area(region);
  return sum;
}

double farthest_corner(const Ring& ring, const Ring& from) {
  double farthest = 0.0;
  for (Vec2 p : ring) {
    double least = 1e300;
    for (std::size_t i = 0; i < from.size(); ++i) {
      least = std::min(least, distance_to_segment(p, from[i], from[(i + 1) % from.size()]));
    }
    farthest = std::max(farthest, least);
  }
  return farthest;
}

TEST(Shape, SimplifiedOutlinesCoverTheOriginalWithinTheTolerance) {
  // A gore with 202 corners, full and hollow in turn. Its edges bend most where the radius is 1 / (40 (2 pi /
  // 800)^2) = 405 mm; a chord over two steps of 8 mm is 16^2 / (8 x 405) = 0.08 mm off there, so every second
  // corner can go.
  Ring gore;
  for (int i = 0; i <= 100; ++i) gore.push_back({8.0 * i, -60.0 + 40.0 * std::cos(k_two_pi * i / 100.0)});
  for (int i = 100; i >= 0; --i) gore.push_back({8.0 * i, 60.0 - 40.0 * std::cos(k_two_pi * i / 100.0)});
  const Ring simple = nesting::simplified_outward(gore, 0.1);
  EXPECT_LE(simple.size(), gore.size() / 2);
  EXPECT_LT(uncovered(gore, simple), rounding(gore));
  EXPECT_LE(farthest_corner(simple, gore), 0.1 + 1e-9);
  EXPECT_GT(signed_area(simple), signed_area(gore));
}

TEST(Shape, SimplifyingRandomStarsNeverTakesMaterialAway) {
  int simpler = 0;
  for (std::uint64_t seed = 1; seed <= 50; ++seed) {
    nesting::Random random(seed);
    const Ring ring = test::star(random, 120, 99.8, 100.2);
    const Ring simple = nesting::simplified_outward(ring, 0.5);
    EXPECT_LT(uncovered(ring, simple), rounding(ring)) << seed;
    EXPECT_LE(farthest_corner(simple, ring), 0.5 + 1e-9) << seed;
    simpler += simple.size() < ring.size() ? 1 : 0;
  }
  EXPECT_EQ(simpler, 50);
}

TEST(Shape, OutlinesOfFewCornersStayAsTheyAre) {
  const Ring comb = test::comb(3, 10.0, 6.0, 0.05);
  EXPECT_EQ(nesting::simplified_outward(comb, 0.1), comb);
}

TEST(Shape, GrowsByHalfTheGap) {
  NestJob job = test::job_to_fill();
  job.parts = {test::part("square", test::rectangle(100.0, 60.0, {40.0, 70.0}))};
  job.options.gap = 8.0;
  const auto shapes = nesting::prepare_shapes(job);
  ASSERT_EQ(shapes.shapes.size(), 1U);
  EXPECT_DOUBLE_EQ(shapes.shapes[0].half.x, 50.0);
  EXPECT_DOUBLE_EQ(shapes.shapes[0].half.y, 30.0);
  EXPECT_DOUBLE_EQ(shapes.centre_of_part[0].x, 90.0);
  EXPECT_DOUBLE_EQ(shapes.centre_of_part[0].y, 100.0);
  // Half the gap, and up to the chord error of 0.05 mm that keeps the rounded corners outside the arc.
  EXPECT_GE(shapes.shapes[0].reach.x, 54.0 - 3e-4);
  EXPECT_LE(shapes.shapes[0].reach.x, 54.05);
  EXPECT_GE(shapes.shapes[0].reach.y, 34.0 - 3e-4);
  EXPECT_LE(shapes.shapes[0].reach.y, 34.05);
}

TEST(Shape, EqualOutlinesAreOneShapeWhereverTheyAreDrawn) {
  NestJob job = test::job_to_fill();
  job.parts = {test::part("a", test::rectangle(10.0, 20.0)),
               test::part("b", test::rectangle(10.0, 20.0, {500.0, -3.0})),
               test::part("c", test::rectangle(10.0, 21.0))};
  const auto shapes = nesting::prepare_shapes(job);
  EXPECT_EQ(shapes.shapes.size(), 2U);
  EXPECT_EQ(shapes.of_part, (std::vector<std::size_t>{0, 0, 1}));
}

}  // namespace
}  // namespace linerwright
