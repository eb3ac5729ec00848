// Patterns of square-to-rounds: both faces' outlines, what is carved by hand, how the knife leans elsewhere.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "linerwright/pattern/pattern.hpp"
#include "linerwright/sheet/folds.hpp"
#include "support/square_to_rounds.hpp"

namespace linerwright {
namespace {

using support::k_square_to_round;
using support::square_to_round;

// Where all rulings of a cone begin: the duct face's outline has one place for all of them.
Vec2 corner_of(const Pattern& pattern) {
  const Ring& duct = pattern.duct.outer;
  for (std::size_t i = 0; i + 2 < duct.size(); ++i)
    if (distance(duct[i], duct[i + 1]) < 1e-6 && distance(duct[i], duct[i + 2]) < 1e-6) return duct[i];
  ADD_FAILURE() << "no corner";
  return {};
}

const std::vector<Vec2>& carved(const Pattern& pattern) {
  for (std::size_t i = 0; i < pattern.marks.size(); ++i)
    if (pattern.mark_names[i] == "carve to here") return pattern.marks[i];
  throw std::runtime_error("nothing is carved");
}

}  // namespace

TEST(FoldedPatterns, WholeDuctFaceOnTheBoard) {
  // four cones and four triangles, by quadrature of the closed form
  for (const char* pieces : {"1", "4"}) {
    const Fitting fitting = square_to_round(support::with(k_square_to_round, {{"pieces", pieces}}));
    double area = 0.0;
    for (const Pattern& pattern : make_patterns(fitting)) {
      area += pattern.duct_area;
      // nothing of either face reaches beyond the cut
      EXPECT_GE(pattern.board_area, pattern.duct_area - 1.0);
      EXPECT_EQ(pattern.duct.outer.size(), pattern.air.outer.size());
    }
    EXPECT_NEAR(area, 668347.9585, 668347.9585 * 5e-5) << pieces;
  }
}

TEST(FoldedPatterns, TheMitreIsDrawnWhereItIsCarved) {
  // from the corner on the board: feet (1, 0.25) and (1.030776, 0), forks 2.257, ends 2.745905 and 3.906250,
  // all times the thickness
  const Fitting fitting = square_to_round(k_square_to_round);
  for (const Pattern& pattern : make_patterns(fitting)) {
    const Vec2 corner = corner_of(pattern);
    std::vector<double> away;
    for (const Vec2 p : carved(pattern)) away.push_back(distance(p, corner) / 25.0);
    double feet[] = {away.front(), away.back()};
    std::sort(feet, feet + 2);
    EXPECT_NEAR(feet[0], std::hypot(1.0, 0.25), 1e-5);
    EXPECT_NEAR(feet[1], 1.030776, 1e-5);
    std::vector<double> ends;
    int forks = 0;
    for (std::size_t i = 1; i + 1 < away.size(); ++i) {
      if (away[i] > away[i - 1] && away[i] > away[i + 1]) ends.push_back(away[i]);
      if (std::fabs(away[i] - 2.257) < 1e-3) ++forks;
    }
    ASSERT_EQ(ends.size(), 2u);
    std::sort(ends.begin(), ends.end());
    EXPECT_NEAR(ends[0], 2.745905, 1e-5);
    EXPECT_NEAR(ends[1], 3.906250, 1e-5);
    EXPECT_GE(forks, 3);
  }
}

TEST(FoldedPatterns, FacesOfThePieceHaveTheirAreas) {
  // The air face's outline is drawn over the foot of its normal on the duct face: what it encloses is the
  // duct face's area between the layer's ends.
  const Fitting fitting = square_to_round(support::with(k_square_to_round, {{"pieces", "1"}}));
  const Sheet& sheet = fitting.walls.front().sheet;
  double wanted = 0.0;
  std::vector<double> cuts = low_corners(sheet, 25.0);
  for (const double theta : high_corners(sheet, 25.0)) cuts.push_back(theta);
  std::sort(cuts.begin(), cuts.end());
  cuts.push_back(cuts.front() + k_two_pi);
  for (std::size_t i = 0; i + 1 < cuts.size(); ++i)
    wanted += integrate(
        [&](double theta) {
          const Sheet::Ruling r = sheet.ruling(theta);
          const auto swept = [&](double v) {
            return dot(r.base_slope, r.around) * v + 0.5 * dot(r.direction_slope, r.around) * v * v;
          };
          return swept(high_end(sheet, theta, 25.0).v) - swept(low_end(sheet, theta, 25.0).v);
        },
        cuts[i], cuts[i + 1], 2);
  const std::vector<Pattern> patterns = make_patterns(fitting);
  ASSERT_EQ(patterns.size(), 1u);
  EXPECT_NEAR(signed_area(patterns.front().air.outer), wanted, 1e-4 * wanted);
}

// Its edges lean by the slopes of the flats, and in the mitres by more than a blade can; all of it is dressed
// by hand to the air face's line, and no table pretends otherwise.
TEST(FoldedPatterns, TheKnifeStandsSquare) {
  for (const Pattern& pattern : make_patterns(square_to_round(k_square_to_round))) {
    EXPECT_TRUE(pattern.tilts.empty());
    EXPECT_EQ(pattern.max_tilt, 0.0);
    EXPECT_GT(pattern.overlap_square, 1.0);  // what a square cut leaves for the hand
  }
}

}  // namespace linerwright
