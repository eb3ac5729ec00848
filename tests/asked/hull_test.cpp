// Square-to-rounds as the request's proof has them, against values worked out by hand, by quadrature and by
// counting points. 600 x 400 to round 400, 400 long, unless said.
#include <gtest/gtest.h>

#include <algorithm>
#include <random>

#include "hull_board.hpp"

namespace linerwright::asked {
namespace {

Hull hull(const std::map<std::string, std::string>& more = {}) {
  Request request;
  request.kind = "square_to_round";
  request.written = {
      {"width", "600"}, {"height", "400"}, {"diameter", "400"}, {"length", "400"}, {"thickness", "25"}};
  for (const auto& [key, word] : more) request.written[key] = word;
  return hull_of(request);
}

double from_corner(const HullBoard& board, const Point& p) {
  return std::hypot(p[0] - board.corner(0)[0], p[1] - board.corner(0)[1]);
}

}  // namespace

TEST(Hulls, VolumesAreThoseOfPrismoidsAndOfCountedPoints) {
  // H/3 (A B + (A + B) r + pi r^2), wherever the circle lies
  const double cavity = 400.0 / 3.0 * (600.0 * 400.0 + 1000.0 * 200.0 + k_pi * 200.0 * 200.0);
  EXPECT_NEAR(hull().inside(0.0) / cavity, 1.0, 1e-7);
  EXPECT_NEAR(hull({{"shift_right", "100"}, {"shift_up", "-30"}}).inside(0.0) / cavity, 1.0, 1e-7);
  // by quadrature to 5e-6 of them, confirmed by counting 1.4e7 points
  EXPECT_NEAR(cavity - hull().inside(25.0), 15.8448e6, 15.8448e6 * 5e-6);
  EXPECT_NEAR(cavity - hull().inside(50.0), 29.9355e6, 29.9355e6 * 5e-6);
  EXPECT_NEAR(cavity - hull({{"shift_right", "100"}}).inside(25.0), 16.0198e6, 16.0198e6 * 5e-6);
}

TEST(Hulls, ACollarIsMetAtEqualDepth) {
  const Hull of = hull({{"round_collar", "100"}});
  // rulings at 15..75, 25 deep, on the cylinder of radius 175; on y = 0 the mitre of two cones
  const double heights[] = {395.7183, 395.1913, 395.3707, 396.2564, 397.8310};
  for (int i = 0; i < 5; ++i) {
    const HullRuling on = of.ruling(0, radians(15.0 + 15.0 * i));
    const Place end = on.base + of.stretch(on, 25.0).high * on.way - 25.0 * on.normal;
    EXPECT_NEAR(end[2], heights[i], 5e-5);
    EXPECT_NEAR(of.joint_height(std::atan2(end[1], end[0]), 25.0), end[2], 1e-6);
  }
  EXPECT_NEAR(of.joint_height(0.0, 25.0), 396.8968, 5e-5);
  EXPECT_NEAR(of.joint_corner(0, 25.0), 0.0, 1e-9);
  // a cylinder 100 long more, and the bore of both
  EXPECT_NEAR(of.inside(0.0), hull().inside(0.0) + k_pi * 200.0 * 200.0 * 100.0, 1.0);
  EXPECT_NEAR(of.depth_of({0.0, 180.0, 450.0}), 20.0, 1e-9);
}

TEST(Hulls, ACollarUnderTheRectangle) {
  // sections by half planes, 240 and 120 lines extrapolated, Gauss along the axis; panels in closed form
  const Hull of = hull({{"square_collar", "150"}});
  EXPECT_NEAR(of.square_top(0, 25.0), -3.077641, 1e-6);
  EXPECT_EQ(of.square_top(1, 25.0), 0.0);
  EXPECT_NEAR(of.inside(0.0), 111421827.486, 1.0);
  EXPECT_NEAR(of.inside(25.0) / 88451177.9, 1.0, 1e-7);
  EXPECT_NEAR(of.panel_volume(0, 25.0), 1392144.147, 1e-2);
  EXPECT_NEAR(of.panel_volume(1, 25.0), 2156230.267, 1e-2);
  const Hull widens =
      hull({{"width", "400"}, {"height", "300"}, {"diameter", "500"}, {"square_collar", "150"}});
  EXPECT_NEAR(widens.square_top(0, 25.0), 1.556444, 1e-6);
  EXPECT_NEAR(widens.inside(25.0) / 64403801.6, 1.0, 1e-7);
  EXPECT_NEAR(widens.panel_volume(1, 25.0), 1420358.263, 1e-2);
  EXPECT_NEAR(of.depth_of({280.0, 0.0, -100.0}), 20.0, 1e-12);
}

TEST(Hulls, DepthIsTheLeastOverAllTangentPlanes) {
  // brute force over planes a hundredth of a degree apart
  const Hull of = hull({{"shift_right", "60"}, {"diameter", "350"}});
  std::mt19937 engine(5);
  std::uniform_real_distribution<double> x(-280.0, 280.0), y(-180.0, 180.0), z(0.0, 400.0);
  for (int i = 0; i < 60; ++i) {
    const Place place{x(engine), y(engine), z(engine)};
    double least = 1e300;
    for (int k = 0; k < 36000; ++k) least = std::min(least, of.under(place, k_turn * k / 36000));
    EXPECT_NEAR(of.depth_of(place), least, 2e-5);
  }
}

TEST(Hulls, TrueLengthsOfTriangulation) {
  const Hull of = hull();
  const double lengths[] = {458.257569, 439.753769, 431.366377, 434.256426, 448.015589, 470.815939, 500.0};
  for (int i = 0; i <= 6; ++i)
    EXPECT_NEAR(of.ruling(0, i == 6 ? k_quarter : radians(15.0 * i)).length, lengths[i], 1e-6);
  EXPECT_NEAR(of.ruling(0, 0.0).length, std::sqrt(210000.0), 1e-9);
  const HullBoard board(of, {0, 1}, {});
  EXPECT_NEAR(board.turned(0, k_quarter) * 180.0 / k_pi, 37.556424, 1e-6);
  // four triangles and four cones
  const HullBoard whole(of, {0, 4}, {});
  const std::vector<Point> outline = whole.layer(0.0);
  double twice = 0.0;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Point& a = outline[i];
    const Point& b = outline[(i + 1) % outline.size()];
    twice += a[0] * b[1] - b[0] * a[1];
  }
  EXPECT_NEAR(std::abs(0.5 * twice), 668347.9585, 668347.9585 * 1e-5);  // chords
  EXPECT_NEAR(of.face_area(), 668347.9585, 1e-3);
  // circle moved by 100 along the 600 side
  const Hull moved = hull({{"shift_right", "100"}});
  EXPECT_NEAR(HullBoard(moved, {0, 1}, {}).turned(0, k_quarter) * 180.0 / k_pi, 41.009385, 1e-6);
  EXPECT_NEAR(HullBoard(moved, {1, 1}, {}).turned(1, 2.0 * k_quarter) * 180.0 / k_pi, 32.933474, 1e-6);
}

TEST(Hulls, TheLinersMitreAroundACorner) {
  const Hull of = hull();
  const double starts[] = {2.745905, 2.373537, 2.310764, 2.519481, 2.881649, 3.376349, 3.906250};
  const double bevels[] = {6.9465, 9.1685, 10.0025, 9.7269, 8.2425, 5.1309, 0.0};
  for (int i = 0; i <= 6; ++i) {
    const HullRuling on = of.ruling(0, i == 6 ? k_quarter : radians(15.0 * i));
    EXPECT_NEAR(of.stretch(on, 25.0).low / 25.0, starts[i], 1e-6);
    // on the first bend line the circle's plane is never reached: the flat leans inward
    EXPECT_NEAR(of.stretch(on, 25.0).high - on.length, i > 0 ? bevels[i] : 0.0, 1e-4);
  }
  const HullBoard board(of, {0, 1}, {25.0});
  // where (1 - n.n0) / -(n0.d) = (1 - n.n1) / -(n1.d), n0 and n1 of the two flats; solved apart, by halving
  EXPECT_NEAR(board.fork(0, 25.0) * 180.0 / k_pi, 21.666480468, 1e-6);
  EXPECT_NEAR(of.stretch(of.ruling(0, board.fork(0, 25.0)), 25.0).low, 25.0 * 2.256969817, 1e-6);
  const std::vector<Point> mitre = board.mitre(0, 25.0);
  EXPECT_NEAR(from_corner(board, mitre.front()), 25.0 * std::hypot(1.0, 0.25), 1e-9);
  EXPECT_NEAR(from_corner(board, mitre.back()), 25.0 * 1.030776, 1e-4);
  EXPECT_NEAR(board.low_of(0, 25.0), 6.25, 1e-9);  // up the 400 side's slope
  EXPECT_NEAR(board.low_of(1, 25.0), 0.0, 1e-9);
  // 500 square to 450 round, 300 long: the fork lies 40 mm from the corner, its ends 73 mm
  const Hull square = hull({{"width", "500"}, {"height", "500"}, {"diameter", "450"}, {"length", "300"}});
  const HullBoard other(square, {0, 1}, {25.0});
  const auto start = [&](double phi) { return square.stretch(square.ruling(0, phi), 25.0).low; };
  EXPECT_NEAR(start(other.fork(0, 25.0)), 40.0, 0.5);
  EXPECT_NEAR(start(0.0), 73.0, 0.5);
  EXPECT_NEAR(start(k_quarter), 73.0, 0.5);
}

TEST(Hulls, SectionsByHand) {
  const Hull of = hull();
  // the rectangle's plane: flats alone, sqrt(1 + k^2) thick there
  EXPECT_NEAR(of.section_area(0.0, 25.0), (600.0 - 50.0 * std::hypot(1.0, 0.25)) * (400.0 - 50.0), 1e-6);
  EXPECT_NEAR(of.section_area(400.0, 0.0) / (k_pi * 200.0 * 200.0), 1.0, 1e-9);
}

// Where neighbouring planes alone decide: a flat's ruling ends in its tip, 400 x 1683 to round 1839 where it
// leans inward by 0.08 degrees as anywhere else, and a cone's begins no nearer to its corner than its edge of
// regression, 2.745905 and 3.906250 times the depth on the bend lines of the usual case.
TEST(Hulls, NearestPlanesEndLines) {
  const Hull narrow = hull({{"width", "400"},
                            {"height", "1682.9829"},
                            {"diameter", "1839.26931"},
                            {"length", "4466.72693"},
                            {"shift_up", "84.3421944"}});
  for (const double share : {0.0, 0.3, -0.7}) {
    const HullRuling on = narrow.flat_ruling(3, share);
    EXPECT_NEAR(narrow.stretch(on, 48.0).high, on.length, 1e-9);
  }
  const Hull usual = hull();
  EXPECT_NEAR(usual.beside(usual.ruling(0, 0.0), 25.0).low, 25.0 * 2.745905, 25e-6);
  EXPECT_NEAR(usual.beside(usual.ruling(0, k_quarter), 25.0).low, 25.0 * 3.906250, 25e-6);
}

}  // namespace linerwright::asked
