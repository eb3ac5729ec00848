// The wall of a square-to-round: rulings, the board it unrolls to, and its true lengths as pattern drafting
// finds them by triangulation.
#include <gtest/gtest.h>

#include <cmath>

#include "sheet/square_to_round.hpp"

using namespace linerwright;

namespace {

double flat_theta(int k) {
  return 0.5 * k_pi * k;
}

// The ruling of corner k that reaches the circle `degrees` on from flat k's tip.
double ruling_theta(int corner, double degrees) {
  return corner_theta(corner, degrees * k_degree);
}

}  // namespace

TEST(SquareToRound, rulings_of_the_first_corner) {
  // l^2 = |C - e - r N|^2 + H^2, C = (300, 200)
  const double by_hand[] = {458.257569, 439.753769, 431.366377, 434.256426, 448.015589, 470.815939, 500.0};
  const Sheet sheet = k_case.sheet();
  for (int i = 0; i <= 6; ++i) {
    const double degrees = 15.0 * i;
    const double length = sheet.ruling(ruling_theta(0, degrees)).length;
    const double dx = 300.0 - 200.0 * std::cos(degrees * k_degree);
    const double dy = 200.0 - 200.0 * std::sin(degrees * k_degree);
    EXPECT_NEAR(length, std::hypot(dx, dy, 400.0), 1e-9);
    EXPECT_NEAR(length, by_hand[i], 1e-6);
  }
  // heights of the triangles, from the middles of the sides to their tips
  EXPECT_NEAR(sheet.ruling(flat_theta(0)).length, std::hypot(100.0, 400.0), 1e-9);
  EXPECT_NEAR(sheet.ruling(flat_theta(1)).length, 400.0, 1e-9);
}

TEST(SquareToRound, parts_follow_one_another_smoothly) {
  for (const Vec2 centre : {Vec2{}, Vec2{100.0, -30.0}}) {
    SquareToRound moved = k_case;
    moved.centre = centre;
    const Sheet sheet = moved.sheet();
    for (int i = 0; i < 8; ++i) {
      const double theta = (i + 0.5) * k_part_span;
      const Sheet::Ruling before = sheet.ruling(theta - 1e-11);
      const Sheet::Ruling after = sheet.ruling(theta + 1e-11);
      EXPECT_LT(distance(before.base, after.base), 1e-7);
      EXPECT_LT(distance(before.normal, after.normal), 1e-9);
      EXPECT_LT(distance(before.direction, after.direction), 1e-9);
    }
    // a turn on, and a turn back
    EXPECT_LT(distance(sheet.point(0.3, 100.0, 5.0), sheet.point(0.3 + k_two_pi, 100.0, 5.0)), 1e-9);
    EXPECT_LT(distance(sheet.point(0.3, 100.0, 5.0), sheet.point(0.3 - k_two_pi, 100.0, 5.0)), 1e-9);
  }
}

TEST(SquareToRound, a_flat_point_finds_its_place_on_the_wall_again) {
  Dice dice(67);
  for (int i = 0; i < cases(100); ++i) {
    const SquareToRound made = random_square_to_round(dice);
    const Sheet sheet = made.sheet();
    const double seam = 0.5 * k_pi * dice.pick(4);
    const Development flat(sheet, 0.0, 1.0, seam);
    for (int k = 0; k < 20; ++k) {
      const double theta = seam + dice.between(0.0, k_two_pi);
      const double v = dice.between(0.01, 0.99) * sheet.ruling(theta).length;
      const Vec2 at = flat.point(theta, v);
      const Sheet::Place place = flat.place(at, theta + dice.between(-0.3, 0.3));
      EXPECT_NEAR(place.theta, theta, 1e-8);
      EXPECT_NEAR(place.v, v, 1e-6);
    }
    // all rulings of a flat end in its tip, and all of a cone begin in its corner: any of them will do
    for (int part = 0; part < 8; ++part) {
      const double theta = seam + (part + 1) * k_part_span;
      const bool is_flat = part_at(theta).flat;
      const double v = is_flat ? sheet.ruling(theta).length : 0.0;
      const Vec2 at = flat.point(theta, v) + Vec2{5e-5, 5e-5};  // as a file rounds it
      const Sheet::Place place = flat.place(at, theta);
      EXPECT_LT(distance(flat.point(place.theta, place.v), at), 1e-3);
    }
  }
}

TEST(SquareToRound, rulings_lie_in_their_tangent_planes_and_slopes_are_derivatives) {
  Dice dice(61);
  for (int i = 0; i < cases(300); ++i) {
    const SquareToRound made = random_square_to_round(dice);
    const Sheet sheet = made.sheet();
    const int part = dice.pick(8);
    const double theta = (part - 0.5 + dice.between(0.02, 0.98)) * k_part_span;
    const double w = dice.between(-2.0, 30.0);
    const double v = dice.between(0.0, 1.0) * sheet.ruling(theta).length;
    // which way the normal points: a flat's own, or as far on from the last flat's as the ruling of the cone
    const bool flat = part % 2 == 0;
    const double angle = flat ? flat_theta(part / 2) : flat_theta(part / 2) + corner_turn(part / 2, theta);
    EXPECT_EQ(part_at(theta).flat, flat);
    EXPECT_EQ(part_at(theta).quarter, part / 2);
    EXPECT_NEAR(made.depth_under(angle, sheet.point(theta, v, w)), w, 1e-9) << part;
    const Sheet::Ruling r = sheet.ruling(theta);
    const double h = 1e-4;
    EXPECT_LT(distance(r.base_slope, slope([&](double t) { return sheet.ruling(t).base; }, theta, h)), 1e-6);
    EXPECT_LT(
        distance(r.direction_slope, slope([&](double t) { return sheet.ruling(t).direction; }, theta, h)),
        1e-8);
    EXPECT_LT(distance(r.normal_slope, slope([&](double t) { return sheet.ruling(t).normal; }, theta, h)),
              1e-8);
    EXPECT_NEAR(dot(r.normal, r.direction), 0.0, 1e-12);
    EXPECT_NEAR(dot(r.normal, r.normal_slope), 0.0, 1e-12);
    // the same number around the wall as on the board
    EXPECT_NEAR(sheet.spread(theta, v, 0.0),
                norm(cross(slope([&](double t) { return sheet.point(t, v, 0.0); }, theta, h), r.direction)),
                1e-5);
  }
}

TEST(SquareToRound, half_of_it_on_the_board) {
  // Seams on the middle lines of the 400 sides; origin in the middle of the 600 side, x along it toward the
  // first corner. Worked out from first principles by quadrature of the closed form.
  const Development flat(k_case.sheet(), 0.0, 1.0, 0.0);
  const Vec2 middle = flat.point(flat_theta(1), 0.0);
  const Vec2 corner = flat.point(ruling_theta(0, 90.0), 0.0);
  const Vec2 along = (1.0 / distance(corner, middle)) * (corner - middle);
  EXPECT_NEAR(distance(corner, middle), 300.0, 1e-9);
  const auto placed = [&](Vec2 p) {
    const Vec2 from = p - middle;
    return Vec2{dot(from, along), -cross(along, from)};
  };
  const auto expect = [&](Vec2 p, double x, double y, double tolerance) {
    EXPECT_NEAR(placed(p).x, x, tolerance);
    EXPECT_NEAR(placed(p).y, std::copysign(y, placed(p).y), tolerance);
    EXPECT_GT(placed(p).y * placed(flat.point(flat_theta(1), 100.0)).y, 0.0);  // all on one side of the edge
  };
  const auto top = [&](double degrees) {
    const double theta = ruling_theta(0, degrees);
    return flat.point(theta, k_case.sheet().ruling(theta).length);
  };
  expect(flat.point(flat_theta(1), 400.0), 0.0, 400.0, 1e-9);
  expect(top(90.0), 0.0, 400.0, 1e-9);
  expect(top(0.0), 305.4908, 458.2247, 1e-4);
  expect(flat.point(0.0, 0.0), 480.9800, 85.1248, 1e-4);
  const double arc[][2] = {
      {257.344, 437.680}, {207.613, 421.357}, {156.548, 409.878}, {104.636, 403.176}, {52.357, 400.425}};
  for (int i = 0; i < 5; ++i) expect(top(15.0 * (i + 1)), arc[i][0], arc[i][1], 1e-3);

  // angle of the cone, angle of the outline around the corner, arc of a quarter
  EXPECT_NEAR(std::fabs(flat.lean(ruling_theta(0, 90.0)) - flat.lean(ruling_theta(0, 0.0))) / k_degree,
              37.556424, 1e-6);
  const double beside_first = std::atan2(412.310563, 200.0);
  const double beside_second = std::atan2(400.0, 300.0);
  EXPECT_NEAR(37.556424 + (beside_first + beside_second) / k_degree, 154.809836, 2e-6);
  double length = 0.0;
  for (int i = 0; i < 9000; ++i) length += distance(top(0.01 * i), top(0.01 * (i + 1)));
  EXPECT_NEAR(length, 200.0 * k_pi / 2.0, 1e-6);
}

TEST(SquareToRound, areas_of_the_board) {
  // a cone's part: half of r H times the integral of S over its quarter
  const Sheet sheet = k_case.sheet();
  const auto area = [&](double from, double to) {
    return integrate(
        [&](double theta) {
          const Sheet::Ruling r = sheet.ruling(theta);
          return dot(r.base_slope, r.around) * r.length +
                 0.5 * dot(r.direction_slope, r.around) * r.length * r.length;
        },
        from, to, 8);
  };
  const double cone = area(ruling_theta(0, 0.0), ruling_theta(0, 90.0));
  const double by_planes =
      0.5 * 200.0 * 400.0 *
      integrate([&](double angle) { return k_case.plane(angle).size; }, 0.0, 0.5 * k_pi, 8);
  EXPECT_NEAR(cone, by_planes, 1e-6);
  EXPECT_NEAR(cone, 65855.9334, 1e-4);
  double all = 0.0;
  for (int i = 0; i < 8; ++i) all += area((i - 0.5) * k_part_span, (i + 0.5) * k_part_span);
  EXPECT_NEAR(all, 4.0 * cone + 400.0 * 412.3105626 + 600.0 * 400.0, 1e-4);
  EXPECT_NEAR(all, 668347.9585, 1e-3);
}

TEST(SquareToRound, circle_moved_along_the_long_side) {
  SquareToRound moved = k_case;
  moved.centre = {100.0, 0.0};
  const Sheet sheet = moved.sheet();
  const Development flat(sheet, 0.0, 1.0, 0.0);
  const auto length = [&](int corner, double degrees) {
    return sheet.ruling(ruling_theta(corner, degrees)).length;
  };
  EXPECT_NEAR(length(0, 0.0), 447.2136, 1e-4);
  EXPECT_NEAR(length(0, 90.0), 447.2136, 1e-4);
  EXPECT_NEAR(length(1, 0.0), 565.6854, 1e-4);
  EXPECT_NEAR(length(1, 90.0), 489.8979, 1e-4);
  const double angles[] = {41.009385, 32.933474};
  for (int corner = 0; corner < 2; ++corner)
    EXPECT_NEAR(
        std::fabs(flat.lean(ruling_theta(corner, 90.0)) - flat.lean(ruling_theta(corner, 0.0))) / k_degree,
        angles[corner], 1e-6);
}

// Pattern drafting takes true lengths of lines from the corner to n + 1 points of the quarter circle and the
// chords between those, and lays triangle beside triangle.
TEST(SquareToRound, triangulation_by_chords_falls_short_with_the_square_of_its_steps) {
  struct Row {
    int divisions;
    double angle, end_short;
  };
  const Sheet sheet = k_case.sheet();
  const Development flat(sheet, 0.0, 1.0, 0.0);
  const double exact = std::fabs(flat.lean(ruling_theta(0, 90.0)) - flat.lean(ruling_theta(0, 0.0)));
  double before = 0.0;
  for (const Row& row : {Row{3, 37.112774, 3.5484}, Row{6, 37.444685, 0.8937}, Row{12, 37.528440, 0.2238}}) {
    double angle = 0.0;
    const double step = 90.0 / row.divisions;
    const double chord = 2.0 * 200.0 * std::sin(0.5 * step * k_degree);
    for (int i = 0; i < row.divisions; ++i) {
      const double p = sheet.ruling(ruling_theta(0, step * i)).length;
      const double q = sheet.ruling(ruling_theta(0, step * (i + 1))).length;
      angle += std::acos((p * p + q * q - chord * chord) / (2.0 * p * q));
    }
    EXPECT_NEAR(angle / k_degree, row.angle, 1e-6);
    const double missing = 2.0 * sheet.ruling(ruling_theta(0, 0.0)).length * std::sin(0.5 * (exact - angle));
    EXPECT_NEAR(missing, row.end_short, 1e-4);
    if (before > 0.0) {
      EXPECT_NEAR(before / missing, 4.0, 0.05);
    }
    before = missing;
  }
}

TEST(SquareToRound, what_is_no_size_is_refused) {
  EXPECT_THROW(Sheet::square_to_round(Frame{}, 0.0, 1.0, 1.0, 1.0), std::invalid_argument);
  EXPECT_THROW(Sheet::square_to_round(Frame{}, 1.0, 1.0, -1.0, 1.0), std::invalid_argument);
  EXPECT_THROW(Sheet::square_to_round(Frame{}, 1.0, 1.0, 1.0, 1.0, {std::nan(""), 0.0}),
               std::invalid_argument);
  EXPECT_THROW(k_case.sheet().locate({1.0, 2.0, 3.0}, 0.0), std::logic_error);
}
