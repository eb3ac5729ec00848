// Gores inside a pressed bend: as large as they can be, by trying.
#include <gtest/gtest.h>

#include <algorithm>

#include "fitting/helpers.hpp"
#include "linerwright/fitting/port.hpp"
#include "linerwright/fitting/pressed_bend.hpp"

using namespace linerwright;

namespace {

struct Bend {
  double radius, centreline, angle;  // of the pressed metal
  int pieces;
  double mitre() const { return angle / (2.0 * (pieces - 1)); }
};

// How far a point of a gore (radius, its own centreline radius) lies inside the pressed bend: R minus its
// distance from the circle of section centres. `psi` is the angle from the gore's middle about the bend's
// centre, `theta` from the throat.
double inside_metal(const Bend& metal, double radius, double centreline, double psi, double theta) {
  const double from_centre = (centreline - radius * std::cos(theta)) / std::cos(psi);
  return metal.radius - std::hypot(from_centre - metal.centreline, radius * std::sin(theta));
}

struct Gaps {
  double narrowest, widest;
};
Gaps gaps(const Bend& metal, double radius, double centreline, int steps = 180) {
  Gaps found{1e300, -1e300};
  for (int i = 0; i <= steps / 6; ++i)
    for (int k = 0; k <= steps; ++k) {
      const double gap =
          inside_metal(metal, radius, centreline, metal.mitre() * i / (steps / 6), k_pi * k / steps);
      found.narrowest = std::min(found.narrowest, gap);
      found.widest = std::max(found.widest, gap);
    }
  return found;
}

Flags flags_of(const Bend& bend) {
  return {{"diameter", mm(2 * bend.radius)},
          {"centreline_radius", mm(bend.centreline)},
          {"angle", mm(bend.angle / k_degree)},
          {"pieces", std::to_string(bend.pieces)},
          {"thickness", "10"},
          {"form", "smooth"}};
}

const Bend k_bends[] = {{150, 450, k_pi / 2, 5},       {150, 300, k_pi / 2, 3}, {300, 320, k_pi / 2, 4},
                        {100, 1000, 60 * k_degree, 4}, {157.5, 315, k_pi, 9},   {200, 500, 30 * k_degree, 2}};

}  // namespace

TEST(SmoothElbow, gores_lie_inside_the_metal_and_touch_it) {
  for (const Bend& metal : k_bends) {
    const Fitting fitting = fitting_from("elbow", flags_of(metal));
    SCOPED_TRACE(written("elbow", flags_of(metal)));
    const double radius = 0.5 * fact(fitting, "gore_diameter");
    EXPECT_EQ(fitting.walls[0].sheet.r1(), radius);
    const double centreline = distance(fitting.walls[1].sheet.frame().origin, {metal.centreline, 0, 0});
    const Gaps found = gaps(metal, radius, centreline);
    EXPECT_NEAR(found.narrowest, 0.0, 1e-9);
    // the widest gap lies at the heel in the middle of a gore: (rho + R)(1 - cos a)
    EXPECT_NEAR(found.widest, fact(fitting, "gap_behind_liner"), 1e-9);
    EXPECT_NEAR(fact(fitting, "gap_behind_liner"),
                (metal.centreline + metal.radius) * (1 - std::cos(metal.mitre())), 1e-9);
    // The same from the walls themselves: every point of every middle gore, between its mitres, by its
    // distance from the bend's circle.
    double nearest = 1e300;
    for (std::size_t wall = 1; wall + 1 < fitting.walls.size(); ++wall)
      for (int i = 0; i < 72; ++i)
        for (int k = 0; k <= 8; ++k) {
          const double theta = i * 5 * k_degree;
          const int index = static_cast<int>(wall);
          const double low = liner_end(fitting, index, End::low, theta, 0);
          const double high = liner_end(fitting, index, End::high, theta, 0);
          const Vec3 p = fitting.walls[wall].sheet.point(theta, low + (high - low) * k / 8, 0);
          const double from_centre = std::hypot(p.x - metal.centreline, p.z);
          nearest = std::min(nearest, metal.radius - std::hypot(from_centre - metal.centreline, p.y));
        }
    if (fitting.walls.size() > 2) {
      EXPECT_NEAR(nearest, 0.0, 1e-9);
    }
  }
}

TEST(SmoothElbow, no_larger_gores_fit) {
  // For centreline radii all around the chosen one, the largest radius that stays inside, by bisection over
  // sampled gores, is never larger.
  for (const Bend& metal : k_bends) {
    const Fitting fitting = fitting_from("elbow", flags_of(metal));
    SCOPED_TRACE(written("elbow", flags_of(metal)));
    const double chosen = fitting.walls[0].sheet.r1();
    const double centreline = distance(fitting.walls[0].sheet.frame().origin, {metal.centreline, 0, 0});
    double best = 0.0;
    for (int i = -20; i <= 20; ++i) {
      const double at = centreline + 0.01 * i * metal.radius;
      double low = 0.0;
      double high = metal.radius;
      for (int step = 0; step < 40; ++step) {
        const double middle = 0.5 * (low + high);
        (gaps(metal, middle, at, 36).narrowest >= 0.0 ? low : high) = middle;
      }
      EXPECT_LE(low, chosen + 1e-9);
      best = std::max(best, low);
    }
    EXPECT_NEAR(best, chosen, 1e-9);
  }
}

TEST(SmoothElbow, pieces_for_a_gap_limit) {
  // The least n with (rho + R)(1 - cos(A / (2 (n - 1)))) at most the limit, by trying.
  const Bend metal{150, 450, k_pi / 2, 5};
  for (const double limit : {0.5, 3.0, 11.0, 12.0, 20.0}) {
    const Fitting fitting = fitting_from("elbow", with(flags_of(metal), {{"gap_limit", mm(limit)}}));
    int fewest = 5;  // the tool does not offer fewer than asked for
    const auto gap = [&](int n) { return 600 * (1 - std::cos(k_pi / 2 / (2.0 * (n - 1)))); };
    while (gap(fewest) > limit) ++fewest;
    EXPECT_EQ(fact(fitting, "pieces_for_gap_limit"), fewest) << limit;
    // the step at the heels, 11.53 mm too, is more than these 10 mm of liner
    ASSERT_EQ(fitting.warnings.size(), fewest > 5 ? 2U : 1U) << limit;
    EXPECT_NE(fitting.warnings[0].find("open to the air"), std::string::npos);
    if (fewest > 5) {
      EXPECT_EQ(fitting.warnings[1], "the gap behind the liner is 11.53 mm, over the limit of " +
                                         trimmed(limit, 2) + " mm: " + std::to_string(fewest) +
                                         " pieces would keep it");
    }
  }
}

TEST(SmoothElbow, is_lined_as_a_mitred_elbow_of_the_gores) {
  // pi rho^2 (2 (n - 1) rho' tan a + collars) with the gores' radii.
  const Bend metal{150, 450, k_pi / 2, 5};
  const Fitting fitting = fitting_from("elbow", with(flags_of(metal), {{"collar", "60"}}));
  const double heel = 600 * std::cos(11.25 * k_degree);
  const double radius = 0.5 * (heel - 300);
  const double centreline = 0.5 * (heel + 300);
  const double length = 8 * centreline * std::tan(11.25 * k_degree) + 120;
  EXPECT_NEAR(fact(fitting, "gore_diameter"), 2 * radius, 1e-9);
  for (const double w : {0.0, 10.0})
    EXPECT_NEAR(shell_volume(fitting, w) / (k_pi * square(radius - w) * length), 1.0, 1e-10);
  ASSERT_TRUE(fitting.pressed.has_value());
  EXPECT_EQ(fitting.pressed->radius, 150);
  EXPECT_EQ(fitting.pressed->centreline_radius, 450);
  EXPECT_NEAR(fitting.pressed->angle, k_pi / 2, 1e-15);
  EXPECT_EQ(fitting.pressed->low_collar, 60);
  const Station& end = fitting.passages.at(0).stations.front();
  EXPECT_EQ(end.bare_diameter, 300);
  EXPECT_NEAR(end.lined_diameter, 2 * (radius - 10), 1e-9);
  EXPECT_FALSE(fitting_from("elbow", with(flags_of(metal), {{"form", "gored"}})).pressed.has_value());
}

namespace {

// The centreline of an S of two bends of angle A and radius rho with L between them, as its nearest point to
// p: on the first arc, on the straight, or on the second.
double from_centreline(double rho, double A, double L, Vec3 p) {
  const auto arc = [&](Vec3 q) {  // of a bend that begins at the origin along z and turns toward x
    const double at = std::clamp(std::atan2(q.z, rho - q.x), 0.0, A);
    return distance(q, {rho * (1 - std::cos(at)), 0, rho * std::sin(at)});
  };
  const Vec3 along{std::sin(A), 0, std::cos(A)};
  const Vec3 from{rho * (1 - std::cos(A)), 0, rho * std::sin(A)};
  const double on = std::clamp(dot(p - from, along), 0.0, L);
  // the second arc is the first, seen from the far end backwards
  const Vec3 end{2 * from.x + L * along.x, 0, 2 * from.z + L * along.z};
  return std::min({arc(p), distance(p, from + on * along), arc(end - p)});
}

const Flags k_smooth_offset{
    {"diameter", "300"}, {"centreline_radius", "450"}, {"angle", "50"},   {"offset", "500"},
    {"pieces", "3"},     {"thickness", "20"},          {"form", "smooth"}};

}  // namespace

// (rho + R') / cos a = rho + R at the heels' mitres; in the throat on the same planes 2 rho (1 / cos a - 1)
// are left.
TEST(SmoothOffset, gores_lie_inside_the_metal_and_touch_it) {
  for (const char* pieces : {"2", "3", "5"})
    for (const char* offset : {"330", "900"}) {
      const Fitting fitting =
          fitting_from("offset", with(k_smooth_offset, {{"pieces", pieces}, {"offset", offset}}));
      const double A = 50 * k_degree;
      const double a = A / (2 * (pieces[0] - '1'));
      const double L = (std::stod(offset) - 900 * (1 - std::cos(A))) / std::sin(A);
      EXPECT_NEAR(0.5 * fact(fitting, "gore_diameter"), 600 * std::cos(a) - 450, 1e-9);
      double nearest = 1e300;
      double widest = -1e300;
      for (int wall = 0; wall < static_cast<int>(fitting.walls.size()); ++wall)
        for (int i = 0; i < 72; ++i)
          for (int k = 0; k <= 40; ++k) {
            const double theta = i * 5 * k_degree;
            const double low = liner_end(fitting, wall, End::low, theta, 0);
            const double high = liner_end(fitting, wall, End::high, theta, 0);
            const Vec3 p = fitting.wall(wall).sheet.point(theta, low + (high - low) * k / 40, 0);
            const double gap = 150 - from_centreline(450, A, L, p);
            nearest = std::min(nearest, gap);
            widest = std::max(widest, gap);
          }
      EXPECT_NEAR(nearest, 0.0, 1e-9) << pieces << ' ' << offset;
      EXPECT_NEAR(widest, fact(fitting, "gap_behind_liner"), 1e-9) << pieces << ' ' << offset;
      EXPECT_NEAR(widest, 900 * (1 / std::cos(a) - 1), 1e-9);
      EXPECT_NEAR(fact(fitting, "exposed_step"), 600 * (1 - std::cos(a)), 1e-9);
    }
}

// Pappus: the ring's area times the way of its centre, 2 A rho + L and the collars; ends as a gored one's.
TEST(SmoothOffset, its_metal_is_pressed) {
  const Flags flags = with(k_smooth_offset, {{"collar", "40"}, {"gauge", "1.2"}});
  const Fitting fitting = fitting_from("offset", flags);
  const Fitting gored = fitting_from("offset", with(flags, {{"form", "gored"}}));
  const double A = 50 * k_degree;
  const double L = (500 - 900 * (1 - std::cos(A))) / std::sin(A);
  const double way = 2 * A * 450 + L + 80;
  EXPECT_NEAR(metal_volume(fitting), k_pi * 1.2 * 301.2 * way, 1e-6);
  EXPECT_NEAR(metal_area(fitting), k_pi * 300 * way, 1e-6);
  ASSERT_TRUE(fitting.pressed.has_value());
  EXPECT_NEAR(centreline_of(*fitting.pressed), way, 1e-9);
  EXPECT_EQ(bends_of(*fitting.pressed).size(), 2u);
  const std::vector<Port> pressed = ports_of(fitting);
  const std::vector<Port> mitred = ports_of(gored);
  for (std::size_t i = 0; i < 2; ++i) {
    EXPECT_NEAR(distance(pressed[i].frame.origin, mitred[i].frame.origin), 0.0, 1e-9);
    EXPECT_NEAR(distance(pressed[i].frame.z, mitred[i].frame.z), 0.0, 1e-12);
    EXPECT_NEAR(distance(pressed[i].frame.x, mitred[i].frame.x), 0.0, 1e-12);
    EXPECT_EQ(pressed[i].bare_diameter, 300);
  }
  for (const AirTurn& turn : fitting.passages.front().turns) {
    EXPECT_EQ(turn.metal_mitres, 0);
    EXPECT_EQ(turn.liner_mitres, 2);
  }
}

TEST(SmoothOffset, what_cannot_be) {
  const auto said = [](const Flags& more) { return refusal("offset", with(k_smooth_offset, more)); };
  // 2 rho (1 - cos A) = 321.49 without anything between the bends
  EXPECT_TRUE(has(said({{"offset", "321"}}), "the two pressed bends would overlap by"))
      << said({{"offset", "321"}});
  EXPECT_EQ(said({{"offset", "322"}}), "(made)");
  EXPECT_EQ(said({{"offset", "321"}, {"form", "gored"}}), "(made)");
  EXPECT_TRUE(has(said({{"hold_back_end", "20"}}), "stand free of the metal"));
  EXPECT_TRUE(has(said({{"form", "gored"}, {"gap_limit", "5"}}), "leaves no gap behind its liner"));
  EXPECT_TRUE(has(said({{"thickness", "148"}}), "the largest gores that fit inside"));
}
