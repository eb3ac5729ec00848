// The pattern books' drawing-board constructions, carried out step by step with circles and lines, against
// the closed forms: E. M. Longfield, Sheet Metal Drafting, p. 66 (tee) and p. 75 (off-centre tee, rules
// 1-10); G. W. Kittredge, The New Metal Worker Pattern Book, problems 59 and 60 (tee and lateral of unequal
// pipes); E. A. Atkins, Practical Sheet and Plate Metal Work, "Oblique Tee-Piece for Unequal Pipes".
#include <gtest/gtest.h>

#include "joint/joints.hpp"

using namespace linerwright;

namespace {

// Where a vertical at x crosses the upper half of a circle about the origin: found on the drawing by moving
// up the vertical until the circle is met (bisection).
double up_to_circle(double x, double radius) {
  double low = 0.0;
  double high = radius;
  for (int i = 0; i < 100; ++i) {
    const double middle = 0.5 * (low + high);
    (x * x + middle * middle < radius * radius ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

// Crossing of two lines of a drawing, each a point and a direction: the way along the first.
double way_to_crossing(Vec2 p, Vec2 along, Vec2 q, Vec2 other) {
  return cross(q - p, other) / cross(along, other);
}

// The point of division number i of n on a circle about the origin, stepped off with the compasses: each
// division a chord of 2 r sin(pi/n) from the one before.
Vec2 stepped_off(double radius, int i, int n) {
  Vec2 at{radius, 0};
  const double chord = 2 * radius * std::sin(k_pi / n);
  for (int k = 0; k < i; ++k) {
    // the compasses' circle about `at` cuts the circle at the half chord above the midpoint's foot
    const double along = radius - chord * chord / (2 * radius);
    const double aside = std::sqrt(radius * radius - along * along);
    const Vec2 unit = (1.0 / norm(at)) * at;
    at = along * unit + aside * Vec2{-unit.y, unit.x};
  }
  return at;
}

// Length of the branch's element at division i, from the crossing of the axes: a half-section of the branch
// is divided, each division is carried into the end view up to the body's circle, from there across to the
// side view as a level line, where it meets the element drawn parallel to the branch's axis.
double element_by_drawing(double R, double r, double angle, double offset, int i, int n) {
  const Vec2 division = stepped_off(r, i, n);  // x: toward the far end, y: sideways
  const double level = up_to_circle(offset + division.y, R);
  const Vec2 along{std::cos(angle), std::sin(angle)};  // side view: (along the body, up)
  const Vec2 start = division.x * Vec2{std::sin(angle), -std::cos(angle)};
  return way_to_crossing(start, along, {0, level}, {1, 0});
}

}  // namespace

TEST(PatternBooks, tee_and_lateral_elements) {
  struct Case {
    double R, r, degrees, offset;
    int divisions;
  };
  const Case all[] = {{150, 100, 90, 0, 12},  {150, 100, 90, 0, 16},      {150, 100, 45, 0, 12},
                      {150, 100, 60, 0, 24},  {152.4, 57.15, 90, 60, 16}, {300, 120, 50, -150, 16},
                      {150, 100, 135, 20, 12}};
  for (const Case& c : all) {
    const Joint joint = saddle_joint(c.R, c.r, c.degrees * k_degree, c.offset);
    for (int i = 0; i < c.divisions; ++i)
      EXPECT_NEAR(height_on_lead(joint, k_two_pi * i / c.divisions, shell_depths(0)),
                  element_by_drawing(c.R, c.r, c.degrees * k_degree, c.offset, i, c.divisions), 1e-9)
          << c.degrees << ' ' << c.offset << ' ' << i;
  }
}

TEST(PatternBooks, hole_in_the_body_by_drawing) {
  // Longfield p. 66: along the body's stretch-out the hole's divisions lie at the arcs cut off in the end
  // view, and across it at the branch's own divisions (tee at right angles).
  const double R = 150;
  const double r = 100;
  const Joint joint = saddle_joint(R, r);
  for (int i = 0; i < 16; ++i) {
    const Vec2 division = stepped_off(r, i, 16);
    const double level = up_to_circle(division.y, R);
    // arc from the top of the end view, by stepping a fine chord around
    double arc = 0.0;
    constexpr int k_steps = 20000;
    const double full = std::asin(division.y / R);
    for (int k = 0; k < k_steps; ++k) arc += 2 * R * std::sin(0.5 * std::fabs(full) / k_steps);
    const Sheet::Place place = place_on(joint, Side::follow, k_two_pi * i / 16, shell_depths(0));
    EXPECT_NEAR(R * std::cos(place.theta), level, 1e-9);
    EXPECT_NEAR(std::fabs(R * place.theta), arc, 1e-6);
    EXPECT_NEAR(place.v, division.x, 1e-9);
  }
  // full width of the hole 2 R asin(r/R) = 218.9183 mm
  const double width = R * (place_on(joint, Side::follow, -k_pi / 2, shell_depths(0)).theta -
                            place_on(joint, Side::follow, k_pi / 2, shell_depths(0)).theta);
  EXPECT_NEAR(width, 218.9183, 5e-5);
}

TEST(PatternBooks, square_pipe_mitre_by_tangent_holds_for_round_pipe) {
  // Atkins, chapter VI: joint of a 120 degree elbow of 5 in pipe rises 5 tan 30 degrees across the pipe; he
  // prints 2.9 in (with 0.58 for the tangent), the exact rise is 2.8868 in.
  const Joint joint = mitre_joint(2.5, 30 * k_degree);
  const double rise =
      height_on_lead(joint, k_pi, shell_depths(0)) - height_on_lead(joint, 0, shell_depths(0));
  EXPECT_NEAR(rise, 2.8868, 5e-5);
  EXPECT_NEAR(rise, 2.9, 0.05);
}
