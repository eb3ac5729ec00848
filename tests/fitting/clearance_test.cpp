// Distances between branches, against plain sampling.
#include "clearance.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "branch.hpp"
#include "fitting/helpers.hpp"
#include "joint/joints.hpp"

using namespace linerwright;

namespace {

// Two straight branches of the body as asked, from their flags.
struct Asked {
  double position, angle, around, radius, length;
};

// How deep a point lies in the metal of a branch, from the branch's axis alone; negative outside it.
double depth_in(const Asked& b, double gauge, Vec3 p) {
  const Vec3 out{std::cos(b.around), std::sin(b.around), 0.0};
  const Vec3 axis = std::sin(b.angle) * out + std::cos(b.angle) * Vec3{0, 0, 1};
  const Vec3 from = p - Vec3{0, 0, b.position};
  const double along = dot(from, axis);
  if (along < 0.0 || along > b.length) return -1e9;
  return b.radius + gauge - norm(from - along * axis);
}

}  // namespace

// Refused for running into each other: points common to both branches' metal lie outside the body; made: of
// many scattered points none does. Two branches whose holes are clear of each other, on any side and at any
// angle.
TEST(Apart, branches_run_into_each_other_where_scattered_points_say_so) {
  Dice dice(43);
  int refused = 0;
  int made = 0;
  const double radius = 300.0;
  const double gauge = 0.8;
  for (int i = 0; i < cases(60); ++i) {
    const auto branch = [&](double position) {
      return Asked{position, dice.between(40, 140) * k_degree, dice.between(-40, 40) * k_degree,
                   dice.between(60, 150), dice.between(900, 2500)};
    };
    const Asked a = branch(4000);
    const Asked b = branch(4000 + dice.between(250, 900));
    const auto both = [](double x, double y) { return mm(x) + "&" + mm(y); };
    const std::string said = refusal("tee", {{"diameter", mm(2 * radius)},
                                             {"length", "9000"},
                                             {"branch_diameter", both(2 * a.radius, 2 * b.radius)},
                                             {"branch_length", both(a.length, b.length)},
                                             {"angle", both(a.angle / k_degree, b.angle / k_degree)},
                                             {"around", both(a.around / k_degree, b.around / k_degree)},
                                             {"position", both(a.position, b.position)},
                                             {"thickness", "10"},
                                             {"cut", "tilt"}});
    const bool into = has(said, "run into each other");
    if (!into && said != "(made)") continue;
    double deepest = -1e9;
    for (int k = 0; k < 20000; ++k) {
      const double along = dice.between(0, a.length);
      const double turn = dice.between(0, k_two_pi);
      const double out = (a.radius + gauge) * std::sqrt(dice.between(0, 1));
      const Frame frame = frame_along({0, 0, a.position},
                                      std::sin(a.angle) * Vec3{std::cos(a.around), std::sin(a.around), 0.0} +
                                          std::cos(a.angle) * Vec3{0, 0, 1},
                                      {-std::sin(a.around), std::cos(a.around), 0.0});
      const Vec3 p = frame.point({out * std::cos(turn), out * std::sin(turn), along});
      if (std::hypot(p.x, p.y) < radius + gauge) continue;
      deepest = std::max(deepest, std::min(depth_in(a, gauge, p), depth_in(b, gauge, p)));
    }
    EXPECT_TRUE(into || deepest <= 0.0) << i << ' ' << deepest;
    if (into) {
      const double by = std::stod(said.substr(said.find("each other by ") + 14));
      EXPECT_TRUE(by <= 25.0 || deepest > 0.0) << i << ' ' << said;
    }
    refused += into ? 1 : 0;
    made += into ? 0 : 1;
  }
  EXPECT_GE(refused, cases(60) >= 60 ? cases(60) / 15 : 0);
  EXPECT_GT(made, cases(60) / 12);
}

// Parallel branches side by side: the axes' distance less both radii of the metal.
TEST(Apart, parallel_branches_are_as_far_apart_as_their_axes_less_their_metal) {
  const auto standing_at = [](double z) {
    Joint joint = saddle_joint(150, 40, 60 * k_degree);
    Frame frame = joint.lead.frame();
    frame.origin = {0, 0, z};
    joint.lead = Sheet::cylinder(frame, 40);
    return joint;
  };
  const Joint a = standing_at(0.0);
  const Joint b = standing_at(200.0);
  const auto end = [](const Joint& joint) {
    const Frame& frame = joint.lead.frame();
    return PlaneTarget{frame.point({0, 0, 600}), frame.z};
  };
  const BranchMetal first{a.lead, a, 0.0, end(a)};
  const BranchMetal second{b.lead, b, 0.0, end(b)};
  EXPECT_NEAR(metals_apart(first, second, 0.8), 200.0 * std::sin(60 * k_degree) - 81.6, 1e-6);
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
