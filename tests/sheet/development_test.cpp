// Unrolling against the pattern books: rectangles, sectors, tapers with a flat side.
#include <gtest/gtest.h>

#include <stdexcept>

#include "linerwright/sheet/sheet.hpp"
#include "sheet/numeric.hpp"

using namespace linerwright;

namespace {

struct Sector {
  double inner, outer, degrees, slant, area;
};

// The sector as the board shows it: lines through the two edges meet in the apex.
Sector sector_of(const Sheet& sheet, bool general) {
  const Development flat(sheet, 0.0, 1.0, 0.0, general);
  const double slant = sheet.ruling(0).length;
  const Vec2 a0 = flat.point(0, 0);
  const Vec2 a1 = flat.point(0, slant);
  const Vec2 b0 = flat.point(k_two_pi, 0);
  const Vec2 b1 = flat.point(k_two_pi, slant);
  const Vec2 da = (1.0 / slant) * (a1 - a0);
  const Vec2 db = (1.0 / slant) * (b1 - b0);
  const double to_apex = cross(b0 - a0, db) / cross(da, db);
  const double near = std::fabs(to_apex);
  const double far = std::fabs(to_apex - slant);
  // the angle the edge sweeps, beyond half a turn too: summed over quarters
  double turned = 0.0;
  for (int i = 0; i < 4; ++i) turned += flat.lean(k_pi / 2 * (i + 1)) - flat.lean(k_pi / 2 * i);
  Sector sector{std::min(near, far), std::max(near, far), std::fabs(turned) / k_degree, slant, 0.0};
  // the edges' directions agree with the leans
  EXPECT_NEAR(distance(db, {std::sin(flat.lean(k_two_pi)), std::cos(flat.lean(k_two_pi))}), 0.0, 1e-12);
  // shoelace area of the outline, chords fine enough for 1e-9
  Vec2 previous = a0;
  const auto step_to = [&](Vec2 p) {
    sector.area += 0.5 * cross(previous, p);
    previous = p;
  };
  constexpr int k_steps = 40000;
  for (int i = 1; i <= k_steps; ++i) step_to(flat.point(k_two_pi * i / k_steps, 0));
  for (int i = k_steps; i >= 0; --i) step_to(flat.point(k_two_pi * i / k_steps, slant));
  step_to(a0);
  return sector;
}

Sheet frustum(double large, double small, double height) {
  return Sheet::cone(Frame{}, large / 2, small / 2, height);
}

}  // namespace

TEST(Development, cylinder_is_a_rectangle) {
  // x = (R - w) theta, y = v.
  for (const bool general : {false, true})
    for (const double w : {0.0, 6.25, -0.8}) {
      const Development flat(Sheet::cylinder(Frame{}, 157.5), w, 1.0, 0.0, general);
      for (int i = 0; i <= 16; ++i) {
        const double theta = k_two_pi * i / 16;
        EXPECT_LT(distance(flat.point(theta, 40.0), {(157.5 - w) * theta, 40.0}), 1e-10) << general << i;
        EXPECT_NEAR(flat.lean(theta), 0.0, 1e-14);
      }
    }
  // Girth of Ø315: 989.60169 mm; with the fibre in the middle of a 25 mm board 911.06187 (pi (D - t)).
  const Sheet duct = Sheet::cylinder(Frame{}, 157.5);
  EXPECT_NEAR(Development(duct, 0.0, 1.0, 0.0).point(k_two_pi, 0).x, 989.60169, 5e-6);
  EXPECT_NEAR(Development(duct, 12.5, 1.0, 0.0).point(k_two_pi, 0).x, 911.06187, 5e-6);
}

TEST(Development, frustum_is_a_sector) {
  // s = sqrt(h^2 + (R - r)^2), radii s R/(R - r) and s r/(R - r), angle 360 (R - r)/s degrees, area
  // s (C1 + C2)/2 = pi s (R + r).
  struct Case {
    const char* source;
    double large, small, height;
    double inner, outer, degrees, slant, area;
  };
  const Case all[] = {
      // ceemrr.com, Geometry 2, drawing nets 6: prints 7.12, 11.39 in and 126.4 degrees; the rest computed
      {"ducts of 8 and 5 in, 4 in apart", 8, 5, 4, 7.1200031, 11.392005, 126.40444, 4.2720019, 87.235783},
      // E. M. Longfield, Sheet Metal Drafting, p. 128 (dimensions and method), p. 91 (lateral area)
      {"Longfield p. 128, 6 to 3 in", 6, 3, 3, 3.3541020, 6.7082039, 160.99689, 3.3541020, 47.417499},
      {"Longfield problem 30B, 8 to 4 in", 8, 4, 4, 4.4721360, 8.9442719, 160.99689, 4.4721360, 84.297777},
      // the formulas above
      {"400 to 250 mm over 300", 400, 250, 300, 515.38820, 824.62113, 87.312825, 309.23292, 315732.26},
  };
  for (const Case& c : all)
    for (const bool general : {false, true})
      for (const bool widens : {false, true}) {
        SCOPED_TRACE(c.source);
        const Sector got = sector_of(
            widens ? frustum(c.small, c.large, c.height) : frustum(c.large, c.small, c.height), general);
        EXPECT_NEAR(got.inner / c.inner, 1.0, 5e-8);
        EXPECT_NEAR(got.outer / c.outer, 1.0, 5e-8);
        EXPECT_NEAR(got.degrees / c.degrees, 1.0, 5e-8);
        EXPECT_NEAR(got.slant / c.slant, 1.0, 5e-8);
        EXPECT_NEAR(got.area / c.area, 1.0, 5e-8);
        const double R = c.large / 2;
        const double r = c.small / 2;
        const double s = std::hypot(c.height, R - r);
        EXPECT_NEAR(got.outer, s * R / (R - r), 1e-9 * got.outer);
        EXPECT_NEAR(got.degrees, 360 * (R - r) / s, 1e-9 * got.degrees);
      }
}

TEST(Development, published_sector_of_two_ducts) {
  // The printed figures themselves: 7.12 in, 11.39 in, 126.4 degrees (ceemrr.com, Geometry 2, drawing nets
  // 6).
  const Sector got = sector_of(frustum(8, 5, 4), false);
  EXPECT_NEAR(got.inner, 7.12, 0.005);
  EXPECT_NEAR(got.outer, 11.39, 0.005);
  EXPECT_NEAR(got.degrees, 126.4, 0.05);
}

TEST(Development, nearly_complete_cones_of_the_pattern_books) {
  // A frustum with a hair's breadth of a top stands for the cone: sector = 360 r / slant.
  // Longfield chapter V: base 4 in, altitude 7 in: slant 7.2801099 in, 98.899606 degrees; mathforum.org
  // 65796: apex of 90 degrees, 0.7071 x 360 = 254.6 degrees.
  const auto sector = [](double base, double altitude) {
    const double cut = 1e-6;  // share of the cone taken off at the top
    return sector_of(Sheet::cone(Frame{}, base / 2, cut * base / 2, altitude * (1 - cut)), true);
  };
  EXPECT_NEAR(sector(4, 7).outer, 7.2801099, 5e-8);
  EXPECT_NEAR(sector(4, 7).degrees, 98.899606, 5e-7);
  EXPECT_NEAR(sector(10, 5).degrees, 254.55844, 5e-6);
  EXPECT_NEAR(sector(10, 5).degrees, 254.6, 0.05);
}

TEST(Development, general_integral_meets_the_closed_sector) {
  Dice dice(11);
  for (int i = 0; i < cases(300); ++i) {
    const double r1 = dice.between(50, 1000);
    const Sheet sheet =
        Sheet::cone(random_frame(dice), r1, r1 * dice.between(0.3, 2.0), r1 * dice.between(0.2, 4.0));
    const double w = dice.between(-0.01, 0.2) * r1;
    const double scale = dice.between(0.9, 1.0);
    const double seam = dice.between(-k_pi, k_pi);
    SCOPED_TRACE(describe(sheet));
    const Development closed(sheet, w, scale, seam);
    const Development general(sheet, w, scale, seam, true);
    for (int k = 0; k < 20; ++k) {
      const double theta = seam + dice.between(-0.2, k_two_pi + 0.2);
      const double v = dice.between(0, 1) * sheet.height();
      EXPECT_LT(distance(closed.point(theta, v), general.point(theta, v)), 1e-6);
      EXPECT_LT(distance(closed.point(theta, v), general.point(theta, v)), 1e-11 * r1);
      EXPECT_NEAR(closed.lean(theta), general.lean(theta), 1e-12);
    }
  }
}

TEST(Development, taper_with_a_flat_side_by_triangles_from_its_apex) {
  // R 200, r 125, h 300, e 75: the apex stands at height H = h R/(R - r) = 800 over x = e R/(R - r) = 200. On
  // the board the apex sees the large circle's point at the element's length l, and the angle between
  // elements grows by sqrt(ds^2 - dl^2)/l, with l^2 = H^2 + R^2 + a^2 - 2 a R cos theta and ds = R dtheta: an
  // independent way to the same board.
  const Sheet sheet = Sheet::cone(Frame{}, 200, 125, 300, 75);
  const double H = 800;
  const double a = 200;
  const double R = 200;
  const auto length = [&](double theta) {
    return std::sqrt(H * H + R * R + a * a - 2 * a * R * std::cos(theta));
  };
  const auto turn = [&](double theta) {
    const double dl = a * R * std::sin(theta) / length(theta);
    return std::sqrt(R * R - dl * dl) / length(theta);
  };
  for (const double seam : {0.0, k_pi}) {
    const Development flat(sheet, 0.0, 1.0, seam);
    // from the seam's line: apex on the y axis at the seam's element length
    const Vec2 apex{0.0, length(seam)};
    for (int i = 0; i <= 12; ++i) {
      const double theta = seam + i * 30 * k_degree;
      const double angle = integrate(turn, seam, theta, 50);
      const Vec2 expected = apex - length(theta) * Vec2{-std::sin(angle), std::cos(angle)};
      EXPECT_LT(distance(flat.point(theta, 0), expected), 1e-9) << i;
      EXPECT_NEAR(flat.lean(theta), -angle, 1e-12);
    }
  }
}

TEST(Development, area_of_a_taper_with_a_flat_side) {
  // Lateral area = R/2 closed integral of sqrt(H^2 + (R - a cos phi)^2) dphi (1 - (r/R)^2) = 320 068.54 mm^2
  // (H, a: height and offset of the apex), from triangles under the elements.
  const double oracle = 0.5 * 200 *
                        around([](double phi) { return std::hypot(800.0, 200 - 200 * std::cos(phi)); }, 400) *
                        (1 - (125.0 / 200) * (125.0 / 200));
  EXPECT_NEAR(oracle, 320068.54, 0.005);
  const Sheet sheet = Sheet::cone(Frame{}, 200, 125, 300, 75);
  // in space: integral of the spread over each ruling, linear in v
  const double in_space = around(
      [&](double theta) {
        const double length = sheet.ruling(theta).length;
        return 0.5 * length * (sheet.spread(theta, 0, 0) + sheet.spread(theta, length, 0));
      },
      400);
  EXPECT_NEAR(in_space, oracle, 1e-7);
  // on the board: Green's theorem around the outline, slopes by differences
  const Development flat(sheet, 0.0, 1.0, k_pi);
  const auto along = [&](bool high) {
    return integrate(
        [&](double theta) {
          const auto at = [&](double t) { return flat.point(t, high ? sheet.ruling(t).length : 0.0); };
          return 0.5 * cross(at(theta), slope(at, theta));
        },
        k_pi, 3 * k_pi, 60);
  };
  const double length = sheet.ruling(k_pi).length;
  const double edges = 0.5 * cross(flat.point(3 * k_pi, 0), flat.point(3 * k_pi, length)) -
                       0.5 * cross(flat.point(k_pi, 0), flat.point(k_pi, length));
  EXPECT_NEAR(along(false) + edges - along(true), oracle, 1e-6);
}

TEST(Development, board_is_seen_from_outside_with_the_seam_at_zero) {
  // x runs with theta, y up the ruling: at the seam the images of d(theta) and dv are (+x, +y).
  Dice dice(12);
  for (int i = 0; i < cases(200); ++i) {
    const Sheet sheet = random_sheet(dice);
    const double seam = dice.between(-7, 7);
    const Development flat(sheet, 0.1 * std::min(sheet.r1(), sheet.r2()), 0.97, seam);
    SCOPED_TRACE(describe(sheet));
    EXPECT_LT(norm(flat.point(seam, 0)), 1e-12);
    EXPECT_LT(distance(flat.point(seam, 33), {0, 33}), 1e-12);
    EXPECT_NEAR(flat.lean(seam), 0.0, 1e-14);
    EXPECT_EQ(flat.seam(), seam);
    EXPECT_EQ(flat.scale(), 0.97);
    const double theta = seam + dice.between(0, k_two_pi);
    const Vec2 step = slope([&](double t) { return flat.point(t, 0); }, theta);
    const Vec2 up = flat.point(theta, 1) - flat.point(theta, 0);
    EXPECT_GT(cross(step, up), 0.0);
    EXPECT_GT(flat.point(seam + 0.01, 0).x, 0.0);
    // seen from outside: around x along = outward
    EXPECT_GT(dot(cross(slope([&](double t) { return sheet.point(t, 0, 0); }, theta), sheet.direction(theta)),
                  sheet.normal(theta)),
              0.0);
  }
}
