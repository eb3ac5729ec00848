// Unrolling keeps lengths and areas on the reference fibre, for any sheet, seam and allowance.
#include <gtest/gtest.h>

#include <algorithm>
#include <stdexcept>

#include "linerwright/sheet/sheet.hpp"
#include "sheet/numeric.hpp"

using namespace linerwright;

namespace {

struct Setting {
  Sheet sheet;
  double depth, scale, seam;
  std::string text() const {
    return describe(sheet) + ", depth " + std::to_string(depth) + ", scale " + std::to_string(scale) +
           ", seam " + std::to_string(seam);
  }
};

Setting random_setting(Dice& dice, bool scaled) {
  const Sheet sheet = random_sheet(dice);
  return {sheet, dice.between(-0.02, 0.25) * std::min(sheet.r1(), sheet.r2()),
          scaled ? dice.between(0.9, 1.0) : 1.0, dice.between(-k_pi, k_pi)};
}

// A random smooth curve on the sheet: theta and v as functions of u in [0, 1].
struct Curve {
  double theta0, theta1, wave, v0, v1, swing;
  double theta(double u) const { return theta0 + (theta1 - theta0) * u + wave * std::sin(7 * u); }
  double v(double u) const { return v0 + (v1 - v0) * u + swing * std::cos(5 * u); }
};

Curve random_curve(Dice& dice, const Setting& on) {
  const double h = on.sheet.height();
  return {on.seam + dice.between(0.3, 6.0), on.seam + dice.between(0.3, 6.0), dice.between(0.0, 0.25),
          dice.between(0.2, 0.8) * h,       dice.between(0.2, 0.8) * h,       dice.between(0.0, 0.2) * h};
}

}  // namespace

TEST(Isometry, curves_keep_their_length) {
  Dice dice(21);
  for (int i = 0; i < cases(200); ++i) {
    const Setting on = random_setting(dice, false);
    const Development flat(on.sheet, on.depth, on.scale, on.seam);
    const Curve curve = random_curve(dice, on);
    SCOPED_TRACE(on.text());
    const auto in_space = [&](double u) { return on.sheet.point(curve.theta(u), curve.v(u), on.depth); };
    const auto on_board = [&](double u) { return flat.point(curve.theta(u), curve.v(u)); };
    const double space_length = integrate([&](double u) { return norm(slope(in_space, u)); }, 0, 1, 4);
    const double board_length = integrate([&](double u) { return norm(slope(on_board, u)); }, 0, 1, 4);
    EXPECT_NEAR(board_length, space_length, 1e-8 * space_length);
  }
}

TEST(Isometry, angles_and_scale_at_every_place) {
  // At any place the board's metric is the wall's, with the way square to the ruling times `scale`.
  Dice dice(22);
  for (int i = 0; i < cases(1000); ++i) {
    const Setting on = random_setting(dice, true);
    const Development flat(on.sheet, on.depth, on.scale, on.seam);
    SCOPED_TRACE(on.text());
    const double theta = on.seam + dice.between(0.0, k_two_pi);
    const double v = dice.between(0.0, 1.0) * on.sheet.height();
    const Vec3 around_wall = slope([&](double t) { return on.sheet.point(t, v, on.depth); }, theta);
    const Vec2 around_board = slope([&](double t) { return flat.point(t, v); }, theta);
    const Vec2 ruling = flat.point(theta, v + 1) - flat.point(theta, v);
    const double size = norm(around_wall);
    EXPECT_NEAR(norm(ruling), 1.0, 1e-10);
    EXPECT_NEAR(dot(around_board, ruling), dot(around_wall, on.sheet.direction(theta)), 1e-8 * size);
    EXPECT_NEAR(cross(around_board, ruling), on.scale * on.sheet.spread(theta, v, on.depth), 1e-8 * size);
  }
}

TEST(Isometry, areas_are_kept_times_scale) {
  // Area between v = 0 and v = 0.9 h and between two rulings: Green's theorem on the board, integral of the
  // spread on the wall.
  Dice dice(23);
  for (int i = 0; i < cases(100); ++i) {
    const Setting on = random_setting(dice, true);
    const Development flat(on.sheet, on.depth, on.scale, on.seam);
    SCOPED_TRACE(on.text());
    const double from = on.seam;
    const double to = on.seam + dice.between(1.0, k_two_pi);
    const double top = 0.9 * on.sheet.height();
    const auto green = [&](double v) {
      return integrate(
          [&](double theta) {
            const auto at = [&](double t) { return flat.point(t, v); };
            return 0.5 * cross(at(theta), slope(at, theta));
          },
          from, to, 40);
    };
    const double board = green(0.0) + 0.5 * cross(flat.point(to, 0), flat.point(to, top)) - green(top) -
                         0.5 * cross(flat.point(from, 0), flat.point(from, top));
    const double wall = integrate(
        [&](double theta) {
          return 0.5 * top * (on.sheet.spread(theta, 0, on.depth) + on.sheet.spread(theta, top, on.depth));
        },
        from, to, 40);
    EXPECT_NEAR(board, on.scale * wall, 1e-8 * wall);
  }
}

TEST(Isometry, another_seam_only_moves_the_board) {
  Dice dice(24);
  for (int i = 0; i < cases(200); ++i) {
    const Setting on = random_setting(dice, true);
    SCOPED_TRACE(on.text());
    const double shift = dice.between(0.2, 3.0);
    const Development one(on.sheet, on.depth, on.scale, on.seam);
    const Development other(on.sheet, on.depth, on.scale, on.seam + shift);
    struct Spot {
      double theta, v;
    };
    const auto spot = [&] {
      return Spot{on.seam + dice.between(shift, k_two_pi), dice.between(0, 1) * on.sheet.height()};
    };
    for (int k = 0; k < 10; ++k) {
      const Spot a = spot();
      const Spot b = spot();
      const Spot c = spot();
      const Vec2 one_ab = one.point(b.theta, b.v) - one.point(a.theta, a.v);
      const Vec2 one_ac = one.point(c.theta, c.v) - one.point(a.theta, a.v);
      const Vec2 other_ab = other.point(b.theta, b.v) - other.point(a.theta, a.v);
      const Vec2 other_ac = other.point(c.theta, c.v) - other.point(a.theta, a.v);
      const double size = on.sheet.height() + on.sheet.r1() + on.sheet.r2();
      EXPECT_NEAR(norm(other_ab), norm(one_ab), 1e-10 * size);
      EXPECT_NEAR(cross(other_ab, other_ac), cross(one_ab, one_ac), 1e-9 * size * size);  // never mirrored
      EXPECT_NEAR(other.lean(b.theta) - other.lean(a.theta), one.lean(b.theta) - one.lean(a.theta), 1e-11);
    }
    // a full turn later the board repeats itself, moved
    EXPECT_NEAR(one.lean(on.seam + k_two_pi + 0.1) - one.lean(on.seam + k_two_pi),
                one.lean(on.seam + 0.1) - one.lean(on.seam), 1e-11);
  }
}

TEST(Isometry, a_flat_point_finds_its_place_on_the_wall_again) {
  Dice dice(25);
  for (int i = 0; i < cases(500); ++i) {
    const Setting on = random_setting(dice, true);
    const Development flat(on.sheet, on.depth, on.scale, on.seam);
    SCOPED_TRACE(on.text());
    for (int k = 0; k < 10; ++k) {
      const double theta = on.seam + dice.between(0.0, k_two_pi);
      const double v = dice.between(0.0, 1.0) * on.sheet.height();
      const Sheet::Place place = flat.place(flat.point(theta, v), theta + dice.between(-0.15, 0.15));
      EXPECT_NEAR(place.theta, theta, 1e-11);
      EXPECT_NEAR(place.v, v, 1e-8);
    }
  }
}

TEST(Isometry, stretch_out_of_a_layer_is_its_girth) {
  // Girth of layer w at the base circle of a right cone: 2 pi (r1 - w cos phi) times scale, measured on the
  // board as the arc about the sector's centre.
  Dice dice(26);
  for (int i = 0; i < cases(200); ++i) {
    const double r1 = dice.between(100, 600);
    const double r2 = r1 * dice.between(0.4, 0.9);
    const Sheet sheet = Sheet::cone(Frame{}, r1, r2, dice.between(0.5, 2.0) * r1);
    const double w = dice.between(0.0, 0.2) * r2;
    const double scale = dice.between(0.9, 1.0);
    SCOPED_TRACE(describe(sheet));
    const Development flat(sheet, w, scale, 0.0, true);
    const double cos_phi = sheet.height() / std::hypot(sheet.height(), r1 - r2);
    const double girth = integrate(
        [&](double theta) { return norm(slope([&](double t) { return flat.point(t, 0); }, theta)); }, 0,
        k_two_pi, 40);
    EXPECT_NEAR(girth, scale * k_two_pi * (r1 - w * cos_phi), 1e-9 * girth);
  }
}
