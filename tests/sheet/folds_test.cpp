// Where the layers of a square-to-round end, against its tangent planes: a point of a layer at depth w lies
// exactly w behind the nearest of them.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "linerwright/sheet/folds.hpp"
#include "linerwright/sheet/part_places.hpp"
#include "sheet/square_to_round.hpp"

using namespace linerwright;

namespace {

// Area of the layer at depth w between its ends.
double layer_area(const Sheet& sheet, double w) {
  std::vector<double> cuts = low_corners(sheet, w);
  for (const double theta : high_corners(sheet, w)) cuts.push_back(theta);
  std::sort(cuts.begin(), cuts.end());
  cuts.push_back(cuts.front() + k_two_pi);
  double sum = 0.0;
  for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
    if (cuts[i + 1] - cuts[i] < 1e-12) continue;
    sum += integrate(
        [&](double theta) {
          const Sheet::Ruling r = sheet.ruling(theta);
          const auto swept = [&](double v) {
            return dot(r.base_slope - w * r.normal_slope, r.around) * v +
                   0.5 * dot(r.direction_slope, r.around) * v * v;
          };
          return swept(high_end(sheet, theta, w).v) - swept(low_end(sheet, theta, w).v);
        },
        cuts[i], cuts[i + 1], 2);
  }
  return sum;
}

double liner_volume(const Sheet& sheet, double t) {
  return integrate([&](double w) { return layer_area(sheet, w); }, 0.0, t, 1);
}

Vec3 from_corner(const Vec3& way, double along_edge, double up_slope, Vec3 edge, Vec3 slope_up) {
  return {dot(way, edge) - along_edge, dot(way, slope_up) - up_slope, 0.0};
}

}  // namespace

TEST(Folds, the_y_of_600_by_400_to_round_400) {
  const Sheet sheet = k_case.sheet();
  const CornerFold fold = corner_fold(sheet, 0);
  // The fork by the planes alone: as deep under both flats as under the nearest plane between them.
  double low = 0.1;
  double high = 100.0;
  double angle = 0.0;
  const auto on_both_flats = [](double z) {
    return Vec3{300.0 - std::hypot(1.0, 0.25) - 0.25 * z, 199.0, z};
  };
  for (int i = 0; i < 60; ++i) {
    const double z = 0.5 * (low + high);
    double nearest = 1.0;
    for (int k = 1; k < 9000; ++k)
      nearest = std::min(nearest, k_case.depth_under(1e-4 * k_pi * k / 1.8, on_both_flats(z)));
    (nearest < 1.0 - 1e-12 ? high : low) = z;
  }
  for (int k = 1; k < 9000; ++k) {
    const double other = 1e-4 * k_pi * k / 1.8;
    if (angle == 0.0 ||
        k_case.depth_under(other, on_both_flats(high)) < k_case.depth_under(angle, on_both_flats(high)))
      angle = other;
  }
  EXPECT_NEAR(fold.fork.z, low, 1e-6);
  EXPECT_NEAR(corner_turn(0, fold.fork_theta) / k_degree, angle / k_degree, 0.01);
  EXPECT_NEAR(corner_turn(0, fold.fork_theta) / k_degree, 21.66648, 1e-5);
  EXPECT_NEAR(fold.fork.z, 1.720394, 1e-6);
  EXPECT_NEAR(fold.first_end, 2.745905, 1e-6);
  EXPECT_NEAR(fold.second_end, 3.906250, 1e-6);
  const double starts[] = {2.373537, 2.310764, 2.519481, 2.881649, 3.376349};
  for (int i = 0; i < 5; ++i)
    EXPECT_NEAR(fold_start(sheet, corner_theta(0, 15.0 * (i + 1) * k_degree)), starts[i], 1e-6);
  // On the boards of the flats: along the edge from the corner, and up the slope. A point of a layer lies on
  // the board under its foot on the duct's face.
  const Vec3 up_first = normalised(Vec3{-100.0, 0.0, 400.0});
  const Vec3 n_first = sheet.ruling(0.0).normal;
  const Vec3 n_second = sheet.ruling(0.5 * k_pi).normal;
  const Vec3 foot_first = fold.foot + n_first;
  const Vec3 foot_second = fold.foot + n_second;
  EXPECT_LT(norm(from_corner(foot_first, 1.0, 0.25, {0, -1, 0}, up_first)), 1e-9);
  EXPECT_LT(norm(from_corner(foot_second, 1.030776, 0.0, {-1, 0, 0}, {0, 0, 1})), 1e-6);
  EXPECT_LT(norm(from_corner(fold.fork + n_first, 1.0, 2.023342, {0, -1, 0}, up_first)), 1e-6);
  EXPECT_LT(norm(from_corner(fold.fork + n_second, 1.460875, 1.720394, {-1, 0, 0}, {0, 0, 1})), 1e-6);
  EXPECT_NEAR(norm(fold.fork + sheet.ruling(fold.fork_theta).normal), 2.257, 1e-3);
}

TEST(Folds, the_fork_of_a_500_square_to_450_round) {
  // 300 long, 25 mm: fork 40 mm from the corner on the board, ends 73 mm
  SquareToRound square{250.0, 250.0, 225.0, 300.0, {}};
  const CornerFold fold = corner_fold(square.sheet(), 2);
  EXPECT_NEAR(25.0 * norm(fold.fork + square.sheet().ruling(fold.fork_theta).normal), 40.0, 0.5);
  EXPECT_NEAR(25.0 * fold.first_end, 73.0, 0.5);
  EXPECT_NEAR(fold.first_end, fold.second_end, 1e-9);
  EXPECT_NEAR(corner_turn(2, fold.fork_theta), 0.25 * k_pi, 1e-9);
  EXPECT_TRUE(folds_as_y(square.sheet()));
}

TEST(Folds, layers_at_the_round_end) {
  const Sheet sheet = k_case.sheet();
  // the flats of the 400 side lean inward: their tips at depth 25 lie under the round end
  const LayerEnd tip = high_end(sheet, 0.0, 25.0);
  EXPECT_NEAR(sheet.point(0.0, tip.v, 25.0).z, 393.9366, 1e-4);
  EXPECT_TRUE(tip.meets.has_value());
  EXPECT_FALSE(high_end(sheet, 0.5 * k_pi, 25.0).meets.has_value());
  EXPECT_EQ(high_corners(sheet, 25.0).size(), 12u);
  EXPECT_EQ(high_corners(sheet, 0.0).size(), 8u);
  EXPECT_EQ(low_corners(sheet, 0.0).size(), 8u);
  EXPECT_EQ(low_corners(sheet, 25.0).size(), 8u + 4u + 16u);
}

TEST(Folds, areas_and_volumes) {
  const Sheet sheet = k_case.sheet();
  EXPECT_NEAR(k_case.cavity(), 75421827.486, 1e-3);
  EXPECT_NEAR(k_case.inside(0.0) / k_case.cavity(), 1.0, 1e-7);
  EXPECT_NEAR(layer_area(sheet, 25.0), 598974.01, 598974.01 * 2e-5);
  EXPECT_NEAR(liner_volume(sheet, 25.0), 15.8448e6, 15.8448e6 * 5e-6);
  EXPECT_NEAR(liner_volume(sheet, 50.0), 29.9355e6, 29.9355e6 * 5e-6);
  SquareToRound moved = k_case;
  moved.centre = {100.0, 0.0};
  EXPECT_NEAR(liner_volume(moved.sheet(), 25.0), 16.0198e6, 16.0198e6 * 5e-6);
  for (const SquareToRound& made : {k_case, moved})
    for (const double t : {25.0, 50.0})
      EXPECT_NEAR(liner_volume(made.sheet(), t), made.cavity() - made.inside(t), 3e-7 * made.cavity());
}

// Which part of a corner's cone comes to what, as the nearest of all planes and of z = 0 at its ends tells.
TEST(Folds, short_ones_come_down_in_arcs) {
  struct Case {
    SquareToRound made;
    double w;
    std::vector<LowPart> parts;
  };
  using Part = LowPart;
  const SquareToRound both{468.248, 443.995, 454.55, 102.435, {}};
  const SquareToRound even{450.0, 450.0, 450.0, 170.0, {}};
  for (const Case& each :
       {Case{both, 20.0, {Part::first, Part::plane, Part::second}},
        Case{both, -0.8, {Part::plane, Part::own, Part::own, Part::plane}},
        Case{{800.0, 800.0, 300.0, 150.0, {}}, -0.8, {Part::own, Part::own}},
        Case{even, 20.0, {Part::first, Part::plane, Part::second}},
        Case{{800.0, 750.0, 300.0, 150.0, {}}, 20.0, {Part::plane}},
        Case{{800.0, 750.0, 300.0, 150.0, {}}, -0.8, {Part::own, Part::own, Part::first}},
        Case{{750.0, 800.0, 300.0, 150.0, {}}, -0.8, {Part::second, Part::own, Part::own}},
        Case{{800.0, 300.0, 300.0, 150.0, {}}, -0.8, {Part::own, Part::own, Part::first, Part::plane}},
        Case{{800.0, 300.0, 300.0, 150.0, {0.0, 400.0}}, -0.8, {Part::first, Part::plane}},
        Case{{450.0, 400.0, 400.0, 230.0, {}}, -0.8, {Part::plane, Part::own, Part::own, Part::plane}},
        Case{k_case, 25.0, {Part::first, Part::second}}, Case{k_case, -0.8, {Part::plane}}}) {
    const Sheet sheet = each.made.sheet();
    const CornerLow low = corner_low(sheet, 0, each.w);
    std::vector<LowPart> parts;
    for (const LowArc& arc : low.arcs) parts.push_back(arc.on);
    EXPECT_EQ(parts, each.parts) << each.made.a << " " << each.w;
    EXPECT_EQ(low.stem, !low.comes_to(LowPart::plane));
    for (const LowArc& arc : low.arcs)
      for (const double share : {0.2, 0.5, 0.9}) {
        const double turn = arc.from + share * (arc.to - arc.from);
        const Vec3 end = low_place(sheet, corner_theta(0, turn), each.w);
        // it lies on its own plane, and of the others none is nearer
        EXPECT_NEAR(each.made.depth(end), each.w, 1e-5);
        if (arc.on == LowPart::plane) {
          EXPECT_NEAR(end.z, 0.0, 1e-9);
          continue;
        }
        EXPECT_GT(end.z, 1e-6);
        const std::optional<double> other = arc.on == LowPart::first    ? 0.0
                                            : arc.on == LowPart::second ? 0.5 * k_pi
                                            : low.faced_by_first(turn)  ? low.faced_by_first(turn)
                                                                        : low.faced_by_second(turn);
        EXPECT_NEAR(each.made.depth_under(*other, end), each.w, 1e-9);
      }
  }
}

// Layers on both sides of the duct face against half-space cuts.
TEST(Folds, volumes_of_short_ones) {
  Dice dice(65);
  const int count = cases(6);
  int arcs = 0;
  int own = 0;
  for (int i = 0; i < count; ++i) {
    SquareToRound made = random_square_to_round(dice);
    made.height = std::max(made.a, made.b) * dice.between(0.15, 0.7);
    const Sheet sheet = made.sheet();
    if (!folds_as_y(sheet)) continue;
    const double w = dice.between(0.05, 0.3) * std::min(deepest_layer(sheet), 0.5 * made.r);
    for (int corner = 0; corner < 4; ++corner) {
      arcs += corner_low(sheet, corner, w).stem ? 0 : 1;
      own += corner_low(sheet, corner, -w).comes_to(LowPart::own) ? 1 : 0;
    }
    const double liner = made.cavity() - made.inside(w);
    EXPECT_NEAR(liner_volume(sheet, w), liner, 1e-4 * liner) << "case " << i;
    const double metal = made.inside(-w) - made.cavity();
    EXPECT_NEAR(-liner_volume(sheet, -w), metal, 1e-4 * metal) << "case " << i;
  }
  EXPECT_GT(arcs, 0);
  EXPECT_GT(own, 0);
}

// The half-space cuts of random ones against the layers' ends.
TEST(Folds, random_layers_lie_at_their_depth_and_fill_what_is_between) {
  Dice dice(62);
  int shaped_as_y = 0;
  const int count = cases(10);
  for (int i = 0; i < count; ++i) {
    const SquareToRound made = random_square_to_round(dice);
    const Sheet sheet = made.sheet();
    const double deepest = deepest_layer(sheet);
    ASSERT_GT(deepest, 0.0);
    const double w = dice.between(0.05, 0.6) * std::min(deepest, 0.5 * made.r);
    const bool y = folds_as_y(sheet);
    shaped_as_y += y ? 1 : 0;
    for (int k = 0; k < 24; ++k) {
      const double theta = dice.between(0.0, k_two_pi);
      const LayerEnd low = low_end(sheet, theta, w);
      const LayerEnd high = high_end(sheet, theta, w);
      if (!(low.v < high.v)) continue;
      const std::string where = "case " + std::to_string(i) + " theta " + std::to_string(theta);
      // just inside both ends the nearest plane is the ruling's own, just outside it is not, or the end's
      // plane is crossed
      const double step = 1e-3 * (high.v - low.v);
      for (const double v : {low.v + step, 0.5 * (low.v + high.v), high.v - step})
        EXPECT_NEAR(made.depth(sheet.point(theta, v, w)), w, 1e-4) << where;
      const Vec3 under = sheet.point(theta, low.v - 20.0 * step, w);
      EXPECT_LT(low.meets ? made.depth(under) - w : under.z, -1e-9) << where;
      if (low.meets) {
        // it is as deep under the plane it meets
        const WallPart other = part_at(*low.meets);
        const double angle =
            0.5 * k_pi * other.quarter + (other.flat ? 0.0 : corner_turn(other.quarter, *low.meets));
        EXPECT_NEAR(made.depth_under(angle, sheet.point(theta, low.v, w)), w, 1e-7) << where;
      }
    }
    if (!y) continue;
    const double liner = made.cavity() - made.inside(w);
    EXPECT_NEAR(liner_volume(sheet, w), liner, 2e-5 * liner) << "case " << i;
  }
  EXPECT_GT(shaped_as_y, count / 4);
}

// 1626 x 948 to round 70, 177 long: from a depth of 6.65 mm on, the mitres at the tips of flats that lean in
// this far meet below the round end, where nothing is left of the section either.
TEST(Folds, mitres_at_two_tips_meet_where_their_corner_has_nothing_of_the_round_end) {
  const SquareToRound flat{813.166305, 473.786788, 34.7544677, 176.914333, {162.633261, -17.8216904}};
  EXPECT_TRUE(tip_mitres_part(flat.sheet(), 6.6));
  EXPECT_GT(flat.section(flat.height, 6.6, 90), 0.1);
  EXPECT_FALSE(tip_mitres_part(flat.sheet(), 6.7));
  EXPECT_EQ(flat.section(flat.height, 6.7, 90), 0.0);

  // whether any ruling of a corner's cone ends at its depth in the circle's plane
  const auto shows = [](const SquareToRound& own, const Sheet& sheet, int corner, double w) {
    for (int i = 1; i < 90; ++i) {
      const double theta = corner_theta(corner, 0.5 * k_pi * i / 90);
      const Vec3 end = sheet.point(theta, sheet.v_at_height(theta, own.height, w), w);
      if (own.depth(end) > w - 1e-4) return true;
    }
    return false;
  };
  Dice dice(66);
  int meet = 0;
  int part = 0;
  for (int i = 0; i < support::cases(60); ++i) {
    SquareToRound own = flat;
    own.a *= dice.between(0.5, 1.0);
    own.r *= dice.between(0.8, 3.0);
    own.centre = {dice.between(0.0, 0.3) * own.a, dice.between(-0.3, 0.0) * own.b};
    const double w = dice.between(2.0, 12.0);
    const Sheet sheet = own.sheet();
    bool all = true;
    for (int corner = 0; corner < 4; ++corner) all = all && shows(own, sheet, corner, w);
    (all ? part : meet) += 1;
    EXPECT_EQ(tip_mitres_part(sheet, w), all)
        << own.a << " " << own.r << " " << own.centre.x << " " << own.centre.y << " " << w;
  }
  if (support::cases(60) >= 12) {
    EXPECT_GT(meet, 0);
    EXPECT_GT(part, 0);
  }
}

// Points of layers are found again on their own rulings, in mitres too, whose points lie on a second part's.
TEST(PartPlaces, find_random_points_of_layers) {
  Dice dice(64);
  int mitred = 0;
  const int count = support::cases(30);
  for (int i = 0; i < count; ++i) {
    SquareToRound own = random_square_to_round(dice);
    if (i % 3 == 0) own.r = std::max(own.a, own.b) * dice.between(1.0, 8.0);
    const Sheet sheet = own.sheet();
    if (!folds_as_y(sheet)) continue;
    const PartPlaces places(sheet);
    // what is left of the rectangle: 2 a less w times the normals of both sides
    const auto sides = [&](double from) { return own.plane(from).size + own.plane(from + k_pi).size; };
    const double deepest = 0.9 * std::min({deepest_layer(sheet), 2.0 * own.a / sides(0.0),
                                           2.0 * own.b / sides(0.5 * k_pi), own.r});
    for (int k = 0; k < 40; ++k) {
      const double theta = dice.between(0.0, k_two_pi);
      const double w = k % 4 == 0 ? 0.0 : dice.between(0.0, deepest);
      const double low = low_end(sheet, theta, w).v;
      const double v = k % 3 == 0 ? low : low + dice.between(0.0, 1.0) * (high_end(sheet, theta, w).v - low);
      const std::vector<PartPlaces::Spot> spots = places.least_deep(sheet.point(theta, v, w));
      double off = 1e300;
      int on = 0;
      for (const PartPlaces::Spot& spot : spots) {
        EXPECT_NEAR(spot.depth, w, 2e-6);
        if (spot.miss < 1e-6) ++on;
        off = std::min(off, distance(sheet.point(spot.place.theta, v, w), sheet.point(theta, v, w)));
      }
      EXPECT_LT(off, 1e-5) << own.a << " " << own.b << " " << own.r << " " << own.height << " theta " << theta
                           << " v " << v << " w " << w;
      if (on > 1) ++mitred;
    }
  }
  EXPECT_GE(mitred, count / 3);
}

// 123 x 400 to round 2670, 877 long: below the rectangle's edge the air faces of two flats lie over each
// other's rulings, drawn on. Each point of the board has its own place among those that are found.
TEST(PartPlaces, of_the_board_may_be_two) {
  const SquareToRound own{61.563188, 200.0, 1334.79389, 877.392597, {}};
  const Sheet sheet = own.sheet();
  const Development board(sheet, 0.0, 1.0, 0.0);
  constexpr double k_depth = 10.1460112;
  int several = 0;
  for (int i = 0; i < 720; ++i) {
    const double theta = k_two_pi * (i + 0.5) / 720;
    const double v = low_end(sheet, theta, k_depth).v;
    const auto places = places_on_board(board, sheet, board.point(theta, v), theta);
    double off = 1e300;
    for (const Sheet::Place& place : places)
      off =
          std::min(off, distance(sheet.point(place.theta, place.v, k_depth), sheet.point(theta, v, k_depth)));
    EXPECT_LT(off, 1e-6) << theta;
    if (places.size() > 1 && distance(sheet.point(places[0].theta, places[0].v, k_depth),
                                      sheet.point(places[1].theta, places[1].v, k_depth)) > 1.0)
      ++several;
  }
  EXPECT_GT(several, 0);
}
