// Mitres of two walls about one sphere.
#include <gtest/gtest.h>

#include "joints.hpp"

using namespace linerwright;

namespace {

// A cylinder along z and a cone that leans to +x, both about a sphere of radius R; the mitre is the plane in
// which x.a / cos p - R tan p is the same for both axes.
Joint mitre(double radius, double lean, double half_angle) {
  const Vec3 axis{std::sin(lean), 0, std::cos(lean)};
  Frame frame;
  frame.origin = (radius * std::sin(half_angle)) * axis;
  frame.z = axis;
  frame.x = {std::cos(lean), 0, -std::sin(lean)};
  frame.y = {0, 1, 0};
  const double height = 500;
  const Sheet cone = Sheet::cone(frame, radius * std::cos(half_angle),
                                 radius * std::cos(half_angle) - height * std::tan(half_angle), height);
  const Vec3 across = (1.0 / std::cos(half_angle)) * axis - Vec3{0, 0, -1};
  const double size = norm(across);
  Joint joint{Sheet::cylinder(Frame{}, radius),
              {cone},
              SphereTarget{{}, radius, (1.0 / size) * across, radius * std::tan(half_angle) / size}};
  joint.stretch = {0, 1};
  joint.splits = {-1.2, 1.2};
  return joint;
}

double distance_from(const Sheet& cone, Vec3 point) {
  const Vec3 p = cone.frame().local_point(point);
  const double slope = (cone.r2() - cone.r1()) / cone.height();
  return (cone.r1() + slope * p.z - std::hypot(p.x, p.y)) / std::sqrt(1.0 + slope * slope);
}

}  // namespace

// A point at depth w of the one wall lies at depth w of the other, and |x|^2 = (R - w)^2 + f^2, f its height.
TEST(SphereMitre, equal_depths_meet) {
  for (const double p : {0.05, 0.2, -0.1})
    for (const double w : {-1.0, 0.0, 12.5, 50.0}) {
      const Joint joint = mitre(250, 0.6, p);
      for (double s = -1.2; s <= 1.2; s += 0.1) {
        const Vec3 point = point_of(joint, s, shell_depths(w));
        EXPECT_NEAR(distance_from(joint.follow[0], point), w, 1e-9) << p << " " << w << " " << s;
        EXPECT_NEAR(std::hypot(point.x, point.y), 250 - w, 1e-9);
        const double f = place_on(joint, Side::lead, s, shell_depths(w)).v;
        EXPECT_NEAR(norm(point), std::hypot(250 - w, f), 1e-9);
        const Sheet::Place there = place_on(joint, Side::follow, s, shell_depths(w));
        EXPECT_NEAR(std::fabs(there.v), std::fabs(f), 1e-9);  // the same way along either ruling
        EXPECT_NEAR(height_at(joint, Side::follow, there.theta, shell_depths(w)), there.v, 1e-9);
        EXPECT_NEAR(parameter_at(joint, Side::follow, there.theta, shell_depths(w)), s, 1e-9);
      }
    }
}

// All at depth w is as on the duct face, smaller by (R - w) / R about the centre.
TEST(SphereMitre, depths_are_alike) {
  const Joint joint = mitre(250, 0.6, 0.2);
  for (double s = -1.2; s <= 1.2; s += 0.3)
    EXPECT_NEAR(distance(point_of(joint, s, shell_depths(50)), 0.8 * point_of(joint, s, shell_depths(0))),
                0.0, 1e-10);
}

TEST(SphereMitre, arcs_run_from_the_first_split_to_the_last) {
  Joint joint = mitre(250, 0.6, 0.2);
  joint.splits = {5.5, 6.0, 7.5};
  const std::vector<Arc> arcs = arcs_of(joint);
  ASSERT_EQ(arcs.size(), 2U);
  EXPECT_EQ(arcs[0].from, 5.5);
  EXPECT_EQ(arcs[1].to, 7.5);
}
