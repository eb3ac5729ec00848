#include "nofit.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "depth_field.hpp"
#include "shape.hpp"
#include "shapes.hpp"

namespace linerwright {
namespace {

using ClipperLib::IntPoint;
using ClipperLib::Path;
using ClipperLib::Paths;
using nesting::k_units_per_mm;

Path grid(const Ring& ring) {
  Path path;
  for (Vec2 p : ring)
    path.emplace_back(std::llround(p.x * k_units_per_mm), std::llround(p.y * k_units_per_mm));
  return path;
}

Paths solid(const Ring& outer, const std::vector<Ring>& holes = {}) {
  Paths paths{grid(outer)};
  for (const Ring& hole : holes) {
    paths.push_back(grid(hole));
    if (ClipperLib::Orientation(paths.back())) ClipperLib::ReversePath(paths.back());
  }
  return paths;
}

double area_mm2(const Paths& paths) {
  double sum = 0.0;
  for (const Path& path : paths) sum += ClipperLib::Area(path);
  return sum / (k_units_per_mm * k_units_per_mm);
}

double common_area(const Paths& a, Paths b, IntPoint shift) {
  for (Path& path : b) {
    for (IntPoint& p : path) p = IntPoint(p.X + shift.X, p.Y + shift.Y);
  }
  ClipperLib::Clipper clipper;
  clipper.AddPaths(a, ClipperLib::ptSubject, true);
  clipper.AddPaths(b, ClipperLib::ptClip, true);
  Paths common;
  clipper.Execute(ClipperLib::ctIntersection, common, ClipperLib::pftEvenOdd, ClipperLib::pftEvenOdd);
  return area_mm2(common);
}

bool in_region(const Paths& region, IntPoint q) {
  int inside = 0;
  for (const Path& path : region) inside += ClipperLib::PointInPolygon(q, path) == 1 ? 1 : 0;
  return inside % 2 == 1;
}

double distance_to_edges(const Paths& region, Vec2 q) {
  double least = 1e300;
  for (const Path& path : region) {
    for (std::size_t i = 0; i < path.size(); ++i) {
      const auto mm = [](const IntPoint& p) {
        return Vec2{static_cast<double>(p.X) / k_units_per_mm, static_cast<double>(p.Y) / k_units_per_mm};
      };
      least = std::min(least, distance_to_segment(q, mm(path[i]), mm(path[(i + 1) % path.size()])));
    }
  }
  return least;
}

struct Tally {
  int inside = 0, outside = 0;
};

// Overlap by Clipper's intersection against membership in the no-fit polygon, at `samples` shifts in the box
// where the two can meet. Shifts within 0.01 mm of its edge are left out: there the common area is next to
// nothing.
Tally compare(const Paths& a, const Paths& b, int samples, std::uint64_t seed) {
  const Paths region = nesting::no_fit(a, b);
  const nesting::DepthField field(region);
  nesting::Random random(seed);
  const auto box = [](const Path& path) {
    IntPoint low = path[0], high = path[0];
    for (const IntPoint& p : path) {
      low = {std::min(low.X, p.X), std::min(low.Y, p.Y)};
      high = {std::max(high.X, p.X), std::max(high.Y, p.Y)};
    }
    return std::pair{low, high};
  };
  const auto [a_low, a_high] = box(a[0]);
  const auto [b_low, b_high] = box(b[0]);
  Tally tally;
  for (int i = 0; i < samples; ++i) {
    const IntPoint q(std::llround(random.between(static_cast<double>(a_low.X - b_high.X),
                                                 static_cast<double>(a_high.X - b_low.X))),
                     std::llround(random.between(static_cast<double>(a_low.Y - b_high.Y),
                                                 static_cast<double>(a_high.Y - b_low.Y))));
    const Vec2 at{static_cast<double>(q.X) / k_units_per_mm, static_cast<double>(q.Y) / k_units_per_mm};
    const double away = distance_to_edges(region, at);
    if (away < 0.01) continue;
    const bool overlap = common_area(a, b, q) > 0.0;
    EXPECT_EQ(in_region(region, q), overlap) << "seed " << seed << ", shift " << at.x << ", " << at.y;
    EXPECT_NEAR(field.depth(at), overlap ? away : 0.0, 1e-9)
        << "seed " << seed << ", shift " << at.x << ", " << at.y;
    ++(overlap ? tally.inside : tally.outside);
  }
  return tally;
}

TEST(NoFit, OfTwoRectanglesIsTheirSizesAdded) {
  const Paths region = nesting::no_fit(solid(test::rectangle(30.0, 10.0)), solid(test::rectangle(5.0, 7.0)));
  ASSERT_EQ(region.size(), 1U);
  EXPECT_EQ(region[0].size(), 4U);
  EXPECT_NEAR(area_mm2(region), (30.0 + 5.0) * (10.0 + 7.0), 1e-6);
  EXPECT_TRUE(in_region(region, grid({{29.9, 9.9}})[0]));
  EXPECT_FALSE(in_region(region, grid({{30.1, 5.0}})[0]));
  EXPECT_TRUE(in_region(region, grid({{-4.9, -6.9}})[0]));
}

TEST(NoFit, LeavesTheSlotOfAnOpenShapeFree) {
  // A U of 10 by 10 with a slot 4 wide and 8 deep; a block 2 by 3 has 2 mm of play across.
  const Ring u{{0, 0}, {10, 0}, {10, 10}, {7, 10}, {7, 2}, {3, 2}, {3, 10}, {0, 10}};
  const Paths region = nesting::no_fit(solid(u), solid(test::rectangle(2.0, 3.0)));
  // The box (10 + 2) by (10 + 3) less the slot's play: 2 wide, from y = 2 to the top, 10 (the block's lower
  // edge).
  EXPECT_NEAR(area_mm2(region), 12.0 * 13.0 - 2.0 * 8.0, 1e-6);
  EXPECT_FALSE(in_region(region, grid({{4.0, 5.0}})[0]));
  EXPECT_TRUE(in_region(region, grid({{5.5, 5.0}})[0]));
}

TEST(NoFit, LeavesRoomInHolesFree) {
  // A hole of 6 by 5 takes a block of 2 by 3 with 4 by 2 of play.
  const Paths plate = solid(test::rectangle(20.0, 20.0), {test::rectangle(6.0, 5.0, {7.0, 7.0})});
  const Paths block = solid(test::rectangle(2.0, 3.0));
  EXPECT_NEAR(area_mm2(nesting::no_fit(plate, block)), 22.0 * 23.0 - 4.0 * 2.0, 1e-6);
  EXPECT_NEAR(area_mm2(nesting::no_fit(block, plate)), 22.0 * 23.0 - 4.0 * 2.0, 1e-6);
  // One that covers the hole wholly leaves nothing free.
  EXPECT_NEAR(area_mm2(nesting::no_fit(plate, solid(test::rectangle(8.0, 9.0)))), 28.0 * 29.0, 1e-6);
}

TEST(NoFit, IsTurnedWhenTheShapesChangePlaces) {
  nesting::Random random(5);
  const Paths a = solid(test::star(random, 9, 10.0, 40.0));
  const Paths b = solid(test::comb(4, 8.0, 5.0, 12.0));
  const Paths forth = nesting::no_fit(a, b);
  const Paths back = nesting::turned(nesting::no_fit(b, a));
  ClipperLib::Clipper clipper;
  clipper.AddPaths(forth, ClipperLib::ptSubject, true);
  clipper.AddPaths(back, ClipperLib::ptClip, true);
  Paths difference;
  clipper.Execute(ClipperLib::ctXor, difference, ClipperLib::pftNonZero, ClipperLib::pftNonZero);
  EXPECT_LT(area_mm2(difference), 1e-2);
  EXPECT_GT(area_mm2(forth), area_mm2(a) + area_mm2(b));
}

TEST(NoFit, AgreesWithIntersectionsForNamedHollowShapes) {
  const std::vector<Ring> shapes{test::comb(5, 10.0, 6.0, 20.0),
                                 test::spiral(8.0),
                                 test::rectangle(4.0, 15.0),
                                 {{0, 0}, {30, 0}, {30, 8}, {8, 8}, {8, 30}, {0, 30}}};
  Tally sum;
  std::uint64_t seed = 1;
  for (const Ring& a : shapes) {
    for (const Ring& b : shapes) {
      for (const bool turned : {false, true}) {
        const Paths second = turned ? nesting::turned(solid(b)) : solid(b);
        const Tally tally = compare(solid(a), second, 300, seed++);
        sum.inside += tally.inside;
        sum.outside += tally.outside;
      }
    }
  }
  EXPECT_GT(sum.inside, 2000);
  EXPECT_GT(sum.outside, 1000);
}

TEST(NoFit, AgreesWithIntersectionsForRandomHollowShapes) {
  Tally sum;
  for (std::uint64_t seed = 1; seed <= 150; ++seed) {
    nesting::Random random(seed);
    const Paths a = solid(test::star(random, 3 + random.below(20), 8.0, 50.0));
    const Paths b = solid(test::star(random, 3 + random.below(20), 4.0, 40.0));
    const Tally tally = compare(a, b, 80, seed);
    sum.inside += tally.inside;
    sum.outside += tally.outside;
  }
  EXPECT_GT(sum.inside, 2000);
  EXPECT_GT(sum.outside, 2000);
}

TEST(NoFit, AgreesWithIntersectionsForShapesWithHoles) {
  Tally sum;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    nesting::Random random(seed);
    const Paths ring = solid(test::star(random, 16, 60.0, 80.0), {test::star(random, 7, 20.0, 50.0)});
    const Paths other = random.flip()
                            ? solid(test::star(random, 8, 4.0, 25.0))
                            : solid(test::rectangle(30.0, 30.0), {test::rectangle(20.0, 20.0, {5.0, 5.0})});
    const Tally tally = compare(ring, other, 80, seed);
    sum.inside += tally.inside;
    sum.outside += tally.outside;
  }
  EXPECT_GT(sum.inside, 1000);
  EXPECT_GT(sum.outside, 300);
}

TEST(DepthField, LeadsOutByTheShortestWay) {
  const nesting::DepthField field(solid(test::rectangle(30.0, 10.0)));
  EXPECT_DOUBLE_EQ(field.depth({15.0, 5.0}), 5.0);
  EXPECT_DOUBLE_EQ(field.depth({2.0, 5.0}), 2.0);
  EXPECT_DOUBLE_EQ(field.depth({30.0, 5.0}), 0.0);
  EXPECT_DOUBLE_EQ(field.depth({-1.0, 5.0}), 0.0);
  EXPECT_DOUBLE_EQ(field.depth({15.0, 0.5 * nesting::k_touch}), 0.0);
  const Vec2 way = field.way_out({2.0, 5.0});
  EXPECT_DOUBLE_EQ(way.x, -2.0);
  EXPECT_DOUBLE_EQ(way.y, 0.0);
}

}  // namespace
}  // namespace linerwright
