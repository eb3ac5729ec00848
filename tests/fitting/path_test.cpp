// Paths: ends, ways and volumes by closed forms, and against the kinds that they are made of.
#include <gtest/gtest.h>

#include "fitting/helpers.hpp"
#include "linerwright/fitting/port.hpp"

using namespace linerwright;

namespace {

Flags path(const std::string& parts) {
  return {{"diameter", "400"}, {"thickness", "25"}, {"parts", parts}};
}

double liner_volume(const Fitting& fitting) {
  return shell_volume(fitting, 0.0) - shell_volume(fitting, fitting.liner.bore_depth());
}

// Of the piece between two bends on the duct face.
double shortest_side(const Fitting& fitting, int wall) {
  double least = 1e300;
  for (int i = 0; i < 3600; ++i) {
    const double theta = k_two_pi * i / 3600;
    least = std::min(
        least, shell_end(fitting, wall, End::high, theta, 0) - shell_end(fitting, wall, End::low, theta, 0));
  }
  return least;
}

}  // namespace

// Offset: 2 rho (1 - cos A) + L sin A over 2 rho sin A + L cos A; liner pi (D t - t^2) times the gored
// centreline.
TEST(Path, two_bends_make_an_offset) {
  const Fitting fitting =
      fitting_from("path", path("bend 45 radius 600mm, straight 300mm, bend 45 radius 600mm turn 180"));
  EXPECT_NEAR(fact(fitting, "end_toward_zero"), 563.603897, 1e-6);
  EXPECT_NEAR(fact(fitting, "end_along"), 1060.660172, 1e-6);
  EXPECT_NEAR(fact(fitting, "gored_centreline"), 1254.779363, 1e-6);
  EXPECT_NEAR(fact(fitting, "whole_turn"), 0.0, 1e-9);
  EXPECT_NEAR(liner_volume(fitting), 36956302.8, 0.1);
  const Fitting offset = fitting_from("offset", {{"diameter", "400"},
                                                 {"thickness", "25"},
                                                 {"offset", "563.603897"},
                                                 {"angle", "45"},
                                                 {"centreline_radius", "600"},
                                                 {"pieces", "3"}});
  ASSERT_EQ(fitting.walls.size(), offset.walls.size());
  for (int w = 0; w < static_cast<int>(offset.walls.size()); ++w)
    for (const double theta : {0.0, 1.0, 2.0, 3.0, 5.0})
      for (const double depth : {0.0, 25.0})
        EXPECT_NEAR(
            liner_end(fitting, w, End::high, theta, depth) - liner_end(fitting, w, End::low, theta, depth),
            liner_end(offset, w, End::high, theta, depth) - liner_end(offset, w, End::low, theta, depth),
            1e-5);
}

// Rise 300, roll 400: the plane of the bends turned by atan2(roll, rise) = 53.130102 degrees, 334.314575
// between.
TEST(Path, rolling_offset) {
  const Fitting fitting = fitting_from(
      "path",
      path("bend 45 radius 450mm turn 53.13010235, straight 334.314575mm, bend 45 radius 450mm turn 180"));
  EXPECT_NEAR(fact(fitting, "end_toward_zero"), 300.0, 1e-5);
  EXPECT_NEAR(fact(fitting, "end_aside"), 400.0, 1e-5);
  EXPECT_NEAR(fact(fitting, "end_along"), 872.792206, 1e-5);
}

// The second bend's plane turned by tau: whole change of direction acos(cos^2 A - sin^2 A cos tau).
TEST(Path, bends_in_two_planes) {
  const Fitting fitting =
      fitting_from("path", path("bend 45 radius 450mm, straight 200mm, bend 45 radius 450mm turn 90"));
  EXPECT_NEAR(fact(fitting, "end_toward_zero"), 498.223305, 1e-6);
  EXPECT_NEAR(fact(fitting, "end_aside"), 131.801948, 1e-6);
  EXPECT_NEAR(fact(fitting, "end_along"), 684.619408, 1e-6);
  EXPECT_NEAR(fact(fitting, "whole_turn") / k_degree, 60.0, 1e-9);
  const Vec3 way = ports_of(fitting)[1].frame.z;
  EXPECT_NEAR(distance(way, {0.5, std::sqrt(0.5), 0.5}), 0.0, 1e-12);
  ASSERT_EQ(fitting.blanks.size(), 1U);
  EXPECT_EQ(fitting.blanks[0].pieces.size(), 5U);
}

// A middle of no length: L + 2 rho tan al on the axis less 2 r tan al |cos(tau/2)| on its shortest side.
TEST(Path, bends_in_a_row) {
  const double sides[][2] = {{0, 99.4562}, {90, 122.7602}, {180, 179.0211}};
  for (const auto& [tau, side] : sides) {
    const Fitting fitting =
        fitting_from("path", path("bend 45 radius 450mm, bend 45 radius 450mm turn " + mm(tau)));
    EXPECT_NEAR(shortest_side(fitting, 2), side, 1e-3) << tau;
  }
}

TEST(Path, is_the_kinds_that_it_is_made_of) {
  const Fitting elbow = fitting_from(
      "elbow",
      {{"diameter", "400"}, {"thickness", "25"}, {"angle", "75"}, {"pieces", "4"}, {"collar", "80"}});
  const Fitting bend = fitting_from("path", path("straight 80mm, bend 75 pieces 4, straight 80mm"));
  EXPECT_NEAR(liner_volume(bend) / liner_volume(elbow), 1.0, 1e-12);
  EXPECT_NEAR(distance(ports_of(bend)[1].frame.origin, ports_of(elbow)[1].frame.origin + Vec3{0, 0, 80}), 0.0,
              1e-9);
  const Flags reducer{{"diameter", "400"}, {"to_diameter", "250"}, {"length", "300"}, {"thickness", "25"}};
  EXPECT_NEAR(
      liner_volume(fitting_from("path", path("straight 80mm, taper to 250mm over 300mm, straight 60mm"))) /
          liner_volume(fitting_from("reducer", with(reducer, {{"collar", "80"}, {"to_collar", "60"}}))),
      1.0, 1e-12);
  EXPECT_NEAR(liner_volume(fitting_from("path", path("taper to 250mm over 300mm"))) /
                  liner_volume(fitting_from("reducer", reducer)),
              1.0, 1e-12);
  EXPECT_NEAR(liner_volume(fitting_from("path", path("straight 2ft"))) /
                  liner_volume(fitting_from("straight",
                                            {{"diameter", "400"}, {"length", "609.6"}, {"thickness", "25"}})),
              1.0, 1e-12);
  const Fitting narrower = fitting_from("path", path("bend 45, taper to 250mm over 300mm, bend 45 turn 180"));
  EXPECT_EQ(narrower.pieces.size(), 7U);
  ASSERT_EQ(narrower.blanks.size(), 2U);  // the gores on either side of the taper share their cuts
  EXPECT_EQ(narrower.blanks[0].pieces, (std::vector<int>{0, 1, 2}));
  EXPECT_EQ(narrower.blanks[1].pieces, (std::vector<int>{4, 5, 6}));
}

// Two tapers on one circle: the corner of a layer t deep lies t (sin p + sin q) / (1 + cos(p - q)) before the
// seam, on the line half way between the two normals; frustums on both sides of it, lost t / cos p at open
// ends.
TEST(Path, two_tapers_in_a_row) {
  for (const double end : {150.0, 250.0, 380.0}) {
    const Fitting fitting =
        fitting_from("path", path("taper to 300mm over 200mm, taper to " + mm(end) + "mm over 300mm"));
    const double p = std::atan2(50.0, 200.0);
    const double q = std::atan2(150.0 - 0.5 * end, 300.0);
    const double walk = 25.0 * (std::sin(p) + std::sin(q)) / (1 + std::cos(p - q));
    const double across = 25.0 * (std::cos(p) + std::cos(q)) / (1 + std::cos(p - q));
    const auto frustum = [](double a, double b, double h) { return k_pi * h / 3 * (a * a + a * b + b * b); };
    const double cavity = frustum(200, 150, 200) + frustum(150, 0.5 * end, 300);
    const double bore = frustum(200 - 25 / std::cos(p), 150 - across, 200 - walk) +
                        frustum(150 - across, 0.5 * end - 25 / std::cos(q), 300 + walk);
    EXPECT_NEAR(shell_volume(fitting, 0) / cavity, 1.0, 1e-10);
    EXPECT_NEAR(shell_volume(fitting, 25) / bore, 1.0, 1e-10);
  }
}

TEST(Path, refusals) {
  const auto refused = [](const std::string& parts, const std::string& why) {
    EXPECT_TRUE(has(refusal("path", path(parts)), why)) << refusal("path", path(parts));
  };
  refused("straight 300", "part 1: '300' names no unit");
  refused("straight 300mm, curve 45", "part 2: it begins with 'curve'");
  refused("straight 300mm,, bend 45", "part 2: it is empty");
  refused("bend 45 over 3in", "part 1: 'over' says nothing of such a part");
  refused("bend 45 bend 30", "part 1: 'bend' stands in it twice");
  refused("bend 200", "lies outside");
  refused("bend 45 pieces 2.5", "pieces is a whole number");
  refused("taper over 300mm", "part 1: 'to' has no value");
  refused("taper to 400mm over 300mm", "the taper ends as wide as it begins");
  refused("taper to 45mm over 300mm", "closes a 45 mm bore (parts)");
  refused("bend 180 pieces 2", "mitred at 90 degrees");
  refused("bend 45 radius 190mm", "layers cross");
  refused("bend 180 pieces 7, bend 180 pieces 7", "would run into each other");
  // ducts side by side, 20 less two gauges between them
  EXPECT_EQ(refusal("path", path("straight 3000mm, bend 180 pieces 9 radius 210mm, straight 3000mm")),
            "(made)");
  EXPECT_EQ(refusal("path", path("bend 180 pieces 7, straight 500mm, bend 180 pieces 7 turn 180")), "(made)");
}

// The same path as one text and as tables of a job file.
TEST(Path, parts_may_be_tables) {
  const std::string head =
      "[job]\nunits = \"mm\"\n[liner]\nthickness = 25\n[[fitting]]\ntag = \"P\"\nkind = \"path\"\ndiameter = "
      "400\n";
  const Job job =
      read_job_text(head +
                        "[[fitting.part]]\nstraight = 300\n[[fitting.part]]\nbend = 45\nturn = 30\npieces = "
                        "4\n[[fitting.part]]\nto = \"300mm\"\nover = 350\n",
                    "job.toml", job_schema());
  ASSERT_TRUE(job.problems.empty());
  const Fitting tables = make_fitting(job.fittings.at(0));
  const Fitting text =
      fitting_from("path", path("straight 300mm, bend 45 turn 30 pieces 4, taper to 300mm over 350mm"));
  ASSERT_EQ(tables.pieces.size(), 5U);
  EXPECT_EQ(tables.pieces.size(), text.pieces.size());
  EXPECT_EQ(shell_volume(tables, 25.0), shell_volume(text, 25.0));
}
