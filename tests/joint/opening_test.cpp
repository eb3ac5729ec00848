// Edges of openings: a round one is what a tube square on the wall meets, point by point; a rectangle is as
// wide as its chord. Values for a duct of 600 and a liner of 25, worked out by hand from u = R asin(a sin psi
// / R).
#include <gtest/gtest.h>

#include <array>

#include "joints.hpp"
#include "linerwright/units/error.hpp"

using namespace linerwright;

namespace {

constexpr double k_radius = 300.0;
constexpr double k_liner = 25.0;

OpeningTarget round_of(double diameter, OpeningBevel bevel, double setback = 0.0) {
  OpeningTarget hole{true, 0.4, 500.0, 0.5 * diameter, 0.5 * diameter};
  hole.setback = setback;
  hole.bevel = bevel;
  return hole;
}

// Its middle lies on this ruling's height, its sides are as wide as its chord.
OpeningTarget rectangle_of(const Sheet& wall, double v, double width, double length) {
  OpeningTarget door{false, 0.4, v, 0.0, 0.5 * length};
  door.half_around = flat_half(wall, door, 0.5 * width);
  return door;
}

OpeningTarget door_of(const Sheet& wall, double width, double length, double setback, OpeningBevel bevel) {
  OpeningTarget door = rectangle_of(wall, 500.0, width, length);
  door.setback = setback;
  door.bevel = bevel;
  return door;
}

// How far around on the board of the duct face a place lies from the opening's middle.
double around_of(const OpeningTarget& opening, Sheet::Place place) {
  return k_radius * std::remainder(place.theta - opening.theta, k_two_pi);
}

const Sheet& duct() {
  static const Sheet wall = Sheet::cylinder(Frame{}, k_radius);
  return wall;
}

// A taper in a place of its own, and how far a point lies under its surface.
Sheet taper(double r1, double r2, double height, double offset = 0.0) {
  Frame frame;
  frame.origin = {40, -70, 900};
  frame.z = {0.6, 0, 0.8};
  frame.x = {0.8, 0, -0.6};
  frame.y = {0, 1, 0};
  return Sheet::cone(frame, r1, r2, height, offset);
}

// The least depth under all planes that touch a wall: its own, for it is convex.
double under_planes(const Sheet& cone, Vec3 point) {
  const auto depth = [&](double theta) {
    const double lean = (cone.r1() - cone.r2() - cone.offset() * std::cos(theta)) / cone.height();
    return (cone.r1() - point.x * std::cos(theta) - point.y * std::sin(theta) - lean * point.z) /
           std::sqrt(1.0 + lean * lean);
  };
  double best = 0.0;
  for (int i = 0; i < 360; ++i)
    if (depth(i * k_degree) < depth(best)) best = i * k_degree;
  double low = best - k_degree, high = best + k_degree;
  for (int step = 0; step < 100; ++step) {
    const double first = low + (high - low) / 3.0, second = high - (high - low) / 3.0;
    (depth(first) < depth(second) ? high : low) = depth(first) < depth(second) ? second : first;
  }
  return depth(0.5 * (low + high));
}

double under(const Sheet& cone, Vec3 point) {
  const Vec3 p = cone.frame().local_point(point);
  if (cone.offset() != 0.0) return under_planes(cone, p);
  const double slope = (cone.r2() - cone.r1()) / cone.height();
  return (cone.r1() + slope * p.z - std::hypot(p.x, p.y)) / std::sqrt(1.0 + slope * slope);
}

}  // namespace

TEST(Opening, a_round_one_on_the_board_radial_and_straight) {
  constexpr std::array<double, 7> radial{0.0, 19.4250, 37.5983, 53.3132, 65.4704, 73.1677, 75.8041};
  constexpr std::array<double, 7> straight{0.0, 21.1937, 41.0369, 58.2189, 71.5325, 79.9742, 82.8680};
  const OpeningTarget square = round_of(150.0, OpeningBevel::square);
  const OpeningTarget through = round_of(150.0, OpeningBevel::straight);
  for (std::size_t i = 0; i < radial.size(); ++i) {
    const double psi = 15.0 * static_cast<double>(i) * k_degree;
    const Sheet::Place duct_face = place_on_opening(duct(), square, psi, 0.0);
    const Sheet::Place air_face = place_on_opening(duct(), square, psi, k_liner);
    EXPECT_NEAR(-around_of(square, duct_face), radial[i], 5e-5);
    EXPECT_NEAR(duct_face.v, 500.0 + 75.0 * std::cos(psi), 1e-10);
    EXPECT_EQ(air_face.theta, duct_face.theta);
    EXPECT_EQ(air_face.v, duct_face.v);
    EXPECT_NEAR(-around_of(through, place_on_opening(duct(), through, psi, k_liner)), straight[i], 5e-5);
  }
  // square to the wall the air face is left 137.5 clear, a tube's way through 150
  const auto clear = [&](const OpeningTarget& opening) {
    return distance(duct().point(place_on_opening(duct(), opening, 0.5 * k_pi, k_liner).theta, 500, k_liner),
                    duct().point(place_on_opening(duct(), opening, 1.5 * k_pi, k_liner).theta, 500, k_liner));
  };
  EXPECT_NEAR(clear(square), 137.5, 1e-9);
  EXPECT_NEAR(clear(through), 150.0, 1e-9);
  EXPECT_NEAR(std::atan((82.8680 - 75.8041) / k_liner) / k_degree, 15.7780, 1e-3);
}

TEST(Opening, a_door_of_chords_with_its_setback) {
  const double quarter = 0.25 * k_pi;  // the middle of the far side; the corner that comes first is at 0
  struct {
    double width, setback, duct, air;
  } const rows[] = {{200, 20, 121.9511, 133.7952},
                    {200, 0, 101.9511, 111.6506},
                    {300, 20, 177.0796, 195.7520},
                    {300, 0, 157.0796, 173.0794}};
  for (const auto& row : rows) {
    const OpeningTarget door = door_of(duct(), row.width, 300, row.setback, OpeningBevel::straight);
    EXPECT_NEAR(around_of(door, place_on_opening(duct(), door, 0.0, 0.0)), row.duct, 5e-5);
    EXPECT_NEAR(around_of(door, place_on_opening(duct(), door, 0.0, k_liner)), row.air, 5e-5);
    EXPECT_NEAR(place_on_opening(duct(), door, quarter, 0.0).v, 500 + 150 + row.setback, 1e-9);
    EXPECT_NEAR(around_of(door, place_on_opening(duct(), door, k_pi, k_liner)), -row.air, 5e-5);
  }
  const auto clear = [&](OpeningBevel bevel) {
    const OpeningTarget door = door_of(duct(), 200, 300, 20, bevel);
    return distance(duct().point(place_on_opening(duct(), door, 0.0, k_liner).theta, 0, k_liner),
                    duct().point(place_on_opening(duct(), door, 0.5 * k_pi, k_liner).theta, 0, k_liner));
  };
  EXPECT_NEAR(clear(OpeningBevel::radial), 217.4701, 5e-5);
  EXPECT_NEAR(clear(OpeningBevel::straight), 237.2402, 5e-5);
}

// 600 to 400 over 400: square to the duct's axis the air face lies t tan p = 6.25 further to the narrow end.
TEST(Opening, radial_on_a_taper_leans_to_its_narrow_end) {
  for (const bool narrows : {true, false}) {
    const Sheet cone = narrows ? taper(300, 200, 400) : taper(200, 300, 400);
    OpeningTarget hole = round_of(60.0, OpeningBevel::radial);
    hole.v = 200;
    for (const double s : {0.0, 1.0, 2.5, 4.0}) {
      const Sheet::Place on_duct = place_on_opening(cone, hole, s, 0.0);
      const Sheet::Place on_air = place_on_opening(cone, hole, s, k_liner);
      EXPECT_NEAR(on_air.v - on_duct.v, narrows ? 6.25 : -6.25, 1e-10);
      EXPECT_EQ(on_air.theta, on_duct.theta);
      const Vec3 way =
          cone.point(on_air.theta, on_air.v, k_liner) - cone.point(on_duct.theta, on_duct.v, 0.0);
      EXPECT_NEAR(dot(way, cone.frame().z), 0.0, 1e-10);
    }
  }
}

// On an eccentric taper the rulings lean by different amounts: the cut lies square to the axis on each.
TEST(Opening, radial_on_an_eccentric_taper_is_level) {
  const Sheet cone = taper(200, 130, 300, 60);
  for (const double theta : {0.1, 1.5, 3.0, -2.0}) {
    OpeningTarget hole = round_of(60.0, OpeningBevel::radial);
    hole.theta = theta;
    hole.v = 150;
    for (const double s : {0.0, 1.0, 2.5, 4.0}) {
      const Sheet::Place on_duct = place_on_opening(cone, hole, s, 0.0);
      const Sheet::Place on_air = place_on_opening(cone, hole, s, k_liner);
      EXPECT_EQ(on_air.theta, on_duct.theta);
      const Vec3 way =
          cone.point(on_air.theta, on_air.v, k_liner) - cone.point(on_duct.theta, on_duct.v, 0.0);
      EXPECT_NEAR(dot(way, cone.frame().z), 0.0, 1e-10);
      EXPECT_NEAR(std::fabs(under(cone, cone.point(on_air.theta, on_air.v, k_liner))), k_liner, 1e-9);
    }
  }
}

// By the tube itself: its points stand as far from its axis as it is wide, and as deep under the wall as
// asked.
TEST(Opening, a_round_edge_lies_on_its_tube_and_on_the_wall) {
  for (const Sheet& wall :
       {taper(300, 200, 400), taper(150, 320, 260), taper(300, 299.9, 700), taper(300, 200, 400, 100),
        taper(150, 320, 260, 90), taper(300, 299.9, 700, 250), Sheet::cylinder(taper(1, 2, 3).frame(), 260)})
    for (const double diameter : {20.0, 160.0, 280.0}) {
      OpeningTarget hole = round_of(diameter, OpeningBevel::straight);
      hole.v = 140;
      hole.flat = flat_of(wall, hole.theta);
      const Vec3 middle = wall.point(hole.theta, hole.v, 0.0);
      const Vec3 axis = wall.normal(hole.theta);
      for (const double w : {0.0, 12.0, 25.0, -1.0})
        for (int i = 0; i < 24; ++i) {
          const Sheet::Place place = place_on_opening(wall, hole, k_two_pi * i / 24, w);
          const Vec3 point = wall.point(place.theta, place.v, w);
          EXPECT_NEAR(norm(cross(point - middle, axis)), 0.5 * diameter, 1e-9);
          if (!wall.is_cylinder()) {
            EXPECT_NEAR(under(wall, point), w, 1e-9);
          }
          EXPECT_GT(dot(point - middle, axis), -wall.r1());  // the near side
          if (w == 0.0) {
            hole.bevel = OpeningBevel::square;
            const Sheet::Place same = place_on_opening(wall, hole, k_two_pi * i / 24, k_liner);
            EXPECT_NEAR(std::remainder(same.theta - place.theta, k_two_pi), 0.0, 1e-12);
            EXPECT_NEAR(same.v, place.v, 1e-9);
            hole.bevel = OpeningBevel::straight;
          }
        }
    }
}

// On the unrolled wall a setback's edge lies as far from the opening's as it is wide: held against the
// general unrolling, which integrates; a splay adds its share of the depth.
TEST(Opening, a_setback_is_a_distance_on_the_flat) {
  for (const Sheet& wall : {taper(300, 200, 400), taper(180, 320, 500), taper(300, 200, 400, 100),
                            taper(180, 320, 500, 90), Sheet::cylinder(Frame{}, 300)})
    for (const bool round : {true, false}) {
      OpeningTarget hole =
          round ? round_of(120.0, OpeningBevel::square) : rectangle_of(wall, 160.0, 140.0, 90.0);
      hole.v = 160;
      hole.flat = flat_of(wall, hole.theta);
      OpeningTarget wider = hole;
      wider.setback = 18.0;
      OpeningTarget splayed = hole;
      splayed.bevel = OpeningBevel::splayed;
      splayed.splay = 0.72;  // 18 in 25
      const Development flat(wall, 0.0, 1.0, -2.0, true);
      const auto at = [&](const OpeningTarget& opening, double s, double w) {
        const Sheet::Place place = place_on_opening(wall, opening, s, w);
        return flat.point(place.theta, place.v);
      };
      constexpr int k_steps = 7200;
      for (int i = 0; i < 20; ++i) {
        // of a rectangle beside the corners, where the edge is mitred
        const double s = 0.5 * k_pi * (i / 5 + (round ? 0.07 : 0.3) + (round ? 0.2 : 0.1) * (i % 5));
        const Vec2 out = at(wider, s, 0.0);
        EXPECT_NEAR(distance(at(splayed, s, k_liner), out), 0.0, 1e-9);
        double least = 1e300;
        for (int k = 0; k < k_steps; ++k)
          least = std::min(least, distance(out, at(hole, k_two_pi * k / k_steps, 0.0)));
        EXPECT_NEAR(least, 18.0, round ? 1e-4 : 2e-3) << s;  // between points of the edge
      }
    }
}

TEST(Opening, half_a_chord_on_the_flat) {
  EXPECT_NEAR(rectangle_of(duct(), 0.0, 200.0, 80.0).half_around, 300 * std::asin(1.0 / 3.0), 1e-9);
  EXPECT_NEAR(rectangle_of(duct(), 0.0, 599.9, 80.0).half_around, 300 * std::asin(299.95 / 300.0), 1e-6);
  for (const double offset : {0.0, 60.0}) {
    const Sheet cone = taper(300, 200, 400, offset);
    const OpeningTarget door = rectangle_of(cone, 150.0, 240.0, 80.0);
    const auto middle_of_side = [&](double s) {
      const Sheet::Place place = place_on_opening(cone, door, s, 0.0);
      return cone.point(place.theta, place.v, 0.0);
    };
    const Vec3 across = middle_of_side(1.75 * k_pi) - middle_of_side(0.75 * k_pi);
    EXPECT_NEAR(dot(across, cross(cone.direction(0.4), cone.normal(0.4))), 240.0, 1e-8);
    if (offset == 0.0) {
      EXPECT_NEAR(norm(across), 240.0, 1e-8);
    }
  }
  EXPECT_THROW(rectangle_of(duct(), 0.0, 600.0, 80.0), GeometryError);
  EXPECT_THROW(place_on_opening(duct(), round_of(560.0, OpeningBevel::straight), 0.5 * k_pi, k_liner),
               GeometryError);
  EXPECT_NO_THROW(place_on_opening(duct(), round_of(560.0, OpeningBevel::square), 0.5 * k_pi, k_liner));
}

TEST(Opening, is_led_by_no_wall) {
  const Joint joint{duct(), {duct()}, round_of(100.0, OpeningBevel::square)};
  EXPECT_TRUE(joint.of_opening());
  EXPECT_FALSE(joint.open());
  EXPECT_THROW(height_on_lead(joint, 0.0, {}), GeometryError);
  const Vec3 far_side = point_of(joint, 0.0, shell_depths(10.0));
  EXPECT_NEAR(far_side.z, 550.0, 1e-10);
  EXPECT_NEAR(std::hypot(far_side.x, far_side.y), 290.0, 1e-10);
}
