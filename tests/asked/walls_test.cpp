// The second set of formulas against printed values.
#include <gtest/gtest.h>

#include "flat.hpp"
#include "kinds.hpp"

namespace linerwright::asked {
namespace {

Request request_of(const std::string& kind, std::map<std::string, std::string> written) {
  Request request;
  request.kind = kind;
  request.written = std::move(written);
  return request;
}

// E. M. Longfield, Sheet Metal Drafting (1921), p. 52: a two-piece elbow of 60 degrees, throat 3 in, diameter
// 4 1/2 in; 1.7321, 3.0311 and 4.3301 in at throat, middle and heel (worked out from its figures).
TEST(AskedWalls, TwoPieceElbow) {
  const Wanted elbow = wanted(request_of("elbow", {{"diameter", "4.5in"},
                                                   {"angle", "60"},
                                                   {"pieces", "2"},
                                                   {"centreline_radius", "5.25in"},
                                                   {"thickness", "0.5in"}}));
  ASSERT_EQ(elbow.walls.size(), 2u);
  EXPECT_NEAR(elbow.walls[0].high(0.0, 0.0) / 25.4, 1.73205, 5e-6);
  EXPECT_NEAR(elbow.walls[0].high(k_pi / 2.0, 0.0) / 25.4, 3.03109, 5e-6);
  EXPECT_NEAR(elbow.walls[0].high(k_pi, 0.0) / 25.4, 4.33013, 5e-6);
  // both cuts are one plane: a point of the first piece's edge lies on the second's
  const Place here = elbow.walls[0].at(0.7, elbow.walls[0].high(0.7, 5.0), 5.0);
  const Place there = elbow.walls[1].at(0.7, elbow.walls[1].low(0.7, 5.0), 5.0);
  EXPECT_NEAR(size(here - there), 0.0, 1e-9);
}

// D 315, R 472.5, five pieces of 90 degrees, liner 25 (truncated cylinders of mean height): 17 125 429 mm3.
TEST(AskedWalls, ElbowVolume) {
  const Wanted elbow = wanted(
      request_of("elbow", {{"diameter", "315"}, {"angle", "90"}, {"pieces", "5"}, {"thickness", "25"}}));
  double liner = 0.0;
  for (const Wall& wall : elbow.walls) {
    liner += piece_volume(wall, 0.0, 25.0);
    EXPECT_NEAR(piece_volume(wall, 0.0, 25.0) / layer_volume(wall, 0.0, 25.0), 1.0, 2e-7);
  }
  EXPECT_NEAR(liner, 17125429.0, 1.0);
  EXPECT_NEAR(inside_volume(elbow, 0.0), k_pi * 315.0 * 315.0 / 4.0 * 751.88875, 500.0);
}

// Ducts of 8 and 5 in, 4 in apart: radii 7.12 and 11.39 in, 126.4 degrees (a published worked example of a
// frustum).
TEST(AskedWalls, FrustumAsSector) {
  const Request request = request_of("reducer", {{"diameter", "8in"},
                                                 {"to_diameter", "5in"},
                                                 {"length", "4in"},
                                                 {"thickness", "1in"},
                                                 {"fit_allowance", "0"}});
  const Wanted taper = wanted(request);
  const Flat flat = flat_of({&taper.walls[0], 0.0, k_turn, {}, {}}, request, 0.0);
  const double sector = radians(126.40444);
  const double outer = 11.392005 * 25.4;
  const auto& c = flat.duct_corners;
  EXPECT_NEAR(std::hypot(c[1][0] - c[0][0], c[1][1] - c[0][1]), 2.0 * outer * std::sin(sector / 2.0), 1e-3);
  EXPECT_NEAR(std::hypot(c[3][0] - c[0][0], c[3][1] - c[0][1]), 4.2720019 * 25.4, 1e-4);
  EXPECT_NEAR(inside_volume(taper, 0.0) / (25.4 * 25.4 * 25.4), 135.08848, 1e-4);
}

// E. A. Atkins' tapered connecting pipe: radii 200 and 125, 300 long, flat on one side; elements by
// triangulation.
TEST(AskedWalls, FlatSidedTaperElements) {
  const Request request = request_of("reducer", {{"diameter", "400"},
                                                 {"to_diameter", "250"},
                                                 {"length", "300"},
                                                 {"thickness", "25"},
                                                 {"flat", "true"}});
  const Wanted taper = wanted(request);
  const double elements[] = {300.0000, 302.5016, 309.2329, 318.1981, 326.9174, 333.1558, 335.4102};
  for (int i = 0; i < 7; ++i) EXPECT_NEAR(taper.walls[0].full_ruling(radians(30.0 * i)), elements[i], 5e-5);
}

// Branch 200 on body 300 (radii 100 and 150), square and at 45 degrees: heights of the saddle, worked out
// with the formula of any book on pattern drafting; hole area 4 R^2 (E - (1 - k^2) K) = 33 545.980 mm2.
TEST(AskedWalls, SaddleAndHole) {
  const auto tee = [](const char* angle) {
    return wanted(request_of("tee", {{"diameter", "300"},
                                     {"length", "900"},
                                     {"branch_diameter", "200"},
                                     {"branch_length", "400"},
                                     {"angle", angle},
                                     {"thickness", "25"}}));
  };
  const double square[] = {150.0000, 141.4214, 122.4745, 111.8034};
  const double slanted[] = {312.1320, 286.6025, 223.2051, 158.1139, 123.2051, 113.3975, 112.1320};
  const Wanted upright = tee("90");
  const Wanted lateral = tee("45");
  for (int i = 0; i < 4; ++i) EXPECT_NEAR(upright.walls[1].low(radians(30.0 * i), 0.0), square[i], 5e-5);
  for (int i = 0; i < 7; ++i) EXPECT_NEAR(lateral.walls[1].low(radians(30.0 * i), 0.0), slanted[i], 5e-5);
  EXPECT_NEAR(k_pi * 300.0 * 900.0 - area_at(upright.walls[0], 0.0), 33545.980, 0.2);
}

// Two equal bends against each other, by plane geometry. R 600, 45 degrees, 300 between: carried 563.603897
// over 1060.660172, gored centreline 1254.779363 of three-piece bends, liner pi (400 25 - 25 25) times that;
// R 400, 250 over 900: 17.900177 degrees, 687.386354 between.
TEST(AskedWalls, Offsets) {
  const Wanted even = wanted(request_of("offset", {{"diameter", "400"},
                                                   {"offset", "563.603897"},
                                                   {"angle", "45"},
                                                   {"centreline_radius", "600"},
                                                   {"thickness", "25"},
                                                   {"pieces", "3"}}));
  ASSERT_EQ(even.walls.size(), 5u);
  const Place end = even.ends.back().centre;
  EXPECT_NEAR(end[0], 563.603897, 1e-6);
  EXPECT_NEAR(end[1], 0.0, 1e-9);
  EXPECT_NEAR(end[2], 1060.660172, 1e-6);
  double liner = 0.0;
  for (const Wall& wall : even.walls) liner += piece_volume(wall, 0.0, 25.0);
  EXPECT_NEAR(liner, 36956302.8, 10.0);
  const Wanted over = wanted(request_of("offset", {{"diameter", "250"},
                                                   {"offset", "250"},
                                                   {"length", "900"},
                                                   {"centreline_radius", "400"},
                                                   {"thickness", "25"},
                                                   {"pieces", "3"}}));
  EXPECT_NEAR(size(over.ends.back().centre - Place{250.0, 0.0, 900.0}), 0.0, 1e-6);
  const Wall& middle = over.walls[2];
  EXPECT_NEAR(middle.axis[0], std::sin(radians(17.900177)), 1e-8);
  EXPECT_NEAR(middle.high(k_pi / 2.0, 0.0) - middle.low(k_pi / 2.0, 0.0),
              687.386354 + 2.0 * 400.0 * std::tan(radians(17.900177 / 4.0)), 1e-5);
  // each cut is one plane: the pieces on both sides of it meet all round
  for (std::size_t k = 0; k + 1 < over.walls.size(); ++k)
    for (const double theta : {0.3, 2.0, 4.4}) {
      const Wall& here = over.walls[k];
      const Wall& there = over.walls[k + 1];
      EXPECT_NEAR(
          size(here.at(theta, here.high(theta, 9.0), 9.0) - there.at(theta, there.low(theta, 9.0), 9.0)), 0.0,
          1e-9);
    }
}
// Legs about one sphere, worked out from it: R 250, legs of 400 and 300 at 600, 30 degrees to either side.
// Half angles 4.848783 and 9.806393; liner 25 thick 38504442 mm3, of which the inlet's 10275176, the legs'
// 15542074 and 12687192; rulings of the wider leg begin at 55.7699 (heel), -9.8235 (a quarter) and 327.8443
// (crotch) from the sphere.
TEST(AskedWalls, Wye) {
  const Wanted two = wanted(request_of("wye", {{"diameter", "500"},
                                               {"inlet_length", "300"},
                                               {"leg_diameter", "400 & 300"},
                                               {"leg_length", "600"},
                                               {"angle", "30"},
                                               {"thickness", "25"}}));
  ASSERT_EQ(two.walls.size(), 3u);
  EXPECT_NEAR(std::atan(two.walls[1].lean(0.0)), radians(4.848783), 1e-8);
  EXPECT_NEAR(std::atan(two.walls[2].lean(0.0)), radians(9.806393), 1e-8);
  const double volumes[] = {10275176, 15542074, 12687192};
  for (std::size_t k = 0; k < 3; ++k)
    EXPECT_NEAR(piece_volume(two.walls[k], 0.0, 25.0) / volumes[k], 1.0, 1e-6);
  EXPECT_NEAR((inside_volume(two, 0.0) - inside_volume(two, 25.0)) / 38504442.0, 1.0, 1e-6);
  EXPECT_NEAR(two.walls[1].low(0.0, 0.0), 55.7699, 1e-4);
  EXPECT_NEAR(two.walls[1].low(k_pi / 2.0, 0.0), -9.8235, 1e-4);
  EXPECT_NEAR(two.walls[1].low(k_pi, 0.0), 327.8443, 1e-4);
  EXPECT_NEAR(two.walls[1].low(k_pi, 25.0), 0.9 * 327.8443, 1e-4);
}

TEST(AskedWalls, DepthOfAPoint) {
  const Wanted taper = wanted(request_of("reducer", {{"diameter", "500"},
                                                     {"to_diameter", "300"},
                                                     {"length", "400"},
                                                     {"offset", "60"},
                                                     {"thickness", "25"}}));
  const Wall& wall = taper.walls[0];
  for (const double theta : {0.1, 1.7, 3.0, 5.2}) {
    EXPECT_NEAR(wall.depth_of(wall.at(theta, 120.0, 17.0)), 17.0, 1e-6);
    EXPECT_NEAR(std::remainder(wall.ruling_over(wall.at(theta, 120.0, 17.0)) - theta, k_turn), 0.0, 1e-5);
  }
}

// A branch meant to touch its body's side begins level with the body's axis there: 898.0991 on 934.4730,
// 18.18694 off centre instead of 18.18695. So does an equal one, whatever its angle.
TEST(AskedWalls, BranchesMeantTangentAreTangent) {
  const auto branch = [](const char* diameter, const char* offset, const char* angle) {
    return wanted(request_of("tee", {{"diameter", "934.473"},
                                     {"branch_diameter", diameter},
                                     {"offset", offset},
                                     {"angle", angle},
                                     {"length", "7803"},
                                     {"branch_length", "2549.8"},
                                     {"thickness", "25"}}))
        .walls.at(1);
  };
  const Wall tangent = branch("898.0991", "18.18694", "90");
  const double least = std::min(tangent.low(k_pi / 2.0, 0.0), tangent.low(3.0 * k_pi / 2.0, 0.0));
  EXPECT_NEAR(least, 0.0, 1e-12);
  // a hundredth of a millimetre off is not rounding: sqrt(R^2 - (R - 0.01)^2) = 3.05690 mm
  const Wall near = branch("898.0991", "18.17695", "90");
  EXPECT_NEAR(std::min(near.low(k_pi / 2.0, 0.0), near.low(3.0 * k_pi / 2.0, 0.0)), 3.05690, 1e-4);
  const Wall equal = branch("934.473", "0", "20.0879");
  for (const double psi : {k_pi / 2.0, 3.0 * k_pi / 2.0})
    for (const double w : {0.0, 25.0}) EXPECT_NEAR(equal.low(psi, w), 0.0, 1e-9) << psi << " " << w;
}

// A tap's cavity by sections of its branch: beyond a cylinder R a branch r at 90 degrees to L holds pi r^2 L
// less half of what both cylinders have in common (Hubbell 1965: 8 867 013.7 mm3 of radii 100 and 150).
TEST(AskedWalls, TapVolumes) {
  const auto of = [](const char* joint) {
    const Request request = request_of("tap", {{"diameter", "300"},
                                               {"branch_diameter", "200"},
                                               {"branch_length", "400"},
                                               {"joint", joint},
                                               {"thickness", "25"}});
    return shells_of(request);
  };
  const double beyond = k_pi * 100.0 * 100.0 * 400.0 - 0.5 * 8867013.7;
  EXPECT_NEAR(inside_volume(of("over"), 0.0), beyond, 1.0);
  // mitred: what lies beyond the opening of the bore is the bore's and the liner's
  const Wanted mitred = of("mitre");
  const double bore = inside_volume(mitred, 25.0);
  EXPECT_NEAR(inside_volume(mitred, 0.0) - bore, piece_volume(mitred.walls.at(0), 1e-12, 25.0), 200.0);
  // the metal on the outside of the duct's
  const Wall& metal = mitred.walls.at(0);
  EXPECT_NEAR(metal.low(0.0, -0.8), std::sqrt(150.8 * 150.8), 1e-9);
  EXPECT_NEAR(metal.low(k_pi / 2.0, 0.0), std::sqrt(150.8 * 150.8 - 100.0 * 100.0), 1e-9);
}

// Contours by which cuts are judged stay within a micron or so of their curves: half way between two of a
// saddle's angles, where branch and body nearly touch.
TEST(AskedWalls, ContoursBendAsCloselyAsTheirCurves) {
  const Request request = request_of("tee", {{"diameter", "1443.1687"},
                                             {"branch_diameter", "209.3674"},
                                             {"angle", "27.6577"},
                                             {"offset", "-616.28372"},
                                             {"length", "19262"},
                                             {"branch_length", "5043.3"},
                                             {"thickness", "37.629"},
                                             {"fit_allowance", "0"}});
  const Wanted tee = wanted(request);
  const Wall& wall = tee.walls.at(1);
  const Flat flat = flat_of({&wall, 0.0, k_turn, {}, {}}, request, 0.0);
  std::vector<Point> exact;
  for (int i = 0; i < 20000; ++i) {
    const double theta = k_turn * (i + 0.5) / 20000;
    exact.push_back({flat.width * theta / k_turn, wall.low(theta, 0.0)});
  }
  EXPECT_LT(stray(exact, flat.duct), 0.002);
}

}  // namespace
}  // namespace linerwright::asked
