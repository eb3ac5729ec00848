// Distances to lines by the tree of boxes are those to all segments, one by one.
#include "linerwright/reroll/near_lines.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace linerwright {
namespace {

TEST(NearLines, AgreesWithEverySegmentInTurn) {
  std::mt19937 bits(7);
  const auto between = [&](double low, double high) {
    return low + (high - low) * static_cast<double>(bits()) / 4294967296.0;
  };
  int compared = 0;
  for (int round = 0; round < 20; ++round) {
    BoardLines lines;
    const int count = 1 + round % 4;
    for (int l = 0; l < count; ++l) {
      BoardLine line;
      line.closed = l % 2 == 0;
      const Vec2 middle{between(0.0, 500.0), between(0.0, 500.0)};
      const int points = 1 + static_cast<int>(between(0.0, 200.0));
      for (int i = 0; i < points; ++i)
        line.points.push_back({middle.x + between(80.0, 90.0) * std::cos(k_two_pi * i / points),
                               middle.y + between(30.0, 90.0) * std::sin(k_two_pi * i / points)});
      lines.push_back(line);
    }
    const NearLines near(lines);
    for (int i = 0; i < 200; ++i) {
      const Vec2 p{between(-200.0, 700.0), between(-200.0, 700.0)};
      EXPECT_EQ(near.distance(p), distance_to_lines(p, lines));
      ++compared;
    }
  }
  EXPECT_EQ(compared, 4000);
  EXPECT_TRUE(std::isinf(NearLines({}).distance({0.0, 0.0})));
}

}  // namespace
}  // namespace linerwright
