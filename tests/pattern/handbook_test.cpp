// Patterns against published layouts. Numbers marked [C] are computed from the named formula; the books' own
// printed figures are given where they printed one.
#include <gtest/gtest.h>

#include <cmath>

#include "made.hpp"

namespace linerwright {
namespace {

using testing::fitting_of;
using testing::Flags;
using testing::pattern_of;

constexpr double k_inch = 25.4;

Pattern first_piece(const Flags& flags) {
  return make_patterns(fitting_of("elbow", flags)).front();
}

// Heights of the end piece's mitre edge over its square end, by station.
std::vector<double> heights(const Pattern& pattern) {
  std::vector<double> all;
  for (const Ordinate& o : pattern.ordinates) all.push_back(o.duct_high - o.duct_low);
  return all;
}

// Longfield, Sheet Metal Drafting (1921), p. 52: 2-piece 60 degree elbow, diameter 4 1/2 in, throat radius 3
// in (so centreline 5 1/4 in), 16 stations. Ordinates R tan(theta) - (D/2) tan(theta) cos(station) [C].
TEST(Handbook, LongfieldTwoPieceElbow) {
  const Pattern pattern = first_piece({{"diameter", "4.5in"},
                                       {"centreline_radius", "5.25in"},
                                       {"angle", "60"},
                                       {"pieces", "2"},
                                       {"thickness", "0.5in"},
                                       {"stations", "16"},
                                       {"fit_allowance", "0in"}});
  const std::vector<double> h = heights(pattern);
  const double book[] = {1.73205, 1.83093, 2.11253, 2.53397, 3.03109, 3.52821, 3.94965, 4.23124, 4.33013};
  ASSERT_EQ(h.size(), 17u);
  for (std::size_t i = 0; i < 9; ++i) {
    EXPECT_NEAR(h[i] / k_inch, book[i], 5.1e-6) << "station " << i;
    EXPECT_NEAR(h[16 - i] / k_inch, book[i], 5.1e-6) << "station " << 16 - i;  // second half mirrors
  }
  EXPECT_NEAR(pattern.stretch_out / k_inch, k_pi * 4.5, 1e-9);
}

// Coey, Pattern Development Level 1 (BCcampus 2021), ch. 19: 4-piece 90 degree elbow, diameter 6 in, throat
// radius 6 in, 12 stations. The book measures 2 7/16 in off its drawing for the centre height; exact is 9 tan
// 15 deg = 2.41154 [C].
TEST(Handbook, CoeyFourPieceElbow) {
  const Pattern pattern = first_piece({{"diameter", "6in"},
                                       {"centreline_radius", "9in"},
                                       {"angle", "90"},
                                       {"pieces", "4"},
                                       {"thickness", "0.5in"},
                                       {"fit_allowance", "0in"}});
  const std::vector<double> h = heights(pattern);
  const double exact[] = {1.60770, 1.71539, 2.00962, 2.41154, 2.81347, 3.10770, 3.21539};
  for (std::size_t i = 0; i < 7; ++i) EXPECT_NEAR(h[i] / k_inch, exact[i], 5.1e-6) << "station " << i;
  EXPECT_NEAR(h[3] / k_inch, 2.4375, 0.03);  // the book's drawing, + 1.1 %
  EXPECT_NEAR(pattern.stretch_out / k_inch, 18.8496, 5e-5);
}

// Formula for miter fabrication from pipe (pipingengineer.org): R 381, OD 273, 90 degrees in 4 cuts: end
// piece 151.6, half of a middle piece alike, cutback 27.15 mm; the printed L2 is the end piece's centre
// height 75.8.
TEST(Handbook, PipeMitre) {
  const Fitting fitting = fitting_of("elbow", {{"diameter", "273mm"},
                                               {"centreline_radius", "381mm"},
                                               {"angle", "90"},
                                               {"pieces", "5"},
                                               {"thickness", "25mm"},
                                               {"fit_allowance", "0mm"}});
  const std::vector<Pattern> patterns = make_patterns(fitting);
  const std::vector<double> end = heights(patterns[0]);
  const std::vector<double> middle = heights(patterns[1]);
  EXPECT_NEAR(end[3], 75.786, 5e-4);
  EXPECT_NEAR(middle[3], 151.571, 5e-4);
  EXPECT_NEAR(end[6] - end[3], 27.152, 5e-4);
  EXPECT_NEAR(end[3] - end[0], 27.152, 5e-4);
}

// Half-segment pattern area = pi D R tan(theta): the cosine integrates to nothing. Chords take off at most
// the stated error times the edge's length.
TEST(Handbook, HalfSegmentArea) {
  const Pattern pattern = first_piece({{"diameter", "315mm"},
                                       {"radius_ratio", "1.5"},
                                       {"angle", "90"},
                                       {"pieces", "5"},
                                       {"thickness", "25mm"},
                                       {"fit_allowance", "0mm"}});
  const double exact = k_pi * 315.0 * 472.5 * std::tan(k_pi / 16.0);
  EXPECT_NEAR(pattern.duct_area, exact, k_chord_error * 1000.0);
  EXPECT_GT(std::fabs(pattern.duct_area - exact), 0.0);  // a polygon, not the formula
}

// Straight length: blank = pi D - 0.75 in (common practice, no source).
TEST(Handbook, StraightBlank) {
  const Pattern pattern =
      make_patterns(fitting_of("straight", {{"diameter", "24in"}, {"length", "48in"}, {"thickness", "1in"}}))
          .front();
  EXPECT_NEAR(pattern.board.x / k_inch, 24.0 * k_pi - 0.75, 1e-9);
  EXPECT_NEAR(pattern.board.y / k_inch, 48.0, 1e-9);
}

// CEEMRR Geometry 2, Drawings and nets: ducts of 8 and 5 in, 4 in apart: sector radii 7.12 and 11.39 in,
// 126.4 degrees. Exact: 7.1200031, 11.392005, 126.40444.
TEST(Handbook, SectorOfAReducer) {
  const Fitting fitting = fitting_of("reducer", {{"diameter", "8in"},
                                                 {"to_diameter", "5in"},
                                                 {"length", "4in"},
                                                 {"thickness", "0.5in"},
                                                 {"fit_allowance", "0in"}});
  const Pattern pattern = pattern_of(make_patterns(fitting), "taper");
  // the apex by three corners of the outline: along the two seams
  std::vector<Vec2> arc;
  for (const Ordinate& o : pattern.ordinates) arc.push_back(o.at);
  // centre of the circle through the first, middle and last foot
  const Vec2 a = arc.front();
  const Vec2 b = arc[arc.size() / 2];
  const Vec2 c = arc.back();
  const double d = 2.0 * cross(b - a, c - a);
  const Vec2 ab = b - a;
  const Vec2 ac = c - a;
  const Vec2 centre =
      a + Vec2{(ac.y * dot(ab, ab) - ab.y * dot(ac, ac)) / d, (ab.x * dot(ac, ac) - ac.x * dot(ab, ab)) / d};
  EXPECT_NEAR(distance(a, centre) / k_inch, 11.392005, 1e-6);
  const double inner = distance(a, centre) - (pattern.ordinates[0].duct_high - pattern.ordinates[0].duct_low);
  EXPECT_NEAR(inner / k_inch, 7.1200031, 1e-6);
  const double half = std::asin(0.5 * distance(a, c) / distance(a, centre));
  EXPECT_NEAR(2.0 * half * 180.0 / k_pi, 126.40444, 1e-4);
}

// Notches for 24 to 20 in (common practice, no source): 8 notches; mouths of 1.5 in would close 12.00
// of 12.57 in.
TEST(Handbook, Notches) {
  const Fitting fitting = fitting_of("reducer", {{"diameter", "24in"},
                                                 {"to_diameter", "20in"},
                                                 {"length", "18in"},
                                                 {"collar", "4in"},
                                                 {"to_collar", "4in"},
                                                 {"thickness", "1in"},
                                                 {"pattern", "notched"}});
  const auto fact = [&](const std::string& key) {
    for (const Fact& f : fitting.facts)
      if (f.key == key) return f.value;
    ADD_FAILURE() << key;
    return 0.0;
  };
  EXPECT_EQ(fact("notches"), 8.0);
  EXPECT_NEAR(fact("rule_of_thumb_width") / k_inch, 12.00, 1e-9);
  EXPECT_NEAR(fact("closing_width") / k_inch, 12.57, 5e-3);
  const Pattern pattern = pattern_of(make_patterns(fitting), "notched");
  // V points are the vertices at the bend line whose neighbours stand at the mouth
  const Ring& ring = pattern.duct.outer;
  const double bend = pattern.placement.board({0.0, 0.0}).y;
  double mouths = 0.0;
  int notches = 0;
  std::vector<double> places;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    if (std::fabs(ring[i].y - bend) > 1e-9) continue;
    const Vec2 left = ring[(i + 1) % ring.size()];
    const Vec2 right = ring[(i + ring.size() - 1) % ring.size()];
    EXPECT_NEAR(distance(left, ring[i]), distance(right, ring[i]), 1e-9);  // both sides of the V are equal
    mouths += right.x - left.x;
    places.push_back(ring[i].x);
    ++notches;
  }
  EXPECT_EQ(notches, 8);
  EXPECT_NEAR(mouths, k_pi * 4.0 * k_inch, 1e-6);  // pi (24 - 20) in
  std::sort(places.begin(), places.end());
  const double pitch = pattern.stretch_out / 8.0;
  for (std::size_t i = 0; i < places.size(); ++i)
    EXPECT_NEAR(places[i], (static_cast<double>(i) + 0.5) * pitch, 1e-6);
  // duct-face depth of a notch: the slant, less nothing at depth 0
  EXPECT_NEAR(bend, (4.0 + 4.0) * k_inch, 1e-6);  // collar and trim below the bend line
}

// Branch of radius 100 on a body of radius 150, 90 degrees: developed hole 4R^2 (E(k) - (1 - k^2) K(k)) = 33
// 545.980 mm2, branch wall 2 pi r L - 4 r R E(k) = 105 809.32 mm2 for L = 300 [C], k = r/R.
TEST(Handbook, TeeHoleAndBranchWall) {
  const Fitting fitting = fitting_of("tee", {{"diameter", "300mm"},
                                             {"length", "800mm"},
                                             {"branch_diameter", "200mm"},
                                             {"branch_length", "300mm"},
                                             {"thickness", "20mm"},
                                             {"fit_allowance", "0mm"}});
  const std::vector<Pattern> patterns = make_patterns(fitting);
  const Pattern& body = pattern_of(patterns, "body");
  const double hole = std::fabs(signed_area(body.duct.holes.at(0)));
  EXPECT_NEAR(hole, 33545.980, k_chord_error * polyline_length(body.duct.holes[0], true));
  const Pattern& branch = pattern_of(patterns, "branch");
  EXPECT_NEAR(branch.duct_area, 105809.32, k_chord_error * 1000.0);
  // the hole's edge and the saddle's edge are the same curve
  double saddle = 0.0;
  const Ring& ring = branch.duct.outer;
  for (std::size_t i = 0; i + 1 < ring.size(); ++i) {
    const bool low = ring[i].y < 0.5 * branch.board.y && ring[i + 1].y < 0.5 * branch.board.y;
    if (low) saddle += distance(ring[i], ring[i + 1]);
  }
  EXPECT_NEAR(saddle, polyline_length(body.duct.holes[0], true), 0.05);
}

// Equal tee: the hole of two cylinders of radius r is 4 r^2 (Steinmetz).
TEST(Handbook, EqualTeeHole) {
  const Fitting fitting = fitting_of("tee", {{"diameter", "200mm"},
                                             {"length", "800mm"},
                                             {"branch_diameter", "200mm"},
                                             {"branch_length", "300mm"},
                                             {"thickness", "20mm"},
                                             {"fit_allowance", "0mm"}});
  const Pattern body = make_patterns(fitting).front();
  EXPECT_NEAR(std::fabs(signed_area(body.duct.holes.at(0))), 40000.0,
              k_chord_error * polyline_length(body.duct.holes[0], true));
}

}  // namespace
}  // namespace linerwright
