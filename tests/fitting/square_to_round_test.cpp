// Square-to-rounds as fittings: volumes, sections and figures against closed forms and half-space cuts, and
// what is refused.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "linerwright/fitting/port.hpp"
#include "linerwright/fitting/shop_words.hpp"
#include "linerwright/sheet/folds.hpp"
#include "linerwright/units/error.hpp"
#include "support/square_to_rounds.hpp"

namespace linerwright {
namespace {

using support::case_of;
using support::Flags;
using support::k_square_to_round;
using support::square_to_round;

double fact(const Fitting& fitting, const std::string& key) {
  for (const Fact& each : fitting.facts)
    if (each.key == key) return each.value;
  ADD_FAILURE() << key;
  return 0.0;
}

std::ptrdiff_t count_facts(const Fitting& fitting, const std::string& key) {
  return std::count_if(fitting.facts.begin(), fitting.facts.end(),
                       [&](const Fact& each) { return each.key == key; });
}

std::string refused(const Flags& changes) {
  try {
    square_to_round(support::with(k_square_to_round, changes));
  } catch (const InputError& error) {
    return error.what();
  }
  return {};
}

// What lies deeper than w with a collar this long: level sections by planes about the circle's axis, of sides
// that all narrow toward the collar joined with its circle, of sides that all widen cut by it.
double inside_with_collar(const SquareToRound& own, double w, double collar, bool narrows) {
  constexpr int k_around = 360;
  constexpr int k_planes = 720;
  const double r = own.r - w;
  const auto reach = [&](double phi, double z) {
    double least = 1e300;
    for (int i = 0; i < k_planes; ++i) {
      const SquareToRound::Plane plane = own.plane(k_two_pi * i / k_planes);
      const double rate = dot(plane.way, {std::cos(phi), std::sin(phi)});
      if (rate > 1e-6)
        least = std::min(least,
                         (plane.off - plane.lean * z - w * plane.size - dot(plane.way, own.centre)) / rate);
    }
    return least;
  };
  const auto area = [&](double z) {
    double sum = 0.0;
    for (int i = 0; i < k_around; ++i) {
      const double there = reach(k_two_pi * i / k_around, z);
      const double far = narrows ? std::max(there, r) : z > own.height ? std::min(there, r) : there;
      sum += 0.5 * far * far * k_two_pi / k_around;
    }
    return sum;
  };
  const double top = own.height + (narrows ? 0.0 : 0.1 * own.height);
  // close together about the joint
  const double below = 0.97 * own.height;
  return integrate(area, 0.0, below, 2) + integrate(area, below, top, 2) +
         k_pi * r * r * (own.height + collar - top);
}

}  // namespace

TEST(SquareToRoundFitting, WithARoundCollar) {
  const Flags narrowing = support::with(k_square_to_round, {{"round_collar", "100"}});
  const Flags widening = support::with(
      narrowing, {{"width", "400"}, {"height", "400"}, {"diameter", "600"}, {"round_collar", "120"}});
  for (const Flags& flags : {narrowing, widening}) {
    const Fitting fitting = square_to_round(flags);
    const SquareToRound own = case_of(flags);
    const double collar = std::stod(flags.at("round_collar"));
    EXPECT_NEAR(shell_volume(fitting, 0.0), own.cavity() + k_pi * own.r * own.r * collar, 1e-2);
    const double bore = inside_with_collar(own, 25.0, collar, own.a > own.r);
    if (own.a > own.r || own.a * std::sqrt(2.0) < own.r) {
      EXPECT_NEAR(shell_volume(fitting, 25.0) / bore, 1.0, 2e-5);
    }
    // metal: the transition's and pi D L
    EXPECT_NEAR(metal_area(fitting), wall_area(fitting, 0, 0.0) + k_two_pi * own.r * collar, 1e-3);
    ASSERT_EQ(fitting.pieces.size(), 5u);
    EXPECT_EQ(fitting.pieces.back().id, "collar");
    EXPECT_EQ(fitting.pieces.front().next.back(), "collar");
    const std::vector<Port> ports = ports_of(fitting);
    ASSERT_EQ(ports.size(), 2u);
    EXPECT_NEAR(ports[1].frame.origin.z, own.height + collar, 1e-9);
    EXPECT_NEAR(ports[1].lined_diameter, 2.0 * (own.r - 25.0), 1e-9);
    EXPECT_EQ(opening_words(fitting, 1, End::high), "the round end");
    const std::vector<Station>& stations = fitting.passages.front().stations;
    EXPECT_EQ(stations.back().place, "round end");
    EXPECT_NEAR(stations.back().distance, own.height + collar, 1e-9);
    EXPECT_NEAR(stations.back().lined_area, k_pi * (own.r - 25.0) * (own.r - 25.0), 1e-6);
    for (std::size_t i = 1; i < stations.size(); ++i)
      EXPECT_GT(stations[i].distance, stations[i - 1].distance);
    // the collar's seam lies on no seam of the transition
    for (std::size_t i = 0; i + 1 < fitting.pieces.size(); ++i)
      EXPECT_GT(std::fabs(std::remainder(fitting.pieces.back().seam - fitting.pieces[i].seam, k_two_pi)),
                0.1);
  }
  EXPECT_NEAR(fact(square_to_round(narrowing), "collar_joint_lowest"), -4.828, 2e-3);
  EXPECT_NEAR(fact(square_to_round(narrowing), "collar_joint_highest"), 0.0, 1e-9);
  EXPECT_GT(fact(square_to_round(widening), "collar_joint_highest"), 1.0);
}

// On a small collar no ruling is well clear of all bends, and the clearest may be past a whole turn from
// where the search begins.
TEST(SquareToRoundFitting, ASmallCollarsSeamLiesWithinOneTurn) {
  const Flags flags{{"width", "150"},         {"height", "152.4"},   {"diameter", "125"},
                    {"length", "240.771588"}, {"thickness", "12.7"}, {"pieces", "2"},
                    {"round_collar", "6.05"}};
  const Fitting fitting = square_to_round(flags);
  const SquareToRound own = case_of(flags);
  const Piece& collar = fitting.pieces.back();
  EXPECT_GE(collar.seam, 0.0);
  EXPECT_LT(collar.seam, k_two_pi);
  EXPECT_NEAR(std::stod(collar.seam_place), collar.seam * 180.0 / k_pi, 0.05);
  EXPECT_NEAR(shell_volume(fitting, 0.0) / (own.cavity() + k_pi * own.r * own.r * 6.05), 1.0, 1e-9);
  EXPECT_NEAR(shell_volume(fitting, 12.7) / inside_with_collar(own, 12.7, 6.05, true), 1.0, 2e-5);
}

TEST(SquareToRoundFitting, ACollarNoLongerThanItsJointIsRefused) {
  const Flags flags{
      {"width", "300"}, {"height", "300"}, {"diameter", "500"}, {"length", "300"}, {"thickness", "25"}};
  const double reach =
      fact(square_to_round(support::with(flags, {{"round_collar", "100"}})), "collar_joint_highest");
  EXPECT_GT(reach, 3.0);
  const std::string told = refused(support::with(flags, {{"round_collar", fixed(reach, 3)}}));
  EXPECT_NE(told.find("the layers of the transition reach " + trimmed(reach, 2)), std::string::npos) << told;
  EXPECT_EQ(refused(support::with(flags, {{"round_collar", fixed(reach + 1.01, 3)}})), "");
  // and one in rings and panels where the board asks for it
  const Fitting divided = square_to_round(support::with(
      flags, {{"round_collar", "700"}, {"pieces", "4"}, {"board_width", "600"}, {"board_length", "1000"}}));
  EXPECT_GE(divided.pieces.size(), 8u);
}

TEST(SquareToRoundFitting, VolumesAreTheClosedFormsAndThoseOfHalfSpaces) {
  // H/3 (A B + (A + B) r + pi r^2); the liner's from quadrature, confirmed by counting 1.4e7 points
  const Fitting fitting = square_to_round(k_square_to_round);
  EXPECT_NEAR(shell_volume(fitting, 0.0), 75421827.486, 1e-2);
  EXPECT_NEAR(shell_volume(fitting, 0.0) - shell_volume(fitting, 25.0), 15.8448e6, 15.8448e6 * 5e-6);
  EXPECT_NEAR(shell_volume(fitting, 25.0) / case_of(k_square_to_round).inside(25.0), 1.0, 1e-7);
  const Fitting thick = square_to_round(support::with(k_square_to_round, {{"thickness", "50"}}));
  EXPECT_NEAR(shell_volume(thick, 0.0) - shell_volume(thick, 50.0), 29.9355e6, 29.9355e6 * 5e-6);
  EXPECT_NEAR(wall_area(fitting, 0, 0.0), 668347.9585, 1e-3);
  EXPECT_NEAR(wall_area(fitting, 0, 25.0), 598974.01, 598974.01 * 2e-5);
}

TEST(SquareToRoundFitting, SectionsAreThoseOfHalfSpaces) {
  for (const Flags& changes : {Flags{}, Flags{{"shift_right", "90"}, {"shift_up", "-50"}},
                               Flags{{"width", "350"}, {"diameter", "450"}}}) {
    const Flags flags = support::with(k_square_to_round, changes);
    const Fitting fitting = square_to_round(flags);
    const SquareToRound own = case_of(flags);
    const Passage& through = fitting.passages.front();
    ASSERT_GE(through.stations.size(), 9u);
    for (const Station& station : through.stations) {
      const double z = station.plane.point.z;
      const auto by_planes = [&](double w) {
        return (4.0 * own.section(z, w, 400) - own.section(z, w, 200)) / 3.0;
      };
      EXPECT_NEAR(station.lined_area / by_planes(25.0), 1.0, 2e-6) << z;
      EXPECT_NEAR(0.25 * k_pi * station.bare_diameter * station.bare_diameter / by_planes(0.0), 1.0, 2e-6)
          << z;
    }
    // both ends by hand
    const auto size = [&](double way) { return own.plane(way).size; };
    if (own.centre == Vec2{}) {
      EXPECT_NEAR(through.stations.front().lined_area,
                  (2.0 * own.a - 50.0 * size(0.0)) * (2.0 * own.b - 50.0 * size(0.5 * k_pi)), 1e-6);
    }
  }
}

TEST(SquareToRoundFitting, FiguresOfTheBoard) {
  const Fitting fitting = square_to_round(k_square_to_round);
  EXPECT_NEAR(fact(fitting, "bend_line_first"), std::sqrt(210000.0), 1e-9);
  EXPECT_NEAR(fact(fitting, "bend_line_second"), 500.0, 1e-9);
  EXPECT_NEAR(fact(fitting, "slope_right"), 412.310563, 1e-6);
  EXPECT_NEAR(fact(fitting, "slope_top"), 400.0, 1e-9);
  EXPECT_NEAR(fact(fitting, "cone_angle") * 180.0 / k_pi, 37.556424, 1e-6);
  EXPECT_NEAR(fact(fitting, "fork"), 25.0 * 2.257, 25.0 * 5e-4);
  EXPECT_NEAR(fact(fitting, "fold_end_first"), 68.6, 0.05);
  EXPECT_NEAR(fact(fitting, "fold_end_second"), 97.7, 0.05);
  // 500 square to 450 round, 300 long: fork 40 mm from the corner, ends 73 mm
  const Fitting square = square_to_round(
      {{"width", "500"}, {"height", "500"}, {"diameter", "450"}, {"length", "300"}, {"thickness", "25"}});
  EXPECT_NEAR(fact(square, "fork"), 40.0, 0.5);
  EXPECT_NEAR(fact(square, "fold_end_first"), 73.0, 0.5);
  EXPECT_EQ(square.pieces.size(), 2u);
}

TEST(SquareToRoundFitting, PiecesAndTheirSeams) {
  for (const int pieces : {1, 2, 4}) {
    const Fitting fitting =
        square_to_round(support::with(k_square_to_round, {{"pieces", std::to_string(pieces)}}));
    ASSERT_EQ(fitting.pieces.size(), static_cast<std::size_t>(pieces));
    std::size_t bends = 0;
    for (const Piece& piece : fitting.pieces) {
      bends += piece.marks.size();
      EXPECT_EQ(piece.next.size(), static_cast<std::size_t>(std::min(pieces - 1, 2)));
      // in the middle of a flat
      EXPECT_TRUE(part_at(piece.seam).flat);
      EXPECT_NEAR(piece.seam - part_at(piece.seam).from, 0.5 * k_part_span, 1e-12);
    }
    EXPECT_EQ(bends, 8u);
  }
}

TEST(SquareToRoundFitting, Refusals) {
  EXPECT_NE(refused({{"pieces", "3"}}).find("1, 2 or 4"), std::string::npos);
  EXPECT_NE(refused({{"neutral_factor", "0.5"}}).find("leave one point"), std::string::npos);
  EXPECT_NE(refused({{"thickness", "250"}}).find("closes a"), std::string::npos);
  // round corners so tight that their air face is gone before the bore is
  const std::string deep = refused({{"diameter", "120"}, {"thickness", "55"}, {"height", "300"}});
  EXPECT_NE(deep.find("reach the round end"), std::string::npos) << deep;
  // sides that lean 5 in 1: their tips stand H, and moved in by t lie t k / S lower, k / S = 0.98
  const Flags flat{{"width", "1600"}, {"height", "1600"}, {"diameter", "600"}, {"length", "100"}};
  EXPECT_NE(refused(support::with(flat, {{"thickness", "102"}})).find("below the rectangular end"),
            std::string::npos);
  // toward the corners they lean 8.31 in 1: nothing is left of the round end from 300 / hypot(1, 8.31) = 35.8
  // on
  EXPECT_NE(refused(support::with(flat, {{"thickness", "60"}})).find("meet below the round end"),
            std::string::npos);
  EXPECT_EQ(refused(support::with(flat, {{"thickness", "35"}})), "");
  EXPECT_EQ(refused({}), "");
}

// Where the flats' ends begin in the rectangular end, from its corner: read from polygons of 8000 half planes
// x cos a + y sin a <= A - t S there (NumPy).
TEST(SquareToRoundFitting, AirFaceComesDownInAnArc) {
  const Flags small{
      {"width", "712"}, {"height", "689.6"}, {"diameter", "680.3"}, {"length", "152.3"}, {"thickness", "20"}};
  struct Case {
    Flags flags;
    std::string corner;
    double first, second;
  };
  for (const Case& each :
       {Case{small, "", 20.3320, 20.4070},
        Case{support::with(
                 small,
                 {{"width", "936.496"}, {"height", "887.99"}, {"diameter", "909.1"}, {"length", "102.435"}}),
             "", 43.6482, 41.1146},
        Case{support::with(small, {{"width", "900"},
                                   {"height", "700"},
                                   {"diameter", "600"},
                                   {"length", "120"},
                                   {"shift_right", "120"},
                                   {"shift_up", "-40"},
                                   {"thickness", "10"}}),
             "_1", 18.4230, 18.2979}}) {
    const Fitting fitting = square_to_round(each.flags);
    SCOPED_TRACE(support::written("square_to_round", each.flags));
    EXPECT_NEAR(fact(fitting, "arc_first" + each.corner), each.first, 2e-4);
    EXPECT_NEAR(fact(fitting, "arc_second" + each.corner), each.second, 2e-4);
    EXPECT_EQ(count_facts(fitting, "fork" + each.corner), 0);
    EXPECT_EQ(count_facts(fitting, "fold_end_first" + each.corner), 1);
  }
  // 160 long its flats meet before: no arc is there
  const Fitting longer = square_to_round(support::with(small, {{"length", "160"}}));
  EXPECT_EQ(count_facts(longer, "fork"), 1);
  EXPECT_EQ(count_facts(longer, "arc_first"), 0);
  // a wide one's flats end on their bend lines, without a mitre
  const Fitting wide = square_to_round(
      {{"width", "1600"}, {"height", "1500"}, {"diameter", "600"}, {"length", "150"}, {"thickness", "20"}});
  EXPECT_EQ(count_facts(wide, "fold_end_first"), 0);
  // t k / S is that share of the height, and so of the bend line, which runs 750 along the side
  const double lean = (800.0 - 300.0) / 150.0;
  EXPECT_NEAR(fact(wide, "arc_first"), 750.0 * 20.0 * lean / std::hypot(1.0, lean) / 150.0, 1e-6);
}

// Across the rectangle's plane a side that leans k takes t sqrt(1 + k^2) off.
TEST(SquareToRoundFitting, SidesThatLeanFarCloseTheRectangle) {
  struct Case {
    double side, diameter, length, right, thickness;
  };
  for (const Case& each : {Case{152.4, 1258.18204, 76.2, 0.0, 27.6618368},
                           Case{103.340469, 2892.07246, 51.6702346, 0.0, 12.4008563},
                           Case{122.116057, 3000.0, 122.116057, 38.0358533, 13.0}}) {
    const auto told = [&](double thickness) {
      return refused({{"width", std::to_string(each.side)},
                      {"height", std::to_string(each.side)},
                      {"diameter", std::to_string(each.diameter)},
                      {"length", std::to_string(each.length)},
                      {"shift_right", std::to_string(each.right)},
                      {"thickness", std::to_string(thickness)}});
    };
    const auto size = [&](double moved) {
      return std::hypot(1.0, (0.5 * each.side - 0.5 * each.diameter - moved) / each.length);
    };
    const double across = each.side / (size(each.right) + size(-each.right));
    const double upright = 0.5 * each.side / size(0.0);
    const std::string closes = "across the rectangular end their liner takes";
    EXPECT_NE(told(each.thickness).find(closes), std::string::npos);
    EXPECT_NE(told(1.001 * std::max(across, upright)).find(closes), std::string::npos);
    EXPECT_EQ(told(0.999 * std::min(across, upright)).find(closes), std::string::npos);
  }
}

TEST(SquareToRoundFitting, SidesThatLeanFarCloseTheRoundEnd) {
  const Flags flags{{"width", "1626"},      {"height", "948"},   {"diameter", "70"}, {"length", "177"},
                    {"shift_right", "163"}, {"shift_up", "-18"}, {"thickness", "9"}};
  const std::string told = refused(flags);
  EXPECT_NE(told.find("the mitres at their tips would meet below the round end"), std::string::npos) << told;
  const std::size_t at = told.find("under ");
  ASSERT_NE(at, std::string::npos) << told;
  const double limit = std::stod(told.substr(at + 6));
  const SquareToRound own = case_of(flags);
  EXPECT_GT(own.section(own.height, limit - 0.02, 90), 0.0);
  EXPECT_EQ(own.section(own.height, limit + 0.02, 90), 0.0);
  EXPECT_EQ(refused(support::with(flags, {{"thickness", fixed(limit - 0.02, 3)}})), "");
  // on a collar they end higher
  EXPECT_EQ(refused(support::with(flags, {{"round_collar", "100"}})), "");
}

TEST(SquareToRoundFitting, OneOpeningIsARectangle) {
  const Fitting fitting =
      support::square_to_round(support::with(support::k_square_to_round, {{"shift_right", "100"}}));
  const std::vector<Port> ports = ports_of(fitting);
  ASSERT_EQ(ports.size(), 2u);
  EXPECT_FALSE(ports[0].is_round());
  EXPECT_EQ(ports[0].rectangle, (Vec2{600.0, 400.0}));
  // the circle of its area: pi d^2 / 4 = 600 * 400
  EXPECT_NEAR(ports[0].bare_diameter, std::sqrt(4.0 * 600.0 * 400.0 / k_pi), 1e-9);
  EXPECT_EQ(port_size(fitting, ports[0]), "600 x 400 mm");
  EXPECT_TRUE(ports[1].is_round());
  EXPECT_EQ(ports[1].bare_diameter, 400.0);
  EXPECT_LT(distance(ports[1].frame.origin, {100.0, 0.0, 400.0}), 1e-9);
  EXPECT_EQ(opening_words(fitting, 0, End::low), "the rectangular end");
  EXPECT_EQ(kind_title(fitting.kind), "square to round");
  // the flats lean by (300 - 200 -+ 100) / 400 and by 0: 25 sqrt(1 + 0.25) and 25, 25, 25
  const auto metal = rectangle_of(fitting, 0.0);
  const auto clear = rectangle_of(fitting, 25.0);
  ASSERT_TRUE(metal && clear);
  EXPECT_EQ(shop_rectangle(fitting, *metal), "600 x 400 mm");
  EXPECT_NEAR(clear->x, 600.0 - 25.0 - 25.0 * std::sqrt(1.25), 1e-9);
  EXPECT_NEAR(clear->y, 350.0, 1e-9);
  EXPECT_EQ(opening_words(fitting, 0, End::high), "the round end");
}

TEST(SquareToRoundFitting, ItsPiecesAreBentNotRolled) {
  const Fitting fitting = support::square_to_round(support::k_square_to_round);
  bool carved = false;
  for (const std::string& step : fitting.steps) {
    EXPECT_EQ(step.find("Roll"), std::string::npos) << step;
    EXPECT_EQ(step.find(" ring"), std::string::npos) << step;
    carved = carved || step.find("carve to here") != std::string::npos;
  }
  EXPECT_TRUE(carved);
}

TEST(SquareToRoundFitting, AllowancesThatAreNotTakenAreTold) {
  EXPECT_TRUE(square_to_round(k_square_to_round).warnings.empty());
  const Fitting fitting =
      square_to_round(support::with(k_square_to_round, {{"fit_allowance", "10"}, {"end_allowance", "5"}}));
  ASSERT_EQ(fitting.warnings.size(), 2u);
  EXPECT_EQ(fitting.warnings[0].find("fit_allowance: none is taken"), 0u);
  EXPECT_EQ(fitting.warnings[1].find("end_allowance: none is taken"), 0u);
  EXPECT_EQ(fitting.liner.end_allowance, 0.0);
  const Fitting collared = square_to_round(support::with(
      k_square_to_round,
      {{"fit_allowance", "10"}, {"end_allowance", "5"}, {"butt_allowance", "2"}, {"round_collar", "80"}}));
  ASSERT_EQ(collared.warnings.size(), 2u);
  EXPECT_EQ(collared.warnings[0].find("fit_allowance: of the collar alone"), 0u);
  EXPECT_EQ(collared.warnings[1].find("end_allowance: of the collar alone"), 0u);
  EXPECT_EQ(collared.liner.end_allowance, 5.0);
  EXPECT_EQ(collared.liner.butt_allowance, 2.0);
  EXPECT_EQ(fit_scale(collared, 0), 1.0);
  EXPECT_NEAR(fit_scale(collared, 1), 1.0 - 10.0 / (k_two_pi * 200.0), 1e-12);
}

}  // namespace linerwright
