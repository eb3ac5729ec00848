// Laterals whose branch turns by gores, square to the body or parallel to it: ends, volumes and saddles by
// closed forms, and what is refused.
#include <gtest/gtest.h>

#include "common.hpp"
#include "fitting/helpers.hpp"
#include "linerwright/fitting/port.hpp"
#include "row_clear.hpp"

using namespace linerwright;

namespace {

const Flags k_lateral{{"diameter", "500"},      {"length", "1400"}, {"branch_diameter", "300"},
                      {"branch_length", "800"}, {"angle", "45"},    {"position", "400"},
                      {"thickness", "25"}};

Fitting turned(const Flags& more) {
  return fitting_from("tee", with(k_lateral, more));
}

const Port& branch_end(const std::vector<Port>& ports) {
  return ports.at(2);
}

double liner_volume(const Fitting& fitting) {
  return shell_volume(fitting, 0.0) - shell_volume(fitting, fitting.liner.bore_depth());
}

}  // namespace

// The axis goes L sin b out and L cos b along to where it bends; on a circle of radius rho from b to e it
// goes rho |cos b - cos e| on out and rho |sin e - sin b| on along, here both forward.
TEST(Turned, ends_where_its_bend_leads) {
  const double half = std::sqrt(0.5);
  for (const char* pieces : {"2", "3", "5"}) {
    const std::vector<Port> square =
        ports_of(turned({{"turn_to", "90"}, {"pieces", pieces}, {"centreline_radius", "450"}}));
    EXPECT_NEAR(distance(branch_end(square).frame.origin,
                         {800 * half + 450 * half, 0, 400 + 800 * half + 450 * (1 - half)}),
                0.0, 1e-9);
    EXPECT_NEAR(distance(branch_end(square).frame.z, {1, 0, 0}), 0.0, 1e-12);
    const std::vector<Port> parallel = ports_of(
        turned({{"turn_to", "0"}, {"pieces", pieces}, {"centreline_radius", "450"}, {"collar", "70"}}));
    EXPECT_NEAR(distance(branch_end(parallel).frame.origin,
                         {800 * half + 450 * (1 - half), 0, 400 + 800 * half + 450 * half + 70}),
                0.0, 1e-9);
    EXPECT_NEAR(distance(branch_end(parallel).frame.z, {0, 0, 1}), 0.0, 1e-12);
  }
}

// Mitred cylinders hold their section times the length of their axis: behind the branch's L each of the n - 1
// joints adds 2 rho tan(a), a the mitre, and the end piece its collar.
TEST(Turned, gores_add_their_axis_times_the_section) {
  const Fitting straight = turned({});
  for (const char* to : {"90", "0", "150"})
    for (const char* pieces : {"3", "4"})
      for (const char* joint : {"mitre", "over"}) {
        const Fitting bent =
            turned({{"turn_to", to}, {"pieces", pieces}, {"collar", "40"}, {"joint", joint}});
        const double joints = pieces[0] - '1';
        const double turn = std::fabs(45 - std::stod(to)) * k_degree;
        const double axis = 2 * joints * 450 * std::tan(turn / (2 * joints)) + 40;
        EXPECT_NEAR(shell_volume(bent, 0) - shell_volume(straight, 0), k_pi * 150 * 150 * axis, 1e-3);
        EXPECT_NEAR(liner_volume(bent) - liner_volume(straight), k_pi * (300 * 25 - 625) * axis, 1e-3);
        EXPECT_EQ(bent.pieces.size(), 2u + static_cast<std::size_t>(joints));
      }
}

// On each ruling, r cos(theta) toward the throat from the axis, a mitre lies rho tan a - (r - w) cos(theta)
// tan a from where the bend begins.
TEST(Turned, mitres_of_both_faces) {
  for (const char* to : {"90", "0"}) {
    const Fitting bent = turned({{"turn_to", to}});
    const double throat = to[0] == '9' ? k_pi : 0.0;
    const double a = std::tan(45 * k_degree / 4);
    for (int i = 0; i < 12; ++i)
      for (const double w : {0.0, 10.0, 25.0}) {
        const double theta = k_two_pi * i / 12;
        const double cut = (450 - (150 - w) * std::cos(theta - throat)) * a;
        EXPECT_NEAR(liner_end(bent, 1, End::high, theta, w), 800 + cut, 1e-9);
        EXPECT_NEAR(liner_end(bent, 2, End::high, theta, w) - liner_end(bent, 2, End::low, theta, w), 2 * cut,
                    1e-9);
        EXPECT_NEAR(liner_end(bent, 3, End::high, theta, w) - liner_end(bent, 3, End::low, theta, w), cut,
                    1e-9);
      }
  }
}

TEST(Turned, the_saddle_is_the_laterals_own) {
  const Fitting plain = turned({});
  const Fitting bent = turned({{"turn_to", "90"}});
  for (int i = 0; i < 24; ++i)
    for (const double w : {0.0, 25.0})
      EXPECT_EQ(liner_end(plain, 1, End::low, k_two_pi * i / 24, w),
                liner_end(bent, 1, End::low, k_two_pi * i / 24, w));
  EXPECT_EQ(hole_area(plain, 0, 0, 0.0), hole_area(bent, 0, 0, 0.0));
  const Passage& way = bent.passages.at(1);
  // from the axes' crossing along the pieces' axes
  EXPECT_NEAR(way.stations.back().distance, 800 + 4 * 450 * std::tan(45 * k_degree / 4), 1e-9);
  EXPECT_NEAR(way.stations.front().distance, plain.passages.at(1).stations.front().distance, 1e-6);
  ASSERT_EQ(way.turns.size(), 1u);
  EXPECT_NEAR(way.turns[0].angle, 45 * k_degree, 1e-12);
}

// A cone's small end is where the bend begins: below it nothing changes but the corner between the two.
TEST(Turned, behind_a_conical_branch) {
  const Flags cone{{"branch_base", "400"}};
  const Fitting straight = turned(cone);
  const Fitting bent = turned(with(cone, {{"turn_to", "90"}, {"collar", "30"}}));
  EXPECT_NEAR(shell_volume(bent, 0) - shell_volume(straight, 0),
              k_pi * 150 * 150 * (4 * 450 * std::tan(45 * k_degree / 4) + 30), 1e-2);
  ASSERT_EQ(bent.pieces.size(), 5u);
  // the corner lies w tan(p/2) before the circle, p the cone's half angle
  const Sheet& sheet = bent.walls[1].sheet;
  const double half = std::atan2(50, sheet.height());
  EXPECT_NEAR(liner_end(bent, 2, End::low, 1.0, 25.0), -25 * std::tan(0.5 * half), 1e-9);
}

// Cut into rings, too: faces of a wall begin at corners of all its joints.
TEST(Turned, rings_of_a_cone_have_corners_where_its_faces_begin) {
  const Fitting rings = turned({{"branch_base", "400"},
                                {"branch_length", "1500"},
                                {"turn_to", "90"},
                                {"board_width", "900"},
                                {"board_length", "2000"}});
  int of_rings = 0;
  for (const Wall& wall : rings.walls)
    for (const End end : k_both_ends)
      for (const JointUse& use : joints_at(wall, end)) {
        const Joint& joint = rings.joints[static_cast<std::size_t>(use.joint)];
        if (use.side != Side::lead || wall.sheet.is_cylinder()) continue;
        const bool corner = std::any_of(joint.splits.begin(), joint.splits.end(), [&](double split) {
          return std::fabs(std::remainder(split - wall.face_start, k_two_pi)) < 1e-9;
        });
        EXPECT_TRUE(corner) << use.joint;
        of_rings += joint.of_rings ? 1 : 0;
      }
  EXPECT_GT(of_rings, 0);
}

TEST(Turned, seams_alternate_and_marks_say_where_it_bends) {
  const Fitting bent = turned({{"turn_to", "90"}, {"branch_seam", "90"}});
  EXPECT_NEAR(
      std::remainder(piece_of(bent, "branchG1").seam - piece_of(bent, "branch").seam - k_pi, k_two_pi), 0.0,
      1e-12);
  EXPECT_EQ(piece_of(bent, "branchG2").seam_place, "as on the branch");
  EXPECT_EQ(piece_of(bent, "branchG1").marks[0].name, "throat");
  EXPECT_NEAR(piece_of(bent, "branchG1").marks[0].theta, k_pi, 1e-12);  // away from the far end
  EXPECT_EQ(piece_of(bent, "branch").next, (std::vector<std::string>{"body", "branchG1"}));
  EXPECT_EQ(piece_of(bent, "branchG1").next, (std::vector<std::string>{"branch", "branchG2"}));
}

TEST(Turned, each_branch_by_its_own_angle) {
  const Fitting two = fitting_from(
      "tee",
      with(k_lateral,
           {{"length", "2400"}, {"branch_diameter", "250&250"}, {"around", "0&120"}, {"turn_to", "90&45"}}));
  EXPECT_EQ(two.pieces.size(), 5u);  // the second looks there as it stands
  const std::vector<Port> ports = ports_of(two);
  EXPECT_NEAR(ports.at(2).frame.z.z, 0.0, 1e-12);
  EXPECT_NEAR(ports.at(3).frame.z.z, std::sqrt(0.5), 1e-12);
}

TEST(Turned, what_cannot_be) {
  const auto refused = [](const Flags& more, const std::string& why) {
    const std::string said = refusal("tee", with(k_lateral, more));
    EXPECT_TRUE(has(said, why)) << said;
  };
  refused({{"pieces", "4"}}, "pieces = 4: only a branch that turns has a bend (allowed: with turn_to)");
  refused({{"turn_to", "90&0"}}, "2 values for 1 branches");
  refused({{"turn_to", "90"}, {"centreline_radius", "150"}}, "the throat of a piece would be");
  refused({{"turn_to", "180"}, {"pieces", "2"}}, "the steepest mitre is 60");
  refused({{"turn_to", "90"}, {"radius_ratio", "2"}, {"centreline_radius", "450"}}, "give only one");
  refused({{"turn_to", "90"}, {"branch_length", "100"}}, "the branch has only -285.98 mm left on its metal");
}

// A branch that turns to the body's far end, 900 + 1.5 x 250 = 1275 from its axis, and goes on 600 + 375 + c
// along, comes up against the one that stands straight out at 1500 where 975 + c = 1500 - 125, less the
// gauge.
TEST(Turned, branches_that_turn_into_one_another) {
  const Flags two{{"length", "3000"},       {"branch_diameter", "250&250"},
                  {"position", "600&1500"}, {"branch_length", "900&1700"},
                  {"angle", "90"},          {"turn_to", "0&90"}};
  const auto made = [&](const char* collar) {
    return refusal("tee", with(with(k_lateral, two), {{"collar", collar}, {"gauge", "1"}}));
  };
  EXPECT_EQ(made("0"), "(made)");
  EXPECT_EQ(made("398.9"), "(made)");
  EXPECT_TRUE(has(made("399.1"), "branches 1 and 2 run into each other where they turn")) << made("399.1");
  EXPECT_TRUE(has(made("900"), "run into each other where they turn"));
}

// Long pieces side by side with little between them: a plane stands between two hulls however near they are.
TEST(Turned, hulls_that_are_close_are_told_apart) {
  Fitting row;
  const auto wall = [&](double x) {
    const int index = add_wall(row, Sheet::cylinder(frame_along({x, 0, 0}, {0, 0, 1}, {1, 0, 0}), 200.0));
    add_open_end(row, index, End::low, 0.0);
    add_open_end(row, index, End::high, 3000.0);
    return index;
  };
  const int first = wall(0.0);
  for (const double gap : {100.0, 10.0, 1.0, 0.1, 0.01}) {
    EXPECT_TRUE(walls_apart(row, first, wall(400.0 + gap), 0.0)) << gap;
    EXPECT_FALSE(walls_apart(row, first, wall(400.0 - gap), 0.0)) << gap;
  }
}
