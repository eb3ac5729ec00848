#include <gtest/gtest.h>

#include <limits>

#include "helpers.hpp"
#include "linerwright/draw/polygon.hpp"

namespace linerwright {
namespace {

double total_area(const std::vector<Region>& regions) {
  double total = 0.0;
  for (const Region& region : regions) total += area(region);
  return total;
}

void expect_directions(const std::vector<Region>& regions) {
  for (const Region& region : regions) {
    EXPECT_GT(signed_area(region.outer), 0.0);
    for (const Ring& hole : region.holes) EXPECT_LT(signed_area(hole), 0.0);
  }
}

const Region k_left{rectangle(0, 0, 100, 100), {}};
const Region k_right{reversed(rectangle(50, 50, 100, 100)), {}};  // whichever way it runs

TEST(Region, union_difference_intersection_of_two_squares) {
  const std::vector<Region> both = united({k_left, k_right});
  ASSERT_EQ(both.size(), 1u);
  EXPECT_EQ(both[0].outer.size(), 8u);
  EXPECT_NEAR(total_area(both), 17500.0, 1e-6);
  EXPECT_NEAR(total_area(subtracted({k_left}, {k_right})), 7500.0, 1e-6);
  EXPECT_NEAR(total_area(intersected({k_left}, {k_right})), 2500.0, 1e-6);
  expect_directions(both);
}

TEST(Region, holes_and_islands) {
  const std::vector<Region> ring = subtracted({k_left}, {{rectangle(20, 20, 60, 60), {}}});
  ASSERT_EQ(ring.size(), 1u);
  ASSERT_EQ(ring[0].holes.size(), 1u);
  EXPECT_NEAR(total_area(ring), 6400.0, 1e-6);
  expect_directions(ring);
  std::vector<Region> parts = ring;
  parts.push_back({rectangle(40, 40, 20, 20), {}});
  const std::vector<Region> island = united(parts);
  EXPECT_EQ(island.size(), 2u);
  EXPECT_NEAR(total_area(island), 6800.0, 1e-6);
  // A hole stays open unless something covers it.
  EXPECT_NEAR(total_area(united({ring[0], {rectangle(0, 0, 50, 100), {}}})), 6400.0 + 1800.0, 1e-6);
}

TEST(Region, one_cut_in_two) {
  const std::vector<Region> halves = subtracted({k_left}, {{rectangle(45, -5, 10, 110), {}}});
  EXPECT_EQ(halves.size(), 2u);
  EXPECT_NEAR(total_area(halves), 9000.0, 1e-6);
  EXPECT_TRUE(subtracted({k_left}, {k_left}).empty());
  EXPECT_TRUE(united({}).empty());
}

// Grown by d: area + perimeter d + pi d2 with round corners, + 4 d2 with square mitres (Steiner's formula).
TEST(Region, offset_of_a_square) {
  EXPECT_NEAR(total_area(offset({k_left}, 10.0, OffsetCorners::mitre)), 14400.0, 1e-6);
  const double round_area = 10000.0 + 400.0 * 10.0 + k_pi * 100.0;
  const std::vector<Region> grown = offset({k_left}, 10.0, OffsetCorners::round, 0.001);
  // Arcs are drawn by chords inside them: less by at most chord error times arc length.
  EXPECT_LT(total_area(grown), round_area + 1e-3);
  EXPECT_GT(total_area(grown), round_area - 0.001 * k_two_pi * 10.0 - 1e-3);
  EXPECT_NEAR(total_area(offset({k_left}, -10.0)), 6400.0, 1e-6);
  EXPECT_TRUE(offset({k_left}, -50.1).empty());
}

// A corner that turns by any angle becomes an arc about it; every chord's middle lies within the chord error
// of the arc, and its ends on it to within the grid of 1e-5 mm (half a diagonal of it).
TEST(Region, rounded_corners_keep_the_chord_error) {
  constexpr double k_grid = 1e-5;
  double worst = 0.0;
  int chords = 0;
  for (const double error : {0.3, 0.01, 0.001})
    for (const double grow : {0.7, 6.35, 40.0})
      for (int degrees = 4; degrees < 176; degrees += 3) {
        // a thin triangle with its tip at the origin, where the outline turns by 180 degrees less its angle
        const double half = 0.5 * degrees / 180.0 * k_pi;
        const Ring tip{{0.0, 0.0}, {500.0, -500.0 * std::tan(half)}, {500.0, 500.0 * std::tan(half)}};
        const std::vector<Region> grown = offset({{tip, {}}}, grow, OffsetCorners::round, error);
        ASSERT_EQ(grown.size(), 1u);
        const Ring& ring = grown[0].outer;
        for (std::size_t i = 0; i < ring.size(); ++i) {
          const Vec2 a = ring[i];
          const Vec2 b = ring[(i + 1) % ring.size()];
          // on the arc about the tip: both ends further out than either side's normal there
          const auto on_arc = [&](Vec2 p) { return p.x < -grow * std::sin(half) + k_grid; };
          if (!on_arc(a) || !on_arc(b)) continue;
          EXPECT_NEAR(norm(a), grow, k_grid);
          const double gap = grow - norm(0.5 * (a + b));
          EXPECT_LE(gap, error + k_grid) << "error " << error << " grown by " << grow << ", " << degrees;
          worst = std::max(worst, gap / error);
          ++chords;
        }
      }
  EXPECT_GT(chords, 5000);
  EXPECT_GT(worst, 0.5);  // and no more chords than that takes
}

TEST(Region, offset_shrinks_holes_when_it_grows) {
  const Region plate{rectangle(0, 0, 100, 100), {rectangle(40, 40, 20, 20)}};
  const std::vector<Region> grown = offset({plate}, 5.0, OffsetCorners::mitre);
  ASSERT_EQ(grown.size(), 1u);
  ASSERT_EQ(grown[0].holes.size(), 1u);
  EXPECT_NEAR(total_area(grown), 110.0 * 110.0 - 10.0 * 10.0, 1e-6);
  EXPECT_TRUE(offset({plate}, 10.5, OffsetCorners::mitre).at(0).holes.empty());
}

TEST(Region, overlapping_regions_are_offset_as_one) {
  EXPECT_NEAR(total_area(offset({k_left, k_left}, 10.0, OffsetCorners::mitre)), 14400.0, 1e-6);
}

TEST(Region, keeps_a_hundred_thousandth_of_a_millimetre) {
  const Ring fine{{0.00001, 0.00002}, {2000.00003, 0.0}, {2000.0, 1500.00004}};
  const std::vector<Region> result = united({{fine, {}}});
  ASSERT_EQ(result.size(), 1u);
  ASSERT_EQ(result[0].outer.size(), 3u);
  int found = 0;
  for (const Vec2 p : fine) {
    for (const Vec2 q : result[0].outer) found += distance(p, q) < 1e-9 ? 1 : 0;
  }
  EXPECT_EQ(found, 3);
}

TEST(Region, refuses_what_does_not_fit) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  EXPECT_THROW(united({{{{0, 0}, {nan, 0}, {1, 1}}, {}}}), GeometryError);
  EXPECT_THROW(united({{{{0, 0}, {2e6, 0}, {1, 1}}, {}}}), GeometryError);
  EXPECT_THROW(offset({k_left}, nan), GeometryError);
  EXPECT_THROW(offset({k_left}, 1.0, OffsetCorners::round, 0.0), GeometryError);
}

}  // namespace
}  // namespace linerwright
