// The joint as the other wall sees it: rulings of the following side.
#include <gtest/gtest.h>

#include "joint/joints.hpp"
#include "linerwright/units/error.hpp"

using namespace linerwright;

namespace {

// The follower's frame turned about its axis, and, if asked, upside down (theta then runs the other way).
Joint with_turned_follower(Joint joint, double turn, bool upside_down) {
  const Sheet& old = joint.follow[0];
  Frame frame = old.frame();
  const Vec3 x = frame.direction({std::cos(turn), std::sin(turn), 0});
  frame.x = x;
  frame.z = upside_down ? -frame.z : frame.z;
  frame.y = cross(frame.z, frame.x);
  joint.follow = {Sheet::cylinder(frame, old.r1())};
  return joint;
}

}  // namespace

TEST(FollowingSide, finds_the_parameter_of_its_own_ruling) {
  Dice dice(34);
  int collars = 0;
  for (int i = 0; i < cases(600); ++i) {
    Joint joint = mitre_joint(200, dice.between(1, 60) * k_degree);
    if (i % 2 == 0) {
      const double r2 = dice.between(80, 350);
      const Sheet taper =
          Sheet::cone(random_frame(dice), 200, r2, dice.between(150, 600), dice.between(0, 120));
      joint = collar_joint(taper, dice.pick(2) == 0 ? End::high : End::low);
      ++collars;
    }
    joint = with_turned_follower(joint, dice.between(-3, 3), dice.pick(2) == 0);
    const double w = dice.between(-1, 40);
    SCOPED_TRACE(describe(joint.lead) + ", w " + std::to_string(w));
    for (int k = 0; k < 10; ++k) {
      const double theta = dice.between(-k_pi, k_two_pi);
      const double s = parameter_at(joint, Side::follow, theta, shell_depths(w));
      const Sheet::Place place = place_on(joint, Side::follow, s, shell_depths(w));
      EXPECT_NEAR(std::remainder(place.theta - theta, k_two_pi), 0.0, 1e-9);
      EXPECT_NEAR(height_at(joint, Side::follow, theta, shell_depths(w)), place.v, 1e-8);
      // the point reached along the follower's own ruling is the joint's point
      const Vec3 p = joint.follow[0].point(theta, height_at(joint, Side::follow, theta, shell_depths(w)), w);
      EXPECT_LT(distance(p, point_of(joint, s, shell_depths(w))), 1e-6);
      EXPECT_NEAR(distance_from_axis(joint.follow[0], p), joint.follow[0].r1() - w, 1e-9);
    }
  }
  EXPECT_GT(collars, 0);
}

TEST(FollowingSide, mirrored_heights_at_a_mitre) {
  // The follower's height mirrors the leader's: v_follow(theta) = -v_lead(theta).
  const Joint joint = mitre_joint(157.5, 15 * k_degree);
  for (int i = 0; i < 24; ++i) {
    const double theta = k_two_pi * i / 24;
    for (const double w : {0.0, 25.0})
      EXPECT_NEAR(height_at(joint, Side::follow, theta, shell_depths(w)),
                  -height_at(joint, Side::lead, theta, shell_depths(w)), 1e-10);
    EXPECT_EQ(parameter_at(joint, Side::lead, theta, shell_depths(0)), theta);
  }
}

TEST(FollowingSide, collar_ends_at_the_walked_corner) {
  // On the collar the corner of layer w lies w tan(phi/2) before the seam of a narrowing taper.
  const Sheet taper = Sheet::cone(Frame{}, 200, 125, 300);
  const double phi = std::atan2(75.0, 300.0);
  const Joint low = collar_joint(taper, End::low);
  const Joint high = collar_joint(taper, End::high);
  for (int i = 0; i < 12; ++i) {
    EXPECT_NEAR(height_at(low, Side::follow, i, shell_depths(25)), -25 * std::tan(phi / 2), 1e-10);
    EXPECT_NEAR(height_at(high, Side::follow, i, shell_depths(25)), -25 * std::tan(phi / 2), 1e-10);
  }
}

TEST(FollowingSide, both_walls_see_the_same_point) {
  Dice dice(35);
  int met = 0;
  for (int i = 0; i < cases(500); ++i) {
    const double R = dice.between(60, 800);
    const double r = dice.between(0.1, 0.95) * R;
    const double e = dice.between(-0.9, 0.9) * (R - r);
    const Joint joint = saddle_joint(R, r, dice.between(20, 160) * k_degree, e);
    const double w = dice.between(0, 0.6) * r;
    const double s = dice.between(0, k_two_pi);
    SCOPED_TRACE("R " + std::to_string(R) + ", r " + std::to_string(r) + ", w " + std::to_string(w));
    for (const DepthPair& depths : {DepthPair{w, w}, DepthPair{w, 0}, DepthPair{0, w}}) {
      try {
        const Sheet::Place lead = place_on(joint, Side::lead, s, depths);
        const Sheet::Place follow = place_on(joint, Side::follow, s, depths);
        EXPECT_EQ(lead.theta, s);
        EXPECT_LT(distance(joint.lead.point(lead.theta, lead.v, depths.lead),
                           joint.follow[0].point(follow.theta, follow.v, depths.follow)),
                  1e-9);
        ++met;
      } catch (const GeometryError&) {
        // only where the branch's layer reaches past the body's
        EXPECT_GT(r - depths.lead + std::fabs(e), R - depths.follow);
      }
    }
  }
  EXPECT_GT(met, cases(500) * 2);
}

TEST(FollowingSide, a_ruling_beside_the_hole_has_no_parameter) {
  const Joint joint = saddle_joint(150, 50);
  EXPECT_THROW(parameter_at(joint, Side::follow, k_pi, shell_depths(0)), GeometryError);
}
