// Openings in a fitting's walls: where they stand, what they take out, and when they are refused.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "helpers.hpp"

namespace linerwright {
namespace {

const Flags k_duct{{"diameter", "600"}, {"length", "1200"}, {"thickness", "25"}};

Flags duct_with(const std::string& openings, const Flags& more = {}) {
  return with(with(k_duct, {{"openings", openings}}), more);
}

// Points of the opening's edge, both faces, must lie a margin off all that ends its wall.
const OpeningTarget& target_of(const Fitting& fitting, std::size_t opening) {
  return std::get<OpeningTarget>(fitting.joint(fitting.openings.at(opening).joint).target);
}

// Developed area of a round hole of radius a in a cylinder R, by the chord at each height.
double hole_area_of(double a, double R) {
  return integrate(
      [&](double u) {
        const double z = a * std::sin(u);
        return 2.0 * R * std::asin(std::sqrt(a * a - z * z) / R) * a * std::cos(u);
      },
      -0.5 * k_pi, 0.5 * k_pi, 40);
}

TEST(Openings, StandWhereTheyAreAsked) {
  const Fitting fitting = fitting_from(
      "straight", duct_with("sensor at 300mm around 90 diameter 25mm, access door at 700mm around 200 width "
                            "200mm length 300mm setback 20mm"));
  ASSERT_EQ(fitting.openings.size(), 2u);
  EXPECT_EQ(fitting.openings[0].name, "sensor 1");
  EXPECT_EQ(fitting.openings[1].name, "access door 2");
  EXPECT_NEAR(target_of(fitting, 0).v, 300.0, 1e-9);
  EXPECT_NEAR(target_of(fitting, 0).theta, 0.5 * k_pi, 1e-12);
  EXPECT_NEAR(target_of(fitting, 1).half_around, 101.9511, 5e-5);
  EXPECT_EQ(fitting.walls.front().holes.size(), 2u);
  EXPECT_EQ(fitting.pieces.front().hole_marks.size(), 2u);
  EXPECT_FALSE(fitting.openings[0].metal_joint);
  // 25 mm of a sensor and the door's frame are told
  EXPECT_TRUE(std::any_of(fitting.steps.begin(), fitting.steps.end(), [](const std::string& step) {
    return has(step, "holes of sensor 1 and access door 2 where the metal has theirs");
  }));
}

// Distances count from the metal's edge, also where the lining stops short of it.
TEST(Openings, AreMeasuredFromTheMetal) {
  const Fitting held = fitting_from(
      "straight", duct_with("sensor at 300mm around 90 diameter 25mm", {{"hold_back_start", "80"}}));
  EXPECT_NEAR(target_of(held, 0).v, 300.0, 1e-9);
  const Fitting elbow =
      fitting_from("elbow", {{"diameter", "400"},
                             {"angle", "60"},
                             {"pieces", "3"},
                             {"thickness", "25"},
                             {"collar", "100"},
                             {"openings", "test hole piece 2 at 90mm around 90 diameter 20mm"}});
  const Wall& gore = elbow.walls[1];
  ASSERT_EQ(gore.holes.size(), 1u);
  EXPECT_NEAR(target_of(elbow, 0).v - liner_end(elbow, 1, End::low, 0.5 * k_pi, 0.0), 90.0, 1e-9);
  EXPECT_TRUE(elbow.blanks.empty());  // its pieces are cut one by one
}

TEST(Openings, AShaftHasAHoleOnEitherSide) {
  const Fitting fitting = fitting_from(
      "straight", duct_with("damper shaft at 600mm around 90 diameter 20mm, damper shaft at 900mm "
                            "around 30 diameter 20mm pair no"));
  ASSERT_EQ(fitting.openings.size(), 3u);
  EXPECT_EQ(fitting.openings[0].name, "damper shaft 1a");
  EXPECT_EQ(fitting.openings[1].name, "damper shaft 1b");
  EXPECT_EQ(fitting.openings[2].name, "damper shaft 2");
  EXPECT_NEAR(target_of(fitting, 1).theta - target_of(fitting, 0).theta, k_pi, 1e-12);
  EXPECT_EQ(target_of(fitting, 1).v, target_of(fitting, 0).v);
}

// Square to the board: A (R - w) / R at depth w. Straight: what a tube cuts out between two cylinders.
TEST(Openings, TakeOutWhatTheirFormulasSay) {
  const double R = 300.0, t = 25.0, a = 75.0;
  const auto taken = [&](const std::string& bevel) {
    return plug_volume(
        fitting_from("straight", duct_with("test hole at 500mm around 120 diameter 150mm bevel " + bevel)));
  };
  const double square = hole_area_of(a, R) * (t - t * t / (2.0 * R));
  EXPECT_NEAR(taken("square") / square, 1.0, 1e-10);
  EXPECT_NEAR(taken("radial") / square, 1.0, 1e-10);
  // by the height of both cylinders over the disk, 2 sqrt(a^2 - y^2) long at y
  const double straight = integrate(
      [&](double u) {
        const double y = a * std::sin(u);
        return 2.0 * std::sqrt(a * a - y * y) *
               (std::sqrt(R * R - y * y) - std::sqrt((R - t) * (R - t) - y * y)) * a * std::cos(u);
      },
      -0.5 * k_pi, 0.5 * k_pi, 40);
  EXPECT_NEAR(taken("straight") / straight, 1.0, 1e-10);
  EXPECT_GT(taken("splayed splay 30"), 1.1 * square);
}

// On a taper, by scattered points: the share of a box about the opening that lies in tube and liner.
TEST(Openings, OnATaperByScatteredPoints) {
  const Fitting fitting =
      fitting_from("reducer", {{"diameter", "600"},
                               {"to_diameter", "400"},
                               {"length", "400"},
                               {"thickness", "25"},
                               {"openings", "test hole at 200mm around 90 diameter 120mm bevel straight"}});
  const OpeningTarget& hole = target_of(fitting, 0);
  const Sheet& cone = fitting.walls.front().sheet;
  const Vec3 middle = cone.point(hole.theta, hole.v, 0.0);
  const Vec3 n = cone.normal(hole.theta);
  const Vec3 d = cone.direction(hole.theta);
  const Vec3 e = cross(d, n);
  const double slope = (cone.r2() - cone.r1()) / cone.height();
  std::mt19937 engine(7);
  std::uniform_real_distribution<double> side(-60.0, 60.0);
  std::uniform_real_distribution<double> deep(-45.0, 5.0);
  constexpr int k_points = 400000;
  int inside = 0;
  for (int i = 0; i < k_points; ++i) {
    const double x = side(engine), y = side(engine);
    if (x * x + y * y > 3600.0) continue;
    const Vec3 p = cone.frame().local_point(middle + x * e + y * d + deep(engine) * n);
    const double depth = (cone.r1() + slope * p.z - std::hypot(p.x, p.y)) / std::sqrt(1.0 + slope * slope);
    inside += depth > 0.0 && depth < 25.0 ? 1 : 0;
  }
  const double box = 120.0 * 120.0 * 50.0;
  EXPECT_NEAR(plug_volume(fitting) / (box * inside / k_points), 1.0, 0.006);
}

// On an eccentric one: the wall lies behind all planes that touch it, so a line square to the opening comes
// to a layer in the last of the planes that face it, moved in by the layer's depth.
TEST(Openings, OnAnEccentricTaperByLinesThroughItsPlanes) {
  for (const double around : {0.0, 70.0, -120.0}) {
    const Fitting fitting =
        fitting_from("reducer", {{"diameter", "600"},
                                 {"to_diameter", "400"},
                                 {"length", "400"},
                                 {"flat", "yes"},
                                 {"thickness", "25"},
                                 {"openings", "test hole at 200mm around " + std::to_string(around) +
                                                  " diameter 120mm bevel straight"}});
    const OpeningTarget& hole = target_of(fitting, 0);
    const Sheet& cone = fitting.walls.front().sheet;
    const Vec3 middle = cone.frame().local_point(cone.point(hole.theta, hole.v, 0.0));
    const Vec3 n = cone.frame().local_direction(cone.normal(hole.theta));
    const Vec3 d = cone.frame().local_direction(cone.direction(hole.theta));
    const Vec3 e = cross(d, n);
    const auto inward = [&](Vec3 from, double w) {  // to the layer, from a point above the wall
      const auto to_plane = [&](double theta) {
        const double lean = (300.0 - 200.0 - 100.0 * std::cos(theta)) / 400.0;
        const Vec3 normal =
            (1.0 / std::sqrt(1.0 + lean * lean)) * Vec3{std::cos(theta), std::sin(theta), lean};
        const double facing = dot(normal, n);
        return facing > 0.1
                   ? (dot(normal, from - Vec3{300.0 * std::cos(theta), 300.0 * std::sin(theta), 0.0}) + w) /
                         facing
                   : -1e300;
      };
      double best = hole.theta, step = 0.02;
      for (int i = -60; i <= 60; ++i)
        if (to_plane(hole.theta + step * i) > to_plane(best)) best = hole.theta + step * i;
      for (; step > 1e-7; step *= 0.5)
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
        0.0, 60.0, 1);
    EXPECT_NEAR(plug_volume(fitting) / volume, 1.0, 1e-8) << around;
  }
}

// A door cut along its own axis, or square to the duct's, on a taper: the share of a box about it whose
// points lie in the liner and inside the edge, by the place on the duct face that the cut leads to.
TEST(Openings, DoorsOnATaperByScatteredPoints) {
  for (const std::string bevel : {"straight", "radial"}) {
    const Fitting fitting = fitting_from(
        "reducer", {{"diameter", "600"},
                    {"to_diameter", "400"},
                    {"length", "400"},
                    {"thickness", "25"},
                    {"openings", "access door at 200mm around 90 width 180mm length 120mm bevel " + bevel}});
    const OpeningTarget& door = target_of(fitting, 0);
    const Sheet& cone = fitting.walls.front().sheet;
    const Vec3 middle = cone.point(door.theta, door.v, 0.0);
    const Vec3 n = cone.normal(door.theta), d = cone.direction(door.theta), e = cross(d, n);
    const double slope = (cone.r2() - cone.r1()) / cone.height();
    const double sine = -slope / std::sqrt(1.0 + slope * slope), cosine = sine / -slope;
    // on the flat of the duct face, the sector of the cone's slant heights
    const double apex = cone.r1() / sine, reach = apex - door.v;
    const auto on_flat = [&](Vec3 p) -> Vec2 {  // of the duct face's point
      const double turn = std::remainder(std::atan2(p.y, p.x) - door.theta, k_two_pi) * sine;
      const double left = apex - p.z / cosine;
      return {left * std::sin(turn), reach - left * std::cos(turn)};
    };
    const auto radius_at = [&](double z) { return cone.r1() + slope * z; };
    std::mt19937 engine(11);
    std::uniform_real_distribution<double> x(-120.0, 120.0), y(-85.0, 85.0), deep(-20.0, 45.0);
    constexpr int k_points = 600000;
    int inside = 0;
    for (int i = 0; i < k_points; ++i) {
      const Vec3 p = cone.frame().local_point(middle + x(engine) * e + y(engine) * d - deep(engine) * n);
      const double depth = (radius_at(p.z) - std::hypot(p.x, p.y)) * cosine;
      if (depth < 0.0 || depth > 25.0) continue;
      Vec3 face = p;  // where the cut through it begins
      if (bevel == "radial") {
        const double out = radius_at(p.z) / std::hypot(p.x, p.y);
        face = {p.x * out, p.y * out, p.z};
      } else {  // up the door's axis, by halving
        const Vec3 axis = cone.frame().local_direction(n);
        double low = 0.0, high = 60.0;
        for (int step = 0; step < 50; ++step) {
          const double half = 0.5 * (low + high);
          face = p + half * axis;
          (radius_at(face.z) > std::hypot(face.x, face.y) ? low : high) = half;
        }
      }
      const Vec2 flat = on_flat(face);
      inside += std::fabs(flat.x) < door.half_around && std::fabs(flat.y) < 60.0 ? 1 : 0;
    }
    const double box = 240.0 * 170.0 * 65.0;
    EXPECT_NEAR(plug_volume(fitting) / (box * inside / k_points), 1.0, 0.008) << bevel;
  }
}

TEST(Openings, CutInTheMetalWhereAsked) {
  const Fitting bare = fitting_from("straight", k_duct);
  const Fitting cut = fitting_from(
      "straight",
      duct_with("access door at 600mm around 90 width 200mm length 300mm setback 20mm metal yes"));
  EXPECT_NEAR(shell_volume(cut, 0.0), shell_volume(bare, 0.0), 1e-6);
  EXPECT_NEAR(shell_volume(cut, 25.0), shell_volume(bare, 25.0), 1e-6);
  const double area = 2.0 * 101.951071 * 300.0;  // chord 200 on the flat
  EXPECT_NEAR(metal_area(bare) - metal_area(cut), area, 1e-2);
  EXPECT_NEAR(metal_volume(bare) - metal_volume(cut), area * (0.8 + 0.64 / 600.0), 1e-2);
  // the liner's hole has the setback around it
  const double wide = 2.0 * 121.951071 * 340.0;
  EXPECT_NEAR(plug_volume(cut), wide * (25.0 - 625.0 / 600.0), 1e-1);
}

TEST(Openings, TheDivisionMovesClear) {
  const Fitting fitting =
      fitting_from("straight", with(k_duct, {{"length", "2400"},
                                             {"board_width", "1220"},
                                             {"board_length", "1500"},
                                             {"openings",
                                              "test hole at 1200mm around 20 diameter 100mm, sensor at 400mm "
                                              "around 180 diameter 25mm"}}));
  EXPECT_GT(fitting.pieces.size(), 2u);
  std::size_t found = 0;
  for (const Piece& piece : fitting.pieces) {
    const Wall& wall = fitting.wall_of(piece);
    for (const std::size_t h : holes_of(fitting, piece)) {
      ++found;
      const Joint& joint = fitting.joint(wall.holes[h].joint);
      for (int i = 0; i < 36; ++i) {
        const Sheet::Place place = place_on(joint, Side::follow, k_two_pi * i / 36, shell_depths(0.0));
        EXPECT_GT(place.v - liner_end(fitting, piece.wall, End::low, place.theta, 0.0), 24.9);
        EXPECT_GT(liner_end(fitting, piece.wall, End::high, place.theta, 0.0) - place.v, 24.9);
        for (const double seam : {piece.seam, piece.seam + piece.span})
          EXPECT_GT(300.0 * std::fabs(std::remainder(place.theta - seam, k_two_pi)), 24.9);
      }
    }
  }
  EXPECT_EQ(found, 2u);
}

TEST(Openings, ASecondLayerHasItsOwn) {
  const Fitting fitting = fitting_from(
      "straight", duct_with("test hole at 500mm around 120 diameter 100mm", {{"second_layer", "20"}}));
  ASSERT_EQ(fitting.openings.size(), 2u);
  EXPECT_EQ(fitting.openings[0].name, fitting.openings[1].name);
  const double area = hole_area_of(50.0, 300.0);
  EXPECT_NEAR(plug_volume(fitting, 0), area * (25.0 - 625.0 / 600.0), 1e-5);
  EXPECT_NEAR(plug_volume(fitting, 1), area * (20.0 - (45.0 * 45.0 - 625.0) / 600.0), 1e-5);
}

// A hole cut toward the axis is as wide on a layer's board as its angle is at the fibre that keeps its
// length, less that fibre's share of the fit allowance: in the second layer, at 275 mm, 275 asin(10/300) (1
// - 19.05 / (2 pi 275)) = 9.066 mm to either side; board of the butt allowance all around leaves it open
// below that.
TEST(Openings, TheButtAllowanceLeavesThemOpenOnEachLayersBoard) {
  const double half = 275.0 * std::asin(10.0 / 300.0) * (1.0 - 19.05 / (k_two_pi * 275.0));
  const auto told = [&](double allowance) {
    return refusal("straight", duct_with("test hole at 500mm around 120 diameter 20mm bevel radial",
                                         {{"second_layer", "20"},
                                          {"cut", "tilt"},
                                          {"butt_allowance", "1"},
                                          {"second_butt_allowance", fmt::format("{:.3f}mm", allowance)}}));
  };
  EXPECT_EQ(told(half - 0.07), "(made)");
  EXPECT_TRUE(has(told(half - 0.03), "second-butt-allowance")) << told(half - 0.03);
  EXPECT_TRUE(has(told(half - 0.03), "the allowance closes the hole for the test hole 1"));
}

TEST(Openings, RefusedWithWhatIsMissing) {
  const auto told = [](const std::string& openings, const Flags& more = {}) {
    return refusal("straight", duct_with(openings, more));
  };
  EXPECT_TRUE(has(told("sensor at 14mm around 90 diameter 25mm"),
                  "sensor 1: only 1.5 mm of liner is left to the lining's edge at the start end: 3.5 mm is "
                  "missing"));
  EXPECT_TRUE(has(told("sensor at 1195mm around 90 diameter 25mm"),
                  "it reaches 7.5 mm beyond the lining's edge at the far end: 12.5 mm is missing"));
  EXPECT_TRUE(has(told("sensor at 300mm around 90 diameter 25mm", {{"hold_back_start", "285"}}),
                  "only 2.5 mm of liner is left to the lining's edge at the start end"));
  EXPECT_TRUE(has(told("sensor at 300mm around 90 diameter 20mm, sensor at 322mm around 90 diameter 20mm"),
                  "sensor 2: only 2 mm of liner is left to the hole of the sensor 1: 3 mm is missing"));
  EXPECT_TRUE(has(told("sensor at 300mm around 90 diameter 20mm, sensor at 312mm around 90 diameter 20mm"),
                  "sensor 2: it overlaps the hole of the sensor 1"));
  EXPECT_TRUE(
      has(told("sensor at 300mm around 0 diameter 20mm"), "sensor 1: it lies on the seam of piece 1 (top)"));
  EXPECT_EQ(told("sensor at 300mm around 0 diameter 20mm", {{"seam_at", "180"}}), "(made)");
  EXPECT_TRUE(has(told("test hole at 600mm around 90 diameter 600mm"), "it is wider than its wall"));
  // from R at the angle a to r at b a side comes out of the board before its edge where r > R cos(b - a)
  const Flags narrow{{"diameter", "91"}, {"fit_allowance", "0"}};
  EXPECT_TRUE(
      has(told("test hole at 600mm around 90 diameter 28.4mm bevel splayed splay 65.6", narrow),
          "splayed so flat its sides would leave the board before they come to their edge on the air face"));
  EXPECT_EQ(told("test hole at 600mm around 90 diameter 28.4mm bevel splayed splay 45", narrow), "(made)");
  EXPECT_TRUE(has(told("test hole at 600mm around 90 diameter 560mm bevel straight"),
                  "cut straight through it would be wider than the wall at its air face"));
  EXPECT_TRUE(has(told("test hole at 600mm around 90 diameter 20mm", {{"butt_allowance", "10"}}),
                  "the allowance closes the hole for the test hole 1"));
  EXPECT_TRUE(has(told("sensor piece 2 at 300mm around 90 diameter 20mm"), "no piece is called 2"));
  EXPECT_TRUE(has(refusal("tee", {{"diameter", "500"},
                                  {"length", "1200"},
                                  {"branch_diameter", "300"},
                                  {"branch_length", "600"},
                                  {"thickness", "25"},
                                  {"openings", "sensor piece body at 600mm around 10 diameter 25mm"}}),
                  "overlaps the hole of a branch"));
  // a taper's seam turns out of an opening's way when asked to
  const auto tapered = [](const char* seam) {
    return refusal("reducer", {{"diameter", "600"},
                               {"to_diameter", "400"},
                               {"length", "400"},
                               {"thickness", "25"},
                               {"seam_at", seam},
                               {"openings", "sensor at 200mm around 180 diameter 60mm"}});
  };
  EXPECT_TRUE(has(tapered("180"), "it lies on the seam of piece taper (opposite the line-up mark)"));
  EXPECT_EQ(tapered("90"), "(made)");
  // one on each side of a taper are apart
  EXPECT_EQ(refusal("reducer",
                    {{"diameter", "600"},
                     {"to_diameter", "400"},
                     {"length", "400"},
                     {"thickness", "25"},
                     {"openings",
                      "sensor at 200mm around 90 diameter 99mm, sensor at 200mm around -90 diameter 99mm"}}),
            "(made)");
  EXPECT_TRUE(has(told("sensor at 500mm around 90 diameter 20mm metal yes",
                       {{"length", "1200"}, {"duct_lengths", "505 & 695"}}),
                  "the metal is joined 505 mm from its start"));
}

TEST(Openings, MistakesOfTheListAreToldPlainly) {
  const auto told = [](const std::string& openings) { return refusal("straight", duct_with(openings)); };
  EXPECT_TRUE(has(told("hatch at 300mm around 90 diameter 20mm"), "opening 1: 'hatch' is no such opening"));
  EXPECT_TRUE(has(told("at 300mm around 90 diameter 20mm"), "opening 1: it does not say what it is for"));
  EXPECT_TRUE(has(told("sensor around 90 diameter 20mm"), "'at' has no value"));
  EXPECT_TRUE(has(told("sensor at 300 around 90 diameter 20mm"), "'300' names no unit"));
  EXPECT_TRUE(has(told("sensor at 300mm around 90"), "it has no size"));
  EXPECT_TRUE(has(told("sensor at 300mm around 90 diameter 20mm width 20mm"), "and sides beside it"));
  EXPECT_TRUE(has(told("access door at 300mm around 90 width 20mm"), "'length' has no value"));
  EXPECT_TRUE(
      has(told("sensor at 300mm around 90 diameter 20mm bevel round"), "none of square, radial, straight"));
  EXPECT_TRUE(
      has(told("sensor at 300mm around 90 diameter 20mm splay 20"), "a splay belongs to bevel splayed"));
  EXPECT_TRUE(has(told("sensor at 300mm around 90 diameter 20mm at 3mm"), "'at' stands in it twice"));
  EXPECT_TRUE(has(told("sensor at 300mm around 90 diameter 20mm metal maybe"), "none of yes, no"));
  EXPECT_TRUE(has(told("sensor at 300mm around 90 diameter 20mm, "), "opening 2: it is empty"));
}

}  // namespace
}  // namespace linerwright
