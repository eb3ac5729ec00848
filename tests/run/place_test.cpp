// Places in space against closed forms of chains.
#include <gtest/gtest.h>

#include <cmath>

#include "helpers.hpp"

namespace linerwright {
namespace {

using support::elbow;
using support::end_of;
using support::k_head;
using support::laid;
using support::Laid;
using support::straight;

constexpr double k_degree = k_pi / 180.0;

void expect_near(Vec3 a, Vec3 b, double within) {
  EXPECT_NEAR(a.x, b.x, within);
  EXPECT_NEAR(a.y, b.y, within);
  EXPECT_NEAR(a.z, b.z, within);
}

TEST(Place, FirstFittingStandsAtTheStart) {
  const Laid run = laid(std::string(k_head) + straight("S-1", 600, 1200) +
                        "[[run]]\nname = \"a\"\npath = [\"S-1\"]\n"
                        "start = {at = [100, \"1 m\", -5], direction = [0, 2, 0], up = [0, 1, 1]}\n");
  ASSERT_EQ(run.problems.size(), 0u) << run.all_problems();
  const Placed& placed = run.only().fittings.at(0);
  expect_near(placed.ports[0].frame.origin, {100, 1000, -5}, 1e-9);
  expect_near(placed.ports[0].frame.z, {0, -1, 0}, 1e-12);
  expect_near(placed.ports[0].frame.x, {0, 0, 1}, 1e-12);
  expect_near(end_of(run.only()).frame.origin, {100, 2200, -5}, 1e-9);
  EXPECT_NEAR(run.only().length, 1200.0, 1e-9);
}

TEST(Place, ElbowBendsTowardUpAndTurnsRightHanded) {
  for (const double turn : {0.0, 90.0, 30.0}) {
    const Laid run = laid(std::string(k_head) + elbow("E-1", 600, 90, 900) +
                          "[[run]]\nname = \"a\"\npath = [\"E-1\"]\nturns = [" + fixed(turn, 1) + "]\n");
    ASSERT_EQ(run.problems.size(), 0u) << run.all_problems();
    // start +z, up +x: right-handed about +z, x turns toward y
    const double c = std::cos(turn * k_degree);
    const double s = std::sin(turn * k_degree);
    expect_near(end_of(run.only()).frame.origin, {900 * c, 900 * s, 900}, 1e-9);
    expect_near(end_of(run.only()).frame.z, {c, s, 0}, 1e-12);
  }
}

// Two equal bends of the angle a and the centreline radius rho with a straight L between them, the second
// turned by half a turn: their tangents and arcs give offset = 2 rho (1 - cos a) + L sin a and length = 2 rho
// sin a + L cos a (elementary geometry of two tangent arcs).
TEST(Place, PlanarOffset) {
  for (const double a : {15.0, 30.0, 45.0, 60.0, 90.0})
    for (const double length : {100.0, 750.0}) {
      const double rho = 700;
      const Laid run =
          laid(std::string(k_head) + elbow("E-1", 500, a, rho) + straight("S-1", 500, length) +
               elbow("E-2", 500, a, rho) +
               "[[run]]\nname = \"a\"\npath = [\"E-1\", \"S-1\", \"E-2\"]\nturns = [0, 0, 180]\n");
      ASSERT_EQ(run.problems.size(), 0u) << run.all_problems();
      const double c = std::cos(a * k_degree);
      const double s = std::sin(a * k_degree);
      expect_near(end_of(run.only()).frame.origin,
                  {2 * rho * (1 - c) + length * s, 0, 2 * rho * s + length * c}, 1e-9);
      expect_near(end_of(run.only()).frame.z, {0, 0, 1}, 1e-12);
    }
}

// A rolling offset: both bends turned by the angle whose tangent is roll / rise. W. V. Graves, The Pipe
// Fitters Blue Book (from memory): true offset = sqrt(rise^2 + roll^2), travel = true offset / sin a, run =
// true offset / tan a, for the lengths between the points where the tangents meet.
TEST(Place, RollingOffset) {
  const double rise = 500;
  const double roll = 350;
  const double true_offset = std::sqrt(rise * rise + roll * roll);
  for (const double a : {30.0, 45.0, 60.0}) {
    const double rho = 450;
    const double takeoff = rho * std::tan(0.5 * a * k_degree);  // from an end to where the tangents meet
    const double travel = true_offset / std::sin(a * k_degree);
    const double length = travel - 2 * takeoff;
    ASSERT_GT(length, 20.0);
    const Laid run = laid(std::string(k_head) + elbow("E-1", 300, a, rho) + straight("S-1", 300, length) +
                          elbow("E-2", 300, a, rho) +
                          "[[run]]\nname = \"a\"\npath = [\"E-1\", \"S-1\", \"E-2\"]\nturns = [\"" +
                          fixed(std::atan2(roll, rise), 15) + " rad\", 0, 180]\n");
    ASSERT_EQ(run.problems.size(), 0u) << run.all_problems();
    expect_near(end_of(run.only()).frame.origin,
                {rise, roll, true_offset / std::tan(a * k_degree) + 2 * takeoff}, 1e-5);
  }
}

TEST(Place, RectangleCloses) {
  const double rho = 640.7;
  std::string job = k_head;
  for (const char* tag : {"E-1", "E-2", "E-3", "E-4"}) job += elbow(tag, 400, 90, rho, "pieces = 5\n");
  for (const auto& [tag, length] :
       {std::pair<const char*, double>{"S-1", 1234.5}, {"S-2", 777.7}, {"S-3", 1234.5}, {"S-4", 777.7}})
    job += straight(tag, 400, length);
  const Laid run =
      laid(job +
           "[[run]]\nname = \"ring\"\npath = [\"S-1\", \"E-1\", \"S-2\", \"E-2\", \"S-3\", \"E-3\", \"S-4\", "
           "\"E-4\"]\nclose = true\nclose_within = \"0.000000001 mm\"\n"
           "start = {at = [3000, -2000, 500], direction = [1, 2, 3], up = [1, 0, 0]}\n");
  ASSERT_EQ(run.problems.size(), 0u) << run.all_problems();
  EXPECT_LT(run.only().miss, 1e-9);
  EXPECT_LT(run.only().miss_angle, 1e-9);
  EXPECT_EQ(run.only().joints.size(), 8u);
  EXPECT_TRUE(run.only().open_ends.empty());
  // sides between the tangents' meeting points, less what the corners of five gores cut off the arcs'
  // tangents
  const double per_elbow = 8 * rho * std::tan(11.25 * k_degree);
  EXPECT_NEAR(run.only().length, 2 * (1234.5 + 777.7) + 4 * per_elbow, 1e-8);
}

TEST(Place, ElbowIsTheSameBothWays) {
  const std::string job =
      std::string(k_head) + elbow("E-1", 400, 70, 600, "collar = 50\n") + straight("S-1", 400, 300);
  const Laid forward = laid(job + "[[run]]\nname = \"a\"\npath = [\"S-1\", \"E-1\"]\n");
  const Laid back = laid(job + "[[run]]\nname = \"a\"\npath = [\"S-1\", \"E-1:end>start\"]\n");
  ASSERT_EQ(forward.problems.size() + back.problems.size(), 0u)
      << forward.all_problems() << back.all_problems();
  expect_near(end_of(forward.only()).frame.origin, end_of(back.only()).frame.origin, 1e-9);
  expect_near(end_of(forward.only()).frame.z, end_of(back.only()).frame.z, 1e-12);
  EXPECT_NEAR(forward.only().length, back.only().length, 1e-9);
  EXPECT_EQ(forward.only().joints.at(0).flow, RunFlow::along);
  EXPECT_EQ(back.only().joints.at(0).flow, RunFlow::conflict);
}

TEST(Place, BranchStartsAtItsPort) {
  const Laid run = laid(std::string(k_head) + support::tee("T-1") + straight("S-1", 300, 500) +
                        "[[run]]\nname = \"branch\"\nfrom = \"T-1:branch1\"\npath = [\"S-1\"]\n"
                        "[[run]]\nname = \"main\"\npath = [\"T-1\"]\n");
  ASSERT_EQ(run.problems.size(), 0u) << run.all_problems();
  ASSERT_EQ(run.runs.size(), 2u);
  const LaidRun& main = run.runs[0];
  const LaidRun& branch = run.runs[1];
  EXPECT_EQ(main.run.name, "main");
  ASSERT_EQ(main.branches.size(), 1u);
  EXPECT_EQ(main.branches[0].first, "branch");
  const Port& port = main.fittings[0].ports[2];
  EXPECT_EQ(port.name, "branch1");
  expect_near(branch.fittings[0].ports[0].frame.origin, port.frame.origin, 1e-12);
  expect_near(end_of(branch).frame.origin, port.frame.origin + 500.0 * port.frame.z, 1e-9);
  EXPECT_EQ(main.open_ends.size(), 2u);
  EXPECT_EQ(branch.open_ends.size(), 1u);
}

// Every joint's two ports lie in one place and look at each other, whatever the turns.
TEST(Place, PortsMeetInLongTurnedChains) {
  std::string job =
      std::string(k_head) +
      "[[fitting]]\ntag = \"E\"\nkind = \"elbow\"\npieces = 3\ncount = 100\ndiameter = 300\nangle = 37\n"
      "[[fitting]]\ntag = \"S\"\nkind = \"straight\"\ncount = 100\ndiameter = 300\nlength = 333.3\n"
      "[[run]]\nname = \"long\"\npath = [";
  std::string turns;
  for (int i = 1; i <= 100; ++i) {
    job += "\"E#" + std::to_string(i) + "\", \"S#" + std::to_string(i) + "\", ";
    turns += std::to_string((i * 41) % 360) + ", 0, ";
  }
  const Laid run = laid(job + "]\nturns = [" + turns + "]\n");
  ASSERT_EQ(run.problems.size(), 0u) << run.all_problems();
  const LaidRun& laid_run = run.only();
  ASSERT_EQ(laid_run.joints.size(), 199u);
  for (const RunJoint& joint : laid_run.joints) {
    const Placed& before = laid_run.fittings[joint.before];
    const Placed& after = laid_run.fittings[joint.after];
    const Port& out = before.ports[*before.out];
    const Port& in = after.ports[*after.in];
    EXPECT_LT(distance(out.frame.origin, in.frame.origin), 1e-9);
    EXPECT_LT(norm(out.frame.z + in.frame.z), 1e-12);
  }
  // 200 products of frames leave the last one square
  const Frame& frame = laid_run.fittings.back().frame;
  EXPECT_NEAR(dot(frame.x, frame.y), 0.0, 1e-13);
  EXPECT_NEAR(norm(frame.z), 1.0, 1e-13);
}

}  // namespace
}  // namespace linerwright
