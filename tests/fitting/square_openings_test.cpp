// Openings in square-to-rounds: what they take out, where they stand, and what they are refused for.
#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "linerwright/units/error.hpp"
#include "support/square_to_rounds.hpp"

namespace linerwright {
namespace {

using support::Flags;
using support::k_square_to_round;
using support::square_to_round;

Fitting opened(const std::string& openings, const Flags& more = {}) {
  return square_to_round(
      support::with(support::with(k_square_to_round, {{"pieces", "2"}, {"openings", openings}}), more));
}

std::string told(const std::string& openings, const Flags& more = {}) {
  try {
    opened(openings, more);
  } catch (const InputError& error) {
    return error.what();
  }
  return {};
}

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

// So short that its metal folds over itself at the corners: the liner's hole is made, the metal's is refused.
TEST(SquareOpenings, InACornerWhoseMetalFoldsTheLinerAloneIsOpened) {
  const Flags flags = support::k_short_square_to_rounds.back();
  const auto with_hole = [&](const std::string& more) {
    return support::with(flags, {{"openings", "test hole at 150mm around 45 diameter 20mm" + more}});
  };
  EXPECT_EQ(square_to_round(with_hole("")).openings.size(), 1u);
  EXPECT_EQ(square_to_round(
                support::with(flags, {{"openings", "test hole at 100mm around 90 diameter 20mm metal yes"}}))
                .openings.size(),
            1u);
  try {
    square_to_round(with_hole(" metal yes"));
    ADD_FAILURE() << "made";
  } catch (const InputError& error) {
    EXPECT_TRUE(has(error.what(), "the metal folds over itself")) << error.what();
  }
}

// A flat's board is a plate: a prism, or a frustum between two circles, or a rectangle drawn on it.
TEST(SquareOpenings, OnAFlatTakeOutPrismsAndFrusta) {
  const double t = 25.0;
  for (const std::string bevel : {"square", "straight"})
    EXPECT_NEAR(plug_volume(opened("test hole at 200mm around 90 diameter 80mm bevel " + bevel)),
                k_pi * 40.0 * 40.0 * t, 1e-6);
  const double wider = 40.0 + t * std::tan(k_pi / 6.0);
  EXPECT_NEAR(plug_volume(opened("test hole at 200mm around 90 diameter 80mm bevel splayed splay 30")),
              k_pi * t / 3.0 * (40.0 * 40.0 + 40.0 * wider + wider * wider), 1e-6);
  EXPECT_NEAR(plug_volume(opened("access door at 150mm around 95 width 90mm length 120mm setback 5mm")),
              100.0 * 130.0 * t, 1e-6);
}

// The layers lie behind all planes that touch the wall, so a line square to the opening comes to one in the
// last of the planes that face it, moved in by its depth.
TEST(SquareOpenings, OnACornerByLinesThroughItsPlanes) {
  for (const double around : {40.0, 45.0, 51.0}) {
    const Fitting fitting =
        opened("test hole at 250mm around " + std::to_string(around) + " diameter 50mm bevel straight");
    const auto& hole = std::get<OpeningTarget>(fitting.joint(fitting.openings.at(0).joint).target);
    // the corner (300, 200, 0), its ruling's turn twice what lies past the bend line
    const double phi = 2.0 * (around - 22.5) * k_pi / 180.0;
    const Vec3 corner{300.0, 200.0, 0.0};
    const Vec3 d = normalised(Vec3{200.0 * std::cos(phi), 200.0 * std::sin(phi), 400.0} - corner);
    const SquareToRound::Plane own = k_case.plane(phi);
    const Vec3 n = (1.0 / own.size) * Vec3{own.way.x, own.way.y, own.lean};
    const Vec3 middle = corner + 250.0 * d;
    EXPECT_LT(distance(fitting.walls.front().sheet.point(hole.theta, hole.v, 0.0), middle), 1e-9);
    const Vec3 e = cross(d, n);
    const auto inward = [&](Vec3 from, double w) {
      const auto to_plane = [&](double angle) {
        const SquareToRound::Plane at = k_case.plane(angle);
        const Vec3 normal = (1.0 / at.size) * Vec3{at.way.x, at.way.y, at.lean};
        const double facing = dot(normal, n);
        return facing > 0.1 ? (dot(normal, from) - at.off / at.size + w) / facing : -1e300;
      };
      double best = phi;
      double step = 0.02;
      for (int i = -60; i <= 60; ++i)
        if (to_plane(phi + step * i) > to_plane(best)) best = phi + step * i;
      for (; step > 1e-8; step *= 0.5)
        for (const double to : {best - step, best + step})
          if (to_plane(to) > to_plane(best)) best = to;
      return to_plane(best);
    };
    const double volume = integrate(
        [&](double r) {
          return integrate(
              [&](double psi) {
                const Vec3 from = middle + r * std::cos(psi) * e + r * std::sin(psi) * d;
                return r * (inward(from, 25.0) - inward(from, 0.0));
              },
              0.0, k_two_pi, 3);
        },
        0.0, 25.0, 1);
    EXPECT_NEAR(plug_volume(fitting) / volume, 1.0, 1e-8) << around;
  }
}

// Square to the board the edge follows the normals: points of its inner edge lie as deep as the liner and
// straight under those of the outer one.
TEST(SquareOpenings, EdgesFollowTheNormals) {
  const Fitting fitting =
      opened("test hole at 250mm around 50 diameter 60mm, sensor at 200mm around 84 diameter 20mm");
  for (const Opening& opening : fitting.openings) {
    const Joint& edge = fitting.joint(opening.joint);
    for (int i = 0; i < 24; ++i) {
      const double s = k_two_pi * i / 24;
      const Vec3 outer = point_of(edge, s, shell_depths(0.0));
      const Vec3 inner = point_of(edge, s, shell_depths(25.0));
      EXPECT_NEAR(k_case.depth(outer), 0.0, 1e-8);
      EXPECT_NEAR(k_case.depth(inner), 25.0, 1e-8);
      EXPECT_NEAR(distance(outer, inner), 25.0, 1e-9);
    }
  }
}

TEST(SquareOpenings, LieInThePieceTheyAreIn) {
  const Fitting fitting = opened(
      "sensor at 250mm around 228 diameter 25mm metal yes, damper shaft at 200mm around 90 diameter 20mm");
  ASSERT_EQ(fitting.openings.size(), 3u);
  EXPECT_TRUE(fitting.openings[0].metal_joint);
  EXPECT_EQ(holes_of(fitting, fitting.piece(0)), (std::vector<std::size_t>{1}));
  EXPECT_EQ(holes_of(fitting, fitting.piece(1)), (std::vector<std::size_t>{0, 2}));
  EXPECT_EQ(fitting.piece(0).hole_marks.size(), 1u);
  EXPECT_EQ(fitting.piece(1).hole_marks.size(), 2u);
}

// 600 by 400 to 400, 400 long: the flat of the 400 side is 412.3106 high, its bend lines 458.2576 long; 200
// up its middle the nearest bend line lies 200 (1 - 200 / 412.3106) 412.3106 / 458.2576 = 92.6611 away.
TEST(SquareOpenings, RefusedWithWhatIsMissing) {
  const Flags one{{"pieces", "1"}};
  const std::string bend = told("test hole at 200mm around 180 diameter 180mm", one);
  EXPECT_TRUE(has(bend, "test hole 1: only 2.66 mm of liner is left to the bend line toward the")) << bend;
  EXPECT_TRUE(has(bend, "2.34 mm is missing")) << bend;
  const std::string over = told("test hole at 200mm around 180 diameter 190mm", one);
  EXPECT_TRUE(has(over, "it reaches 2.34 mm beyond the bend line toward the")) << over;
  // a cone's mitre at half a turn of it lies 2.519481 t from the corner
  const std::string mitre = told("test hole at 70mm around 45 diameter 20mm");
  EXPECT_TRUE(has(mitre, "beyond the mitre at the rectangle's corner")) << mitre;
  const std::string seam = told("sensor at 200mm around 180 diameter 20mm");
  EXPECT_TRUE(has(seam, "it lies on the seam of piece 1 (middle of the right side)") ||
              has(seam, "it lies on the seam of piece 2 (middle of the left side)"))
      << seam;
  EXPECT_TRUE(has(seam, "15 mm is missing around")) << seam;
  // on a board a millimetre from the seam line on
  const std::string end = told("sensor at 12mm around 90 diameter 20mm", one);
  EXPECT_TRUE(has(end, "only 2 mm of liner is left to the lining's edge at the rectangular end")) << end;
  const std::string panel =
      told("sensor at 12mm around 90 diameter 20mm", {{"pieces", "1"}, {"square_collar", "150"}});
  EXPECT_TRUE(has(panel, "only 2 mm of liner is left to the joint with the rectangular collar")) << panel;
  const std::string tip = told("sensor at 385mm around 90 diameter 20mm", one);
  EXPECT_TRUE(has(tip, "is missing")) << tip;
  const std::string two =
      told("sensor at 200mm around 90 diameter 20mm, sensor at 222mm around 90 diameter 20mm", one);
  EXPECT_TRUE(has(two, "sensor 2: only 2 mm of liner is left to the hole of the sensor 1: 3 mm is missing"))
      << two;
  const std::string other = told("sensor piece 1 at 200mm around 200 diameter 20mm");
  EXPECT_TRUE(has(other, "200 degrees around is no place of piece 1 (allowed: piece 2)") ||
              has(other, "200 degrees around is no place of piece 1"))
      << other;
  EXPECT_TRUE(
      has(told("access door at 300mm around 45 width 900mm length 20mm"), "wider than the wall there"));
}

}  // namespace
}  // namespace linerwright
