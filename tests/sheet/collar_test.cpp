// Where the layers of a square-to-round meet those of a straight collar on its circle.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "linerwright/sheet/folds.hpp"
#include "linerwright/units/error.hpp"
#include "sheet/square_to_round.hpp"

namespace linerwright {
namespace {

Vec3 end_of(const Sheet& sheet, double theta, double w) {
  return sheet.point(theta, high_end(sheet, theta, w, RoundEnd::collar).v, w);
}

// A square-to-round with what lies deeper than w made by planes and cylinder alone: on a side that narrows
// toward the collar both add up below the circle, on one that widens they cut each other above it.
double height_by_planes(const SquareToRound& of, double phi, double w) {
  const Vec2 at = of.centre + (of.r - w) * Vec2{std::cos(phi), std::sin(phi)};
  const double sense = of.plane(phi).lean < 0.0 ? -1.0 : 1.0;
  double least = 1e300;
  constexpr int k_planes = 16000;
  for (int i = 0; i < k_planes; ++i) {
    const SquareToRound::Plane plane = of.plane(k_two_pi * i / k_planes);
    if (sense * plane.lean > 1e-9)
      least = std::min(least, sense * (plane.off - w * plane.size - dot(plane.way, at)) / plane.lean);
  }
  return sense * least;
}

}  // namespace

TEST(RoundCollar, HeightsWorkedOutByHand) {
  // 600 x 400 to round 400, 400 long, 25 deep: rulings at 15..75 against the cylinder of radius 175; on y = 0
  // the mitre of two cones
  const Sheet sheet = k_case.sheet();
  const double heights[] = {395.7183, 395.1913, 395.3707, 396.2564, 397.8310};
  for (int i = 0; i < 5; ++i) {
    const Vec3 end = end_of(sheet, corner_theta(0, (15.0 + 15.0 * i) * k_pi / 180.0), 25.0);
    EXPECT_NEAR(end.z, heights[i], 5e-5);
    EXPECT_NEAR(std::hypot(end.x, end.y), 175.0, 1e-9);
  }
  EXPECT_NEAR(collar_meeting(sheet, 0.0, 25.0).height, 396.8968, 5e-5);
  EXPECT_NEAR(collar_meeting(sheet, 0.5 * k_pi, 25.0).height, 400.0, 1e-9);
  // the tip of the 400 side's layer lies lower: its mitre leads from there to the collar
  EXPECT_NEAR(end_of(sheet, 0.0, 25.0).z, 393.9366, 5e-5);
  EXPECT_TRUE(high_end(sheet, 0.0, 25.0, RoundEnd::collar).meets.has_value());
}

TEST(RoundCollar, OfARightConeTheCornerOfAReducer) {
  // w tan(phi / 2) along the axis; a ruling of half angle phi from a circle of radius 200
  const Sheet cone = Sheet::cone(Frame{}, 260.0, 200.0, 100.0);
  const Sheet::Ruling r = cone.ruling(1.0);
  const double phi = std::atan(0.6);
  for (const double w : {-1.0, 0.0, 20.0, 60.0}) {
    const auto way = way_to_collar(r, 200.0, w);
    ASSERT_TRUE(way.has_value());
    EXPECT_NEAR((r.base + (r.length + *way) * r.direction - w * r.normal).z, 100.0 - w * std::tan(0.5 * phi),
                1e-9);
  }
}

TEST(RoundCollar, LiesAtItsDepthHoweverItIsDrawn) {
  Dice dice(81);
  int tried = 0;
  int widening = 0;
  for (int i = 0; i < 10; ++i) {
    const SquareToRound of = random_square_to_round(dice);
    const Sheet sheet = of.sheet();
    if (!folds_as_y(sheet)) continue;
    const double w = dice.between(0.05, 0.6) * deepest_layer(sheet, RoundEnd::collar);
    for (int k = 0; k < 5; ++k) {
      const double phi = dice.between(0.0, k_two_pi);
      SCOPED_TRACE(testing::Message()
                   << "a " << of.a << " b " << of.b << " r " << of.r << " height " << of.height << " e "
                   << of.centre.x << " " << of.centre.y << " w " << w << " phi " << phi);
      const CollarMeeting met = collar_meeting(sheet, phi, w);
      const Vec3 there{of.centre.x + (of.r - w) * std::cos(phi), of.centre.y + (of.r - w) * std::sin(phi),
                       met.height};
      // the ruling that is named ends there
      EXPECT_LT(distance(end_of(sheet, met.theta, w), there), 1e-6);
      EXPECT_NEAR(met.height, height_by_planes(of, phi, w), 1e-3);
      widening += met.height > of.height ? 1 : 0;
      ++tried;
    }
  }
  EXPECT_GE(tried, 20);
  EXPECT_GE(widening, 1);
}

TEST(RoundCollar, ItsCornersBoundWhatLiesOnIt) {
  for (const double w : {-1.0, 25.0})
    for (const SquareToRound& of : {k_case, SquareToRound{200.0, 180.0, 250.0, 400.0, {10.0, -20.0}}}) {
      const Sheet sheet = of.sheet();
      std::vector<double> corners = high_corners(sheet, w, RoundEnd::collar);
      corners.push_back(corners.front() + k_two_pi);
      for (std::size_t i = 0; i + 1 < corners.size(); ++i) {
        // between two corners either all rulings end on the collar, or none
        const auto on = [&](double share) {
          return high_end(sheet, corners[i] + share * (corners[i + 1] - corners[i]), w, RoundEnd::collar)
              .meets.has_value();
        };
        EXPECT_EQ(on(0.02), on(0.98)) << w << " from " << corners[i];
      }
    }
}

TEST(RoundCollar, TheDeepestLayerStillHasBoard) {
  const Sheet sheet = k_case.sheet();
  const double deepest = deepest_layer(sheet, RoundEnd::collar);
  EXPECT_GT(deepest, 50.0);
  EXPECT_LE(deepest, deepest_layer(sheet));
  for (int i = 0; i <= 90; ++i) {
    const double theta = corner_theta(0, i * k_pi / 180.0);
    const double w = 0.999 * deepest;
    EXPECT_LT(low_end(sheet, theta, w).v, high_end(sheet, theta, w, RoundEnd::collar).v + 1e-6);
  }
}

}  // namespace linerwright
