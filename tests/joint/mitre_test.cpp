// Mitres between equal cylinders, open ends and square cuts.
#include <gtest/gtest.h>

#include "joint/joints.hpp"
#include "linerwright/units/error.hpp"
#include "support/elliptic.hpp"

using namespace linerwright;

TEST(Mitre, ordinates_are_a_cosine) {
  // The plane x sin a + z cos a = 0 on the cylinder of radius rho = R - w: v = -rho tan(a) cos(theta)
  // (T. Apostol, M. Mnatsakanian, Unwrapping Curves from Cylinders and Cones, sec. 2).
  const double a = 11.25 * k_degree;
  const Joint joint = mitre_joint(157.5, a);
  for (const double w : {-0.8, 0.0, 25.0})
    for (int i = 0; i < 48; ++i) {
      const double theta = k_two_pi * i / 48;
      EXPECT_NEAR(height_on_lead(joint, theta, shell_depths(w)), -(157.5 - w) * std::tan(a) * std::cos(theta),
                  1e-12);
    }
}

TEST(Mitre, edge_is_an_ellipse) {
  // Semi-axes D/2 and D/2 / cos a: perimeter (2 D / cos a) E(k = sin a), E the complete elliptic integral of
  // the second kind.
  struct Case {
    double diameter, degrees, length;
  };
  for (const Case& c : {Case{315, 11.25, 999.31892}, Case{6, 15, 19.183467}, Case{4.5, 30, 15.250315}}) {
    const double a = c.degrees * k_degree;
    const double exact = 2 * c.diameter / std::cos(a) * support::elliptic_e(std::sin(a));
    EXPECT_NEAR(exact / c.length, 1.0, 3e-8);
    const Joint joint = mitre_joint(c.diameter / 2, a);
    EXPECT_NEAR(length_around(joint, 0.0), exact, 1e-10 * exact);
    for (const double w : {0.02 * c.diameter, 0.1 * c.diameter}) {  // layers are similar ellipses
      const double share = 1.0 - 2 * w / c.diameter;
      EXPECT_NEAR(length_around(joint, w), share * exact, 1e-10 * exact);
    }
  }
}

TEST(Mitre, points_lie_on_both_cylinders_at_equal_depth) {
  Dice dice(31);
  for (int i = 0; i < cases(1000); ++i) {
    const double radius = dice.between(30, 1500);
    const double a = dice.between(0.5, 60) * k_degree;
    const Joint joint = mitre_joint(radius, a);
    const double w = dice.between(-0.02, 0.8) * radius;
    const double s = dice.between(-7, 7);
    SCOPED_TRACE("radius " + std::to_string(radius) + ", mitre " + std::to_string(a) + ", w " +
                 std::to_string(w));
    const Vec3 p = point_of(joint, s, shell_depths(w));
    EXPECT_NEAR(distance_from_axis(joint.lead, p), radius - w, 1e-9);
    EXPECT_NEAR(distance_from_axis(joint.follow[0], p), radius - w, 1e-9);
    EXPECT_NEAR(dot(p, Vec3{std::sin(a), 0, std::cos(a)}), 0.0, 1e-9);
  }
}

TEST(Mitre, open_ends_are_circles_and_square_cuts_straight) {
  const Sheet duct = Sheet::cylinder(Frame{}, 157.5);
  const Joint end{duct, {}, PlaneTarget{{0, 0, 400}, {0, 0, 1}}};
  EXPECT_TRUE(end.open());
  EXPECT_FALSE(mitre_joint(100, 0.2).open());
  for (int i = 0; i < 12; ++i) EXPECT_NEAR(height_on_lead(end, i, shell_depths(25)), 400, 1e-12);
  EXPECT_NEAR(length_around(end, 25.0), k_two_pi * 132.5, 1e-8);
  // A ring of a taper cut square to the board at v = 70: every layer at the same v.
  const Joint square{Sheet::cone(Frame{}, 200, 125, 300), {}, SquareTarget{70}};
  for (const double w : {0.0, 10.0, 25.0}) EXPECT_EQ(height_on_lead(square, 1.3, shell_depths(w)), 70);
  // The end of a taper in the plane z = h: layers end at different v, all at z = h.
  const Joint taper_end{Sheet::cone(Frame{}, 200, 125, 300, 40), {}, PlaneTarget{{0, 0, 300}, {0, 0, 1}}};
  for (const double w : {-0.8, 0.0, 25.0})
    for (int i = 0; i < 12; ++i) EXPECT_NEAR(point_of(taper_end, i, shell_depths(w)).z, 300, 1e-10);
}

TEST(Mitre, a_ruling_along_the_plane_is_refused) {
  const Joint joint{Sheet::cylinder(Frame{}, 100), {}, PlaneTarget{{}, {1, 0, 0}}};
  EXPECT_THROW(height_on_lead(joint, 0.3, shell_depths(0)), GeometryError);
}

TEST(Mitre, style_decides_where_layers_of_a_branch_joint_end) {
  // mitre: layer against layer. over: the branch stands on the body's duct face (depth 0) and the body's
  // liner ends at the branch's air face (depth t). through: the branch reaches the body's air face (depth t)
  // and the body's liner ends at the branch's duct face (depth 0).
  const double t = 25;
  for (const double w : {0.0, 10.0, 25.0}) {
    for (const Side side : {Side::lead, Side::follow})
      EXPECT_EQ(liner_depths(JointStyle::mitre, side, w, t), (DepthPair{w, w}));
    EXPECT_EQ(liner_depths(JointStyle::over, Side::lead, w, t), (DepthPair{w, 0}));
    EXPECT_EQ(liner_depths(JointStyle::over, Side::follow, w, t), (DepthPair{t, w}));
    EXPECT_EQ(liner_depths(JointStyle::through, Side::lead, w, t), (DepthPair{w, t}));
    EXPECT_EQ(liner_depths(JointStyle::through, Side::follow, w, t), (DepthPair{0, w}));
    EXPECT_EQ(shell_depths(w), (DepthPair{w, w}));
  }
}

TEST(Mitre, depth_pairs_have_an_order) {
  EXPECT_TRUE((DepthPair{1, 5} < DepthPair{2, 0}));
  EXPECT_TRUE((DepthPair{1, 4} < DepthPair{1, 5}));
  EXPECT_FALSE((DepthPair{1, 5} < DepthPair{1, 5}));
}

TEST(Mitre, arcs_go_around_once_between_the_splits) {
  Joint joint = mitre_joint(100, 0.2);
  ASSERT_EQ(arcs_of(joint).size(), 1U);
  EXPECT_EQ(arcs_of(joint)[0].from, 0.0);
  EXPECT_EQ(arcs_of(joint)[0].to, k_two_pi);
  joint.splits = {0.5, 2.0, 4.0};
  const std::vector<Arc> arcs = arcs_of(joint);
  ASSERT_EQ(arcs.size(), 3U);
  EXPECT_EQ(arcs[0].from, 0.5);
  EXPECT_EQ(arcs[1].from, arcs[0].to);
  EXPECT_EQ(arcs[2].from, arcs[1].to);
  EXPECT_NEAR(arcs[2].to, 0.5 + k_two_pi, 1e-15);
}
