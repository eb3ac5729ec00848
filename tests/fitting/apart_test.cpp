// Distances between branches, against plain sampling.
#include "apart.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "fitting/helpers.hpp"
#include "joint/joints.hpp"

using namespace linerwright;

TEST(Apart, lines_by_closing_in_on_the_nearest_points) {
  Dice dice(41);
  int inside = 0;
  for (int i = 0; i < cases(2000); ++i) {
    const auto point = [&] { return Vec3{dice.between(-9, 9), dice.between(-9, 9), dice.between(-9, 9)}; };
    const Vec3 a0 = point();
    const Vec3 a1 = point();
    const Vec3 b0 = point();
    const Vec3 b1 = i % 10 == 0 ? b0 + dice.between(-2, 2) * (a1 - a0) : point();  // some are parallel
    // alternating projections converge to the nearest pair of two convex sets
    double on_a = 0.5;
    double on_b = 0.5;
    const auto onto = [](Vec3 p, Vec3 from, Vec3 to) {
      return std::clamp(dot(p - from, to - from) / dot(to - from, to - from), 0.0, 1.0);
    };
    for (int step = 0; step < 20000; ++step) {
      const double before = on_a;
      on_b = onto(a0 + on_a * (a1 - a0), b0, b1);
      on_a = onto(b0 + on_b * (b1 - b0), a0, a1);
      if (on_a == before && step > 0) break;
    }
    const double exact = distance(a0 + on_a * (a1 - a0), b0 + on_b * (b1 - b0));
    EXPECT_NEAR(lines_apart(a0, a1, b0, b1), exact, 1e-6) << i;
    inside += on_a > 0 && on_a < 1 && on_b > 0 && on_b < 1 ? 1 : 0;
  }
  EXPECT_GT(inside, cases(2000) / 20);
  EXPECT_EQ(lines_apart({0, 0, 0}, {1, 0, 0}, {3, 4, 0}, {5, 4, 0}), std::hypot(2.0, 4.0));
  EXPECT_EQ(lines_apart({-1, 0, 0}, {1, 0, 0}, {0, -1, 3}, {0, 1, 3}), 3.0);
}

TEST(Apart, holes_along_and_around_the_body) {
  // On the unrolled body a round branch's hole reaches r along and R asin(r/R) around; layers of the mitre at
  // depths -g, 0 and t.
  LinerSpec liner;
  liner.thickness = 25;
  liner.gauge = 0.8;
  const auto hole = [](double r, double z, double around, double offset = 0.0) {
    Joint joint = saddle_joint(150, r);
    Frame frame = joint.lead.frame();
    const auto turned = [&](Vec3 p) {
      return Vec3{p.x * std::cos(around) - p.y * std::sin(around),
                  p.x * std::sin(around) + p.y * std::cos(around), p.z};
    };
    frame.x = turned(frame.x);
    frame.y = turned(frame.y);
    frame.z = turned(frame.z);
    frame.origin = turned({0, offset, z});
    joint.lead = Sheet::cylinder(frame, r);
    return joint;
  };
  for (const double turn : {0.0, 1.0, 3.0, -2.5}) {
    const Joint a = hole(60, 0, turn);
    const Joint b = hole(40, 180, turn);
    EXPECT_NEAR(holes_apart({a, turn}, {b, turn}, liner), 180 - 60.8 - 40.8, 1e-9);
    EXPECT_NEAR(holes_apart({b, turn}, {a, turn}, liner), 180 - 60.8 - 40.8, 1e-9);
    for (const double beside : {1.2, -1.2, 2.5}) {
      const Joint c = hole(40, 0, turn + beside);
      double exact = 1e300;
      for (const double w : {-0.8, 0.0, 25.0})
        exact = std::min(exact, (150 - w) * (std::fabs(beside) - std::asin((60 - w) / (150 - w)) -
                                             std::asin((40 - w) / (150 - w))));
      EXPECT_NEAR(holes_apart({a, turn}, {c, turn + beside}, liner), exact, 1e-9) << beside;
      // the same direction said with a whole turn more
      EXPECT_NEAR(holes_apart({a, turn}, {c, turn + beside - k_two_pi}, liner), exact, 1e-9) << beside;
    }
    // off-centre holes that look away from each other are nearer the other way around
    const Joint d = hole(60, 0, turn, -50);
    const Joint e = hole(60, 0, turn + 170 * k_degree, 50);
    double exact = 1e300;
    for (const double w : {-0.8, 0.0, 25.0})
      exact = std::min(exact, (150 - w) * (190 * k_degree - 2 * std::asin((50 + 60 - w) / (150 - w))));
    EXPECT_NEAR(holes_apart({d, turn}, {e, turn + 170 * k_degree}, liner), exact, 1e-9);
    EXPECT_NEAR(holes_apart({e, turn + 170 * k_degree}, {d, turn}, liner), exact, 1e-9);
    const Joint inside = hole(10, 20, turn);
    EXPECT_EQ(holes_apart({a, turn}, {inside, turn}, liner), 0.0);
    EXPECT_EQ(holes_apart({inside, turn}, {a, turn}, liner), 0.0);
  }
}
