// Branch on body: the curve of two cylinders, and of a cone and a cylinder.
#include <gtest/gtest.h>

#include "joint/joints.hpp"
#include "linerwright/units/error.hpp"
#include "support/elliptic.hpp"

using namespace linerwright;

namespace {

// Where a branch's ruling at depth w leaves the body's cylinder at that depth, by bisection from far outside
// down to the ruling's nearest point to the body's axis.
double by_bisection(const Joint& joint, double theta, DepthPair depths) {
  const Sheet& body = joint.follow[0];
  const double rho = body.r1() - depths.follow;
  const auto outside = [&](double v) {
    return distance_from_axis(body, joint.lead.point(theta, v, depths.lead)) - rho;
  };
  double high = 20 * body.r1();
  double low = -20 * body.r1();
  for (int i = 0; i < 400; ++i) {  // ternary search for the nearest point
    const double a = low + (high - low) / 3;
    const double b = high - (high - low) / 3;
    (outside(a) < outside(b) ? high : low) = outside(a) < outside(b) ? b : a;
  }
  low = 0.5 * (low + high);
  high = 20 * body.r1();
  for (int i = 0; i < 100; ++i) {
    const double middle = 0.5 * (low + high);
    (outside(middle) > 0 ? high : low) = middle;
  }
  return 0.5 * (low + high);
}

}  // namespace

TEST(Saddle, tee_of_150_and_100) {
  // w = sqrt(R^2 - r^2 sin^2 phi) from the body's axis; saddle depth R - sqrt(R^2 - r^2).
  const Joint joint = saddle_joint(150, 100);
  const double height[] = {150.0000, 141.4214, 122.4745, 111.8034};
  for (int i = 0; i < 12; ++i) {
    const int quarter = i % 6 <= 3 ? i % 6 : 6 - i % 6;
    EXPECT_NEAR(height_on_lead(joint, i * 30 * k_degree, shell_depths(0)), height[quarter], 5e-5) << i;
  }
  const double depth =
      height_on_lead(joint, 0, shell_depths(0)) - height_on_lead(joint, k_pi / 2, shell_depths(0));
  EXPECT_NEAR(depth, 38.196601, 5e-7);
  EXPECT_NEAR(depth, 150 - std::sqrt(150.0 * 150 - 100.0 * 100), 1e-12);
  // lined with 25: the same curve with both radii less 25
  for (int i = 0; i < 12; ++i) {
    const double phi = i * 30 * k_degree;
    EXPECT_NEAR(height_on_lead(joint, phi, shell_depths(25)),
                std::sqrt(125.0 * 125 - 75.0 * 75 * std::sin(phi) * std::sin(phi)), 1e-12);
  }
}

TEST(Saddle, lateral_of_150_and_100_at_45_degrees) {
  // w = (sqrt(R^2 - r^2 sin^2 phi) + r cos phi cos beta) / sin beta; phi = 0 on the crotch's side.
  const double height[] = {312.1320, 286.6025, 223.2051, 158.1139, 123.2051, 113.3975, 112.1320};
  const Joint joint = saddle_joint(150, 100, 45 * k_degree);
  for (int i = 0; i < 12; ++i)
    EXPECT_NEAR(height_on_lead(joint, i * 30 * k_degree, shell_depths(0)), height[i <= 6 ? i : 12 - i], 5e-5)
        << i;
}

TEST(Saddle, equal_cylinders_meet_in_two_ellipses) {
  // The Steinmetz curve of equal radii lies in the planes height = +-(distance along the body); with t the
  // branch's angle the height is r |cos t| (en.wikipedia.org, Steinmetz curve: x = a cos t, y = +-sqrt(b^2 -
  // a^2 sin^2 t), z = a sin t, here a = b).
  const Joint joint = saddle_joint(100, 100);
  for (int i = 0; i < 360; ++i) {
    const double s = i * k_degree;
    const Vec3 p = point_of(joint, s, shell_depths(0));
    EXPECT_NEAR(p.x, std::fabs(p.z), 1e-12);
    EXPECT_NEAR(p.x, 100 * std::fabs(std::cos(s)), 1e-12);
    EXPECT_NEAR(p.y * p.y + p.z * p.z, 1e4, 1e-9);
  }
  // Each half turn is half an ellipse with semi-axes r and r sqrt 2; together the perimeter 4 r sqrt 2 E(k^2
  // = 1/2). Slopes stay inside the halves.
  const auto length = [&](double from, double to) {
    return integrate(
        [&](double s) {
          return norm(slope([&](double at) { return point_of(joint, at, shell_depths(0)); }, s, 1e-4));
        },
        from + 1e-3, to - 1e-3, 40);
  };
  const double whole = 4 * 100 * std::sqrt(2.0) * support::elliptic_e(std::sqrt(0.5));
  // the ends left out run along the body at the speed r sqrt 2 within 1e-6
  const double left_out = 4 * 1e-3 * 100 * std::sqrt(2.0);
  EXPECT_NEAR(length(-k_pi / 2, k_pi / 2) + length(k_pi / 2, 1.5 * k_pi) + left_out, whole, 1e-6);
}

TEST(Saddle, unequal_cylinders_follow_the_steinmetz_curve) {
  // a < b: x = a cos t, y = +-sqrt(b^2 - a^2 sin^2 t), z = a sin t (en.wikipedia.org, Steinmetz curve), with
  // the branch along y and the body along x.
  const double a = 60;
  const double b = 150;
  const Joint joint = saddle_joint(b, a);
  for (int i = 0; i < 72; ++i) {
    const double t = 5 * i * k_degree;
    const Vec3 p = point_of(joint, t, shell_depths(0));
    EXPECT_NEAR(p.z, a * std::cos(t), 1e-12);
    EXPECT_NEAR(p.y, -a * std::sin(t), 1e-12);
    EXPECT_NEAR(p.x, std::sqrt(b * b - a * a * std::sin(t) * std::sin(t)), 1e-12);
  }
}

TEST(Saddle, tangent_branch_touches_the_bodys_side) {
  // Offset e = R - r: at the side the ruling grazes the body at its widest, height 0 over the axis; elsewhere
  // y = e + r sin s, height sqrt(R^2 - y^2) = sqrt(r (1 - sin s)(2R - r (1 - sin s))).
  for (const auto& [R, r] : {std::pair{300.0, 100.0}, std::pair{300.0, 299.99}, std::pair{187.3, 61.7}}) {
    const Joint joint = saddle_joint(R, r, k_pi / 2, R - r);
    for (const double w : {0.0, 25.0})
      EXPECT_NEAR(height_on_lead(joint, k_pi / 2, shell_depths(w)), 0.0, 1e-9) << r;
    for (int i = 0; i < 72; ++i) {
      if (i == 18) continue;  // the touching ruling itself
      const double s = 5 * i * k_degree;
      const double left = 2 * std::pow(std::sin(0.5 * (k_pi / 2 - s)), 2);  // 1 - sin s
      const double exact = std::sqrt(r * left * (2 * R - r * left));
      EXPECT_NEAR(height_on_lead(joint, s, shell_depths(0)), exact, 1e-10) << r << ' ' << i;
    }
  }
}

TEST(Saddle, equal_walls_touch_at_their_sides_however_they_are_turned) {
  // Height 0 over the axis at the sides; what rounding leaves of R^2 - r^2 must not show as its root.
  Dice dice(37);
  for (int i = 0; i < cases(500); ++i) {
    const double R = dice.between(30, 2500);
    const double angle = dice.between(30, 150) * k_degree;
    const Frame turned = random_frame(dice);
    Frame body = turned;
    Frame branch = branch_frame(angle, 0.0);
    body.origin = branch.origin = {};
    for (Vec3* axis : {&branch.x, &branch.y, &branch.z}) *axis = turned.direction(*axis);
    const Sheet run = Sheet::cylinder(body, R);
    const Joint joint{Sheet::cylinder(branch, R), {run}, BodyTarget{run}};
    for (const double side : {0.5 * k_pi, 1.5 * k_pi})
      EXPECT_NEAR(height_on_lead(joint, side, shell_depths(0)), 0.0, 1e-12 * R) << R << ' ' << angle;
  }
}

TEST(Saddle, near_tangent_and_near_equal_branches) {
  // Lack of tangency g = R - r - e: the side's height is sqrt(g (2R - g)), from a micrometre to a millimetre.
  for (const double gap : {1e-6, 1e-3, 1.0}) {
    const double R = 300;
    const double r = 120;
    const double e = R - r - gap;
    const double exact_gap = R - (r + e);
    const Joint joint = saddle_joint(R, r, k_pi / 2, e);
    EXPECT_NEAR(height_on_lead(joint, k_pi / 2, shell_depths(0)), std::sqrt(exact_gap * (2 * R - exact_gap)),
                1e-6)
        << gap;
    const Joint equal = saddle_joint(R, R - gap);
    EXPECT_NEAR(height_on_lead(equal, k_pi / 2, shell_depths(0)), std::sqrt(gap * (2 * R - gap)), 1e-6)
        << gap;
  }
}

TEST(Saddle, a_branch_past_the_side_is_refused) {
  const Joint joint = saddle_joint(150, 100, k_pi / 2, 51);
  EXPECT_THROW(height_on_lead(joint, k_pi / 2, shell_depths(0)), GeometryError);
  EXPECT_NO_THROW(height_on_lead(joint, -k_pi / 2, shell_depths(0)));
  const Joint wide = saddle_joint(100, 100.1);
  EXPECT_THROW(height_on_lead(wide, k_pi / 2, shell_depths(0)), GeometryError);
  EXPECT_NO_THROW(height_on_lead(wide, 0, shell_depths(0)));
}

TEST(Saddle, points_lie_on_both_walls_and_agree_with_bisection) {
  Dice dice(33);
  int cones = 0;
  for (int i = 0; i < cases(1000); ++i) {
    const double R = dice.between(60, 800);
    const double r = dice.between(0.1, 0.95) * R;
    const double e = dice.between(-0.9, 0.9) * (R - r);
    const double angle = dice.between(20, 160) * k_degree;
    const double w = dice.between(-0.02, 0.6) * r;
    const double follow = dice.pick(2) == 0 ? w : dice.between(0.0, 0.8 * w);
    const double s = dice.between(0, k_two_pi);
    const bool cone = dice.pick(2) == 0;
    cones += cone ? 1 : 0;
    // tall enough that the body lies below the branch's top everywhere
    const double height = dice.between(1.1, 4.0) * (R + r) / std::sin(angle);
    const Joint joint = cone ? cone_saddle_joint(R, r, r * dice.between(0.5, 0.99), height, angle, e)
                             : saddle_joint(R, r, angle, e);
    const DepthPair depths{w, std::min(follow, w)};
    SCOPED_TRACE("R " + std::to_string(R) + ", r " + std::to_string(r) + ", e " + std::to_string(e) +
                 ", angle " + std::to_string(angle) + ", w " + std::to_string(w) + ", s " +
                 std::to_string(s));
    const Vec3 p = point_of(joint, s, depths);
    EXPECT_NEAR(distance_from_axis(joint.follow[0], p), R - depths.follow, 1e-9);
    const Sheet& branch = joint.lead;
    const Vec3 local = branch.frame().local_point(p);
    const double radius = branch.r1() + (branch.r2() - branch.r1()) * local.z / branch.height();
    const double cosine = branch.height() / std::hypot(branch.height(), branch.r1() - branch.r2());
    EXPECT_NEAR((radius - std::hypot(local.x, local.y)) * cosine, w, 1e-9);
    EXPECT_NEAR(height_on_lead(joint, s, depths), by_bisection(joint, s, depths), 1e-6);
  }
  EXPECT_GT(cones, cases(1000) / 5);
}

// A branch of radius r, square to its body of radius R and aside by o: the body's angle is asin((o + r sin s)
// / R).
TEST(Saddle, turns_on_the_body_as_its_closed_form_and_differences_do) {
  const double R = 150.0;
  for (const auto& [r, o] : {std::pair{100.0, 0.0}, {60.0, 70.0}, {149.9, -0.05}}) {
    const Joint joint = saddle_joint(R, r, k_pi / 2, o);
    for (int i = 0; i < 36; ++i) {
      const double s = (i * 10 + 3) * k_degree;
      const double turn = turn_on_body(joint, s, shell_depths(0)).value();
      const auto theta = [&](double at) { return place_on(joint, Side::follow, at, shell_depths(0)).theta; };
      constexpr double h = 1e-5;
      EXPECT_NEAR(turn, std::remainder(theta(s + h) - theta(s - h), k_two_pi) / (2.0 * h), 1e-7)
          << r << " " << i;
      const double sine = R * std::sin(theta(s));
      EXPECT_NEAR(std::fabs(turn), std::fabs(r * std::cos(s)) / std::sqrt(R * R - sine * sine), 1e-9)
          << r << " " << i;
    }
  }
  EXPECT_FALSE(turn_on_body(cone_saddle_joint(150, 100, 80, 400, k_pi / 2, 0), 1.0, shell_depths(0)));
}

// Where branch and body touch on one side the curve has a corner there, toward which it turns by sqrt(r / R)
// per radian of s, whichever way it comes: (o + r sin s) / R = 1 - (r / R) d^2 / 2 a small d from the corner.
TEST(Saddle, turns_toward_a_tangent_by_the_root_of_the_radii) {
  for (const double r : {20.0, 75.0, 149.0, 150.0}) {
    const Joint joint = saddle_joint(150, r, 60 * k_degree, 150 - r);
    for (const double corner : {0.5 * k_pi, 1.5 * k_pi})
      for (const double aside : {1e-4, 1e-6, 1e-9, -1e-9, -1e-6}) {
        const double miss = std::fabs(
            std::fabs(std::sin(place_on(joint, Side::follow, corner, shell_depths(0)).theta)) - 1.0);
        if (miss > 1e-6) continue;  // the branch's other side
        const double turn = turn_on_body(joint, corner + aside, shell_depths(0)).value();
        EXPECT_NEAR(std::fabs(turn), std::sqrt(r / 150.0), 1e-4) << r << " " << aside;
      }
    EXPECT_NEAR(std::fabs(turn_on_body(joint, 0.5 * k_pi + 1e-6, shell_depths(0)).value()) *
                    std::fabs(turn_on_body(joint, 1.5 * k_pi + 1e-6, shell_depths(0)).value()),
                r == 150.0 ? 1.0 : 0.0, 1e-3);
  }
}
