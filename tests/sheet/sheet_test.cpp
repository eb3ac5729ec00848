// The wall formula: rulings, normals, depth, and the way back from a point.
#include "linerwright/sheet/sheet.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <functional>
#include <limits>
#include <stdexcept>

#include "sheet/numeric.hpp"

using namespace linerwright;

namespace {

struct Spot {
  double theta, v, w;
};

Spot random_spot(Dice& dice, const Sheet& sheet) {
  // keep the layer well outside the fold: at most a third of the smaller radius deep
  return {dice.between(-7.0, 7.0), dice.between(0.0, 1.0) * sheet.height(),
          dice.between(-0.05, 0.3) * std::min(sheet.r1(), sheet.r2())};
}

}  // namespace

TEST(Sheet, rulings_join_the_two_circles) {
  // The ruling of theta ends on (offset + r2 cos, r2 sin, height), theta being the same on both circles.
  const Sheet sheet = Sheet::cone(Frame{}, 200, 125, 300, 75);
  for (int i = 0; i < 24; ++i) {
    const double theta = k_two_pi * i / 24;
    const double length = sheet.ruling(theta).length;
    EXPECT_LT(distance(sheet.point(theta, 0, 0), {200 * std::cos(theta), 200 * std::sin(theta), 0}), 1e-12);
    EXPECT_LT(
        distance(sheet.point(theta, length, 0), {75 + 125 * std::cos(theta), 125 * std::sin(theta), 300}),
        1e-12);
  }
}

TEST(Sheet, element_lengths_of_an_oblique_cone) {
  // True length of an element by Pythagoras: sqrt(h^2 + (R - r)^2 + e^2 - 2 e (R - r) cos theta), the method
  // of E. A. Atkins, Practical Sheet and Plate Metal Work, "Tapered Connecting Pipe". R 200, r 125, h 300,
  // e 75 (flat on one side).
  const double length[] = {300.0000, 302.5016, 309.2329, 318.1981, 326.9174, 333.1558, 335.4102};
  const Sheet sheet = Sheet::cone(Frame{}, 200, 125, 300, 75);
  for (int i = 0; i < 12; ++i) {
    const double theta = i * 30.0 * k_degree;
    const double exact = std::sqrt(300.0 * 300 + 75.0 * 75 + 75.0 * 75 - 2 * 75.0 * 75 * std::cos(theta));
    EXPECT_NEAR(sheet.ruling(theta).length, exact, 1e-12);
    EXPECT_NEAR(sheet.ruling(theta).length, length[i <= 6 ? i : 12 - i], 5e-5) << i;
  }
}

TEST(Sheet, normal_is_square_to_the_ruling_and_to_the_surface_all_along_it) {
  Dice dice(1);
  for (int i = 0; i < cases(2000); ++i) {
    const Sheet sheet = random_sheet(dice);
    const Spot at = random_spot(dice, sheet);
    SCOPED_TRACE(describe(sheet) + ", theta " + std::to_string(at.theta));
    const Vec3 normal = sheet.normal(at.theta);
    const Vec3 direction = sheet.direction(at.theta);
    EXPECT_NEAR(norm(normal), 1.0, 1e-14);
    EXPECT_NEAR(norm(direction), 1.0, 1e-14);
    EXPECT_NEAR(dot(normal, direction), 0.0, 1e-14);
    // outward: away from the axis
    const Vec3 radial = sheet.frame().direction({std::cos(at.theta), std::sin(at.theta), 0});
    EXPECT_GT(dot(normal, radial), 0.0);
    // The tangent around, by differences, has no part along n at several places of the ruling and several
    // depths: the surface is developable.
    for (const double share : {0.0, 0.3, 1.0})
      for (const double w : {0.0, at.w}) {
        const double v = share * sheet.ruling(at.theta).length;
        const Vec3 tangent = slope([&](double theta) { return sheet.point(theta, v, w); }, at.theta);
        EXPECT_NEAR(dot(tangent, normal) / norm(tangent), 0.0, 1e-9);
        EXPECT_NEAR(norm(tangent - dot(tangent, direction) * direction), sheet.spread(at.theta, v, w),
                    1e-9 * norm(tangent));
      }
  }
}

TEST(Sheet, slopes_are_the_derivatives) {
  Dice dice(2);
  for (int i = 0; i < cases(500); ++i) {
    const Sheet sheet = random_sheet(dice);
    const double theta = dice.between(-7.0, 7.0);
    SCOPED_TRACE(describe(sheet) + ", theta " + std::to_string(theta));
    const Sheet::Ruling r = sheet.ruling(theta);
    const auto difference = [&](Vec3 Sheet::Ruling::*part) {
      return slope([&](double at) { return sheet.ruling(at).*part; }, theta);
    };
    EXPECT_LT(distance(difference(&Sheet::Ruling::base), r.base_slope), 1e-8 * sheet.r1());
    EXPECT_LT(distance(difference(&Sheet::Ruling::direction), r.direction_slope), 1e-9);
    EXPECT_LT(distance(difference(&Sheet::Ruling::normal), r.normal_slope), 1e-9);
    EXPECT_LT(distance(r.around, cross(r.direction, r.normal)), 1e-15);
    EXPECT_LT(
        distance(Vec3{std::cos(theta), std::sin(theta), r.lean}, std::sqrt(1 + r.lean * r.lean) * r.normal),
        1e-14);
  }
}

TEST(Sheet, depth_is_the_true_distance_from_the_duct_face) {
  // The foot of (theta, v, w) on the duct face is (theta, v, 0), w away; no other place nearby is nearer.
  Dice dice(3);
  for (int i = 0; i < cases(300); ++i) {
    const Sheet sheet = random_sheet(dice);
    const Spot at = random_spot(dice, sheet);
    SCOPED_TRACE(describe(sheet) + ", theta " + std::to_string(at.theta) + ", w " + std::to_string(at.w));
    const Vec3 deep = sheet.point(at.theta, at.v, at.w);
    EXPECT_NEAR(distance(deep, sheet.point(at.theta, at.v, 0)), std::fabs(at.w), 1e-10);
    for (int k = 0; k < 100; ++k) {
      const Vec3 other =
          sheet.point(at.theta + dice.between(-0.5, 0.5), at.v + dice.between(-0.5, 0.5) * sheet.height(), 0);
      EXPECT_GT(distance(deep, other), std::fabs(at.w) - 1e-10);
    }
  }
}

TEST(Sheet, cylinder_layers_are_concentric) {
  Dice dice(4);
  const Sheet sheet = Sheet::cylinder(Frame{}, 157.5);
  for (int i = 0; i < cases(200); ++i) {
    const Spot at = random_spot(dice, sheet);
    const Vec3 expected{(157.5 - at.w) * std::cos(at.theta), (157.5 - at.w) * std::sin(at.theta), at.v};
    EXPECT_LT(distance(sheet.point(at.theta, at.v, at.w), expected), 1e-12);
    EXPECT_NEAR(sheet.spread(at.theta, at.v, at.w), 157.5 - at.w, 1e-12);
  }
}

TEST(Sheet, lining_a_taper_costs_thickness_over_cosine_in_radius) {
  // 400 to 250 over 300: half angle atan(75/300) = 14.036243 degrees; t = 25 along the normal takes
  // t / cos(half angle) = 25.769410 mm of radius at the same axial station.
  const Sheet sheet = Sheet::cone(Frame{}, 200, 125, 300);
  const double half_angle = std::atan2(75.0, 300.0);
  EXPECT_NEAR(half_angle / k_degree, 14.036243, 5e-7);
  EXPECT_NEAR(25.0 / std::cos(half_angle), 25.769410, 5e-7);
  for (const double z : {20.0, 150.0, 280.0}) {
    const Vec3 p = sheet.point(1.0, sheet.v_at_height(1.0, z, 25.0), 25.0);
    EXPECT_NEAR(p.z, z, 1e-12);
    EXPECT_NEAR(std::hypot(p.x, p.y), 200 - 75 * z / 300 - 25.0 / std::cos(half_angle), 1e-12);
  }
}

TEST(Sheet, a_point_finds_its_ruling_again) {
  Dice dice(5);
  int checked = 0;
  for (int i = 0; i < cases(3000); ++i) {
    const Sheet sheet = random_sheet(dice);
    if (sheet.offset() != 0.0) continue;
    const Spot at = random_spot(dice, sheet);
    SCOPED_TRACE(describe(sheet));
    const Sheet::Place place = sheet.locate(sheet.point(at.theta, at.v, at.w), at.w);
    EXPECT_NEAR(std::remainder(place.theta - at.theta, k_two_pi), 0.0, 1e-10);
    EXPECT_LE(std::fabs(place.theta), k_pi);
    EXPECT_NEAR(place.v, at.v, 1e-9);
    ++checked;
  }
  EXPECT_GT(checked, cases(3000) / 3);
}

TEST(Sheet, only_an_oblique_cone_has_no_closed_way_back) {
  const Sheet oblique = Sheet::cone(Frame{}, 200, 125, 300, 75);
  EXPECT_THROW(oblique.locate({200, 0, 0}, 0), std::logic_error);
  EXPECT_NO_THROW(Sheet::cone(Frame{}, 200, 125, 300).locate({200, 0, 0}, 0));
  EXPECT_TRUE(Sheet::cylinder(Frame{}, 5).is_cylinder());
  EXPECT_FALSE(oblique.is_right_cone());
  EXPECT_FALSE(oblique.is_cylinder());
  // equal circles moved sideways: an oblique cylinder, which is neither
  EXPECT_FALSE(Sheet::cone(Frame{}, 200, 200, 300, 75).is_cylinder());
}

TEST(Sheet, height_along_the_axis_gives_the_place_on_the_ruling) {
  Dice dice(6);
  for (int i = 0; i < cases(500); ++i) {
    const Sheet sheet = random_sheet(dice);
    const Spot at = random_spot(dice, sheet);
    SCOPED_TRACE(describe(sheet));
    const double z = dice.between(-0.2, 1.2) * sheet.height();
    const Vec3 p = sheet.point(at.theta, sheet.v_at_height(at.theta, z, at.w), at.w);
    EXPECT_NEAR(sheet.frame().local_point(p).z, z, 1e-9);
  }
}

TEST(Sheet, radii_and_heights_must_be_positive_and_finite) {
  const double k_nan = std::numeric_limits<double>::quiet_NaN();
  const double k_infinity = std::numeric_limits<double>::infinity();
  for (const double bad : {0.0, -1.0, k_nan, k_infinity}) {
    EXPECT_THROW(Sheet::cylinder(Frame{}, bad), std::invalid_argument) << bad;
    EXPECT_THROW(Sheet::cone(Frame{}, bad, 5, 10), std::invalid_argument) << bad;
    EXPECT_THROW(Sheet::cone(Frame{}, 5, bad, 10), std::invalid_argument) << bad;
    EXPECT_THROW(Sheet::cone(Frame{}, 5, 4, bad), std::invalid_argument) << bad;
  }
  EXPECT_THROW(Sheet::cone(Frame{}, 5, 4, 10, k_nan), std::invalid_argument);
  EXPECT_THROW(Sheet::cone(Frame{}, 5, 4, 10, k_infinity), std::invalid_argument);
  EXPECT_NO_THROW(Sheet::cone(Frame{}, 5, 4, 10, -2.0));
}
