// Elbows against the pattern books and the truncated cylinder.
#include <gtest/gtest.h>

#include <algorithm>

#include "fitting/helpers.hpp"
#include "support/elliptic.hpp"

using namespace linerwright;

namespace {

Flags elbow(double diameter, double centreline, double degrees, int pieces) {
  // a thin liner and gauge, so that inch sizes of the books are made as they stand
  return {{"diameter", mm(diameter)},
          {"centreline_radius", mm(centreline)},
          {"angle", mm(degrees)},
          {"pieces", std::to_string(pieces)},
          {"thickness", "2"},
          {"fit_allowance", "0"},
          {"gauge", "0.5"}};
}

// Ordinates of the first piece's upper edge from the pipe's end, theta = 0 being the throat.
double ordinate(const Fitting& fitting, double degrees) {
  return liner_end(fitting, 0, End::high, degrees * k_degree, 0.0);
}

const Flags k_usual{{"diameter", "315"}, {"angle", "90"}, {"pieces", "5"}, {"thickness", "25"}};

}  // namespace

TEST(Elbow, rises_of_the_mitre_lines) {
  // Rise of mitre line k = theta (2 k - 1), theta = A / (2 (n - 1)), n pieces with both end pieces counted.
  // E. M. Longfield, Sheet Metal Drafting, p. 59: 5-piece 90 degrees gives 11 1/4, 33 3/4, 56 1/4, 78 3/4
  // (printed); the others are his problems 13B, 13C and 13D to 13J, whose answers he leaves to the reader
  // but which one pattern serves (13K): all of the last have the same mitre.
  struct Case {
    double angle;
    int pieces;
    std::vector<double> rises;
  };
  std::vector<Case> all{
      {90, 5, {11.25, 33.75, 56.25, 78.75}}, {75, 4, {12.5, 37.5, 62.5}}, {90, 3, {22.5, 67.5}}};
  for (int n = 2; n <= 8; ++n) {
    std::vector<double> rises;
    for (int k = 1; k < n; ++k) rises.push_back(6.0 * (2 * k - 1));
    all.push_back({12.0 * (n - 1), n, rises});
  }
  for (const Case& c : all) {
    const Fitting fitting = fitting_from("elbow", elbow(300, 450, c.angle, c.pieces));
    SCOPED_TRACE(std::to_string(c.angle) + " in " + std::to_string(c.pieces));
    EXPECT_NEAR(fact(fitting, "mitre_angle") / k_degree, c.rises[0], 1e-9);
    for (std::size_t k = 0; k < c.rises.size(); ++k) {
      EXPECT_NEAR(fact(fitting, "rise_" + std::to_string(k + 1)) / k_degree, c.rises[k], 1e-9);
      // and the mitre planes really stand there, about the centre of the bend
      const auto& plane = std::get<PlaneTarget>(fitting.joint(fitting.walls[k].high.joint).target);
      EXPECT_NEAR(std::atan2(plane.normal.x, plane.normal.z) / k_degree, c.rises[k], 1e-9);
      EXPECT_LT(distance(plane.point, {450, 0, 0}), 1e-9);
    }
    EXPECT_EQ(fitting.pieces.size(), c.rises.size() + 1);
    EXPECT_THROW(fact(fitting, "rise_" + std::to_string(c.pieces)), std::out_of_range);
  }
}

TEST(Elbow, ninety_degrees_by_the_number_of_pieces) {
  // Angle of the mitre 90 / (2 (n - 1)) and length of the centre lines 2 (n - 1) R tan theta.
  const double share[] = {2, 1.6568542, 1.6076952, 1.5912989, 1.5838444, 1.5798300};
  const double degrees[] = {45, 22.5, 15, 11.25, 9, 7.5};
  for (int n = 2; n <= 7; ++n) {
    const Fitting fitting = fitting_from("elbow", elbow(300, 450, 90, n));
    EXPECT_NEAR(fact(fitting, "mitre_angle") / k_degree, degrees[n - 2], 1e-9);
    EXPECT_NEAR(fitting.passages.at(0).stations.back().distance / 450, share[n - 2], 5e-8);
  }
}

TEST(Elbow, lengths_of_pipe_pieces) {
  // pipingengineer.org, "Formula for miter fabrication from pipe": R 381, OD 273, 90 degrees with four cuts:
  // L1 151.6 (middle piece 2 R tan theta), L2 75.8 (end piece R tan theta), cutback 27.15 mm (D/2 tan theta);
  // the third decimals are computed.
  const Fitting fitting = fitting_from("elbow", elbow(273, 381, 90, 5));
  const double end = ordinate(fitting, 90) - liner_end(fitting, 0, End::low, k_pi / 2, 0);
  const double middle =
      liner_end(fitting, 1, End::high, k_pi / 2, 0) - liner_end(fitting, 1, End::low, k_pi / 2, 0);
  const double cutback = ordinate(fitting, 180) - ordinate(fitting, 90);
  EXPECT_NEAR(middle, 151.6, 0.05);
  EXPECT_NEAR(end, 75.8, 0.05);
  EXPECT_NEAR(cutback, 27.15, 0.005);
  EXPECT_NEAR(middle, 151.571, 5e-4);
  EXPECT_NEAR(end, 75.786, 5e-4);
  EXPECT_NEAR(cutback, 27.152, 5e-4);
}

TEST(Elbow, four_piece_elbow_of_the_pattern_course) {
  // B. Coey, Pattern Development: Sheet Metal Level 1 (BCcampus 2021, CC BY 4.0), ch. 19: D 6 in, throat
  // radius 6 in, four pieces for 90 degrees. Six half segments of 9 tan 15 degrees = 2.41154 in. The course
  // measures 2 7/16 in off its drawing, the next sixteenth, and makes the blank six of those, 14 5/8 in.
  const Fitting fitting = fitting_from("elbow", elbow(6 * k_inch, 9 * k_inch, 90, 4));
  const double half = ordinate(fitting, 90) / k_inch;
  EXPECT_NEAR(half, 2.41154, 5e-6);
  EXPECT_EQ(std::lround(half * 16), 2 * 16 + 7);
  EXPECT_NEAR(6 * std::round(half * 16) / 16, 14.625, 1e-12);
  EXPECT_NEAR(fitting.passages.at(0).stations.back().distance / k_inch, 14.4693, 5e-5);
  EXPECT_NEAR(stretch_out(fitting, 0) / k_inch, 18.8496, 5e-5);
  const double ordinates[] = {1.60770, 1.71539, 2.00962, 2.41154, 2.81347, 3.10770, 3.21539};
  for (int i = 0; i < 12; ++i)
    EXPECT_NEAR(ordinate(fitting, 30 * i) / k_inch, ordinates[i <= 6 ? i : 12 - i], 5e-6);
}

TEST(Elbow, ordinates_from_the_pipe_end) {
  // y = R tan theta - D/2 tan theta cos(station), station 0 in the throat. Dimensions of the first:
  // Longfield, p. 52 (two pieces, 60 degrees, D 4 1/2 in, throat 3 in, 16 stations).
  const Fitting two = fitting_from("elbow", elbow(4.5 * k_inch, 5.25 * k_inch, 60, 2));
  const double of_two[] = {1.73205, 1.83093, 2.11253, 2.53397, 3.03109, 3.52821, 3.94965, 4.23124, 4.33013};
  for (int i = 0; i < 16; ++i)
    EXPECT_NEAR(ordinate(two, 22.5 * i) / k_inch, of_two[i <= 8 ? i : 16 - i], 5e-6) << i;

  const Fitting metric = fitting_from("elbow", elbow(315, 472.5, 90, 5));
  const double of_metric[] = {-31.32870, -27.13145, -15.66435, 0, 15.66435, 27.13145, 31.32870};
  for (int i = 0; i < 12; ++i)
    EXPECT_NEAR(ordinate(metric, 30 * i) - 93.98609, of_metric[i <= 6 ? i : 12 - i], 1.1e-5) << i;

  const Fitting foot = fitting_from("elbow", elbow(12 * k_inch, 18 * k_inch, 90, 5));
  EXPECT_NEAR(ordinate(foot, 0) / k_inch, 2.386948, 5e-7);
  EXPECT_NEAR(ordinate(foot, 90) / k_inch, 3.580423, 5e-7);
  EXPECT_NEAR(ordinate(foot, 180) / k_inch, 4.773897, 5e-7);
}

TEST(Elbow, middle_piece_of_three_stands_at_45_degrees) {
  // G. W. Kittredge, The New Metal Worker Pattern Book, problem 40: the middle piece's axis at 45 degrees to
  // both arms.
  const Fitting fitting = fitting_from("elbow", elbow(300, 450, 90, 3));
  for (const std::size_t arm : {std::size_t{0}, std::size_t{2}})
    EXPECT_NEAR(dot(fitting.walls[1].sheet.frame().z, fitting.walls[arm].sheet.frame().z), std::sqrt(0.5),
                1e-12);
}

TEST(Elbow, edges_are_ellipses) {
  // (2 D / cos theta) E(k = sin theta) at any depth.
  struct Case {
    double diameter, centreline, angle;
    int pieces;
    double unit, length;
  };
  for (const Case& c :
       {Case{315, 472.5, 90, 5, 1.0, 999.31892}, Case{6 * k_inch, 9 * k_inch, 90, 4, k_inch, 19.183467},
        Case{4.5 * k_inch, 5.25 * k_inch, 60, 2, k_inch, 15.250315}}) {
    const Fitting fitting = fitting_from("elbow", elbow(c.diameter, c.centreline, c.angle, c.pieces));
    const double theta = fact(fitting, "mitre_angle");
    const Joint& joint = fitting.joint(fitting.walls[0].high.joint);
    for (const double w : {0.0, 2.0, -0.5}) {
      const double exact = 2 * (c.diameter - 2 * w) / std::cos(theta) * support::elliptic_e(std::sin(theta));
      EXPECT_NEAR(joint_length(joint, shell_depths(w)), exact, 1e-9 * exact);
    }
    EXPECT_NEAR(joint_length(joint, shell_depths(0)) / c.unit / c.length, 1.0, 3e-8);
  }
}

TEST(Elbow, volumes_and_areas_of_truncated_cylinders) {
  // Mean height rule (mathwords.com, Cylindrical Segment): V = pi rho^2 2 (n - 1) R tan theta, area 2 pi rho
  // times the same length. D 315, R 472.5, n 5, t 25.
  const Fitting fitting = fitting_from("elbow", k_usual);
  const double length = 8 * 472.5 * std::tan(11.25 * k_degree);
  EXPECT_NEAR(length, 751.88875, 5e-6);
  EXPECT_NEAR(shell_volume(fitting, 0), 58595542, 0.5);
  EXPECT_NEAR(shell_volume(fitting, 0) - shell_volume(fitting, 25), 17125429, 0.5);
  EXPECT_NEAR(total_wall_area(fitting, 0), 744070.4, 0.05);
  for (const double w : {-0.8, 0.0, 12.5, 25.0}) {
    EXPECT_NEAR(shell_volume(fitting, w) / (k_pi * square(157.5 - w) * length), 1.0, 1e-10);
    EXPECT_NEAR(total_wall_area(fitting, w) / (k_two_pi * (157.5 - w) * length), 1.0, 1e-11);
    EXPECT_NEAR(wall_area(fitting, 0, w) / (k_two_pi * (157.5 - w) * length / 8), 1.0, 1e-11);
  }
  // collars add a cylinder at either end
  const Fitting collared = fitting_from("elbow", with(k_usual, {{"collar", "75"}}));
  EXPECT_NEAR(shell_volume(collared, 25) / (k_pi * square(132.5) * (length + 150)), 1.0, 1e-10);
}

TEST(Elbow, seams_alternate_between_throat_and_heel) {
  for (const char* first : {"throat", "heel"})
    for (const char* pieces : {"2", "5", "6"}) {
      const Fitting fitting = fitting_from("elbow", with(k_usual, {{"seam", first}, {"pieces", pieces}}));
      for (std::size_t i = 0; i < fitting.pieces.size(); ++i) {
        const bool throat = (i % 2 == 0) == (std::string(first) == "throat");
        const Piece& piece = fitting.pieces[i];
        EXPECT_EQ(piece.seam_place, throat ? "throat" : "heel");
        // the seam's ruling is nearest to, or farthest from, the centre of the bend
        const Sheet& sheet = fitting.walls[i].sheet;
        const double from_centre = distance(sheet.point(piece.seam, 0, 0), {472.5, 0, 0});
        EXPECT_NEAR(from_centre, 472.5 + (throat ? -157.5 : 157.5), 1e-9);
        EXPECT_EQ(piece.role, i == 0 || i + 1 == fitting.pieces.size() ? "end piece" : "middle piece");
      }
    }
}

TEST(Elbow, goes_in_from_the_middle_outward) {
  for (const int n : {2, 3, 4, 5, 8, 12}) {
    const Fitting fitting = fitting_from("elbow", with(k_usual, {{"pieces", std::to_string(n)}}));
    std::vector<int> order = fitting.insertion;
    ASSERT_EQ(order.size(), static_cast<std::size_t>(n));
    int low = order[0];
    int high = order[0];
    EXPECT_LE(std::abs(2 * low - (n - 1)), 1);  // the middle, or one of the middle two
    for (std::size_t i = 1; i < order.size(); ++i) {
      EXPECT_TRUE(order[i] == low - 1 || order[i] == high + 1) << n << ' ' << i;  // beside what is already in
      low = std::min(low, order[i]);
      high = std::max(high, order[i]);
    }
    EXPECT_EQ(low, 0);
    EXPECT_EQ(high, n - 1);
    ASSERT_EQ(fitting.blanks.size(), 1U);
    ASSERT_EQ(fitting.blanks[0].pieces.size(), static_cast<std::size_t>(n));
    for (int i = 0; i < n; ++i) EXPECT_EQ(fitting.blanks[0].pieces[static_cast<std::size_t>(i)], i);
    // neighbours name each other
    for (int i = 0; i < n; ++i) {
      const auto& next = fitting.piece(i).next;
      EXPECT_EQ(next.size(), i == 0 || i == n - 1 ? 1U : 2U);
      for (const int other : {i - 1, i + 1})
        if (other >= 0 && other < n) {
          EXPECT_EQ(std::count(next.begin(), next.end(), std::to_string(other + 1)), 1);
        }
    }
  }
}

TEST(Elbow, ends_stand_on_the_tangents_and_the_bore_is_stated) {
  const Fitting fitting =
      fitting_from("elbow", with(k_usual, {{"angle", "60"}, {"pieces", "4"}, {"collar", "50"}}));
  ASSERT_EQ(fitting.passages.size(), 1U);
  const std::vector<Station>& stations = fitting.passages[0].stations;
  const Vec3 turn{std::sin(60 * k_degree), 0, std::cos(60 * k_degree)};
  const Vec3 tangent_point{472.5 * (1 - std::cos(60 * k_degree)), 0, 472.5 * std::sin(60 * k_degree)};
  EXPECT_LT(distance(stations.front().plane.point, {0, 0, -50}), 1e-9);
  EXPECT_LT(distance(stations.front().plane.normal, {0, 0, 1}), 1e-12);
  EXPECT_LT(distance(stations.back().plane.point, tangent_point + 50 * turn), 1e-9);
  EXPECT_LT(distance(stations.back().plane.normal, turn), 1e-12);
  EXPECT_NEAR(stations.back().distance, 6 * 472.5 * std::tan(10 * k_degree) + 100, 1e-9);
  for (std::size_t i = 0; i < stations.size(); ++i) {
    EXPECT_EQ(stations[i].bare_diameter, 315);
    EXPECT_EQ(stations[i].lined_diameter, 265);
    EXPECT_NEAR(stations[i].lined_area, k_pi * square(132.5), 1e-9);
    if (i > 0) {
      EXPECT_GT(stations[i].distance, stations[i - 1].distance);
    }
  }
  // Ø315 with 25 mm keeps 0.707735 of its area ((D - 2t)/D)^2
  EXPECT_NEAR(stations[1].lined_area / (k_pi * square(157.5)), 0.707735, 5e-7);
  EXPECT_EQ(stations.front().place, "one end");
  EXPECT_EQ(stations.back().place, "other end");
}
