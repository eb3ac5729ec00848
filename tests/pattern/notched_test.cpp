// Notched blanks: a rectangle whose V notches close to a taper.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "linerwright/units/error.hpp"
#include "made.hpp"

namespace linerwright {
namespace {

using testing::fitting_of;
using testing::Flags;
using testing::pattern_of;

Flags notched(const Flags& more = {}) {
  Flags flags{{"diameter", "600mm"}, {"to_diameter", "500mm"}, {"length", "450mm"},
              {"thickness", "25mm"}, {"pattern", "notched"},   {"cut", "duct"}};
  for (const auto& [key, value] : more) flags[key] = value;
  return flags;
}

Pattern blank_of(const Flags& flags) {
  return pattern_of(make_patterns(fitting_of("reducer", flags)), "notched");
}

// The V tips of a contour laid with the duct face up: vertices on the bend line with a tab on either side.
std::vector<std::size_t> tips_of(const Pattern& pattern) {
  const double bend = pattern.placement.board({0.0, 0.0}).y;
  const Ring& ring = pattern.cut.outer;
  std::vector<std::size_t> tips;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Vec2 before = ring[(i + ring.size() - 1) % ring.size()];
    const Vec2 after = ring[(i + 1) % ring.size()];
    const bool inner = ring[i].x > 1.0 && ring[i].x < pattern.board.x - 1.0;
    if (inner && std::fabs(ring[i].y - bend) < 1e-9 && (before.y - bend) * (after.y - bend) > 1.0)
      tips.push_back(i);
  }
  return tips;
}

// Concentric or not, seen from either face: the mouths add up to pi (D - d), and what is left of the small
// end is the collar's stretch-out less the fit allowance.
TEST(Notched, MouthsCloseTheDifferenceOfTheStretchOuts) {
  const Flags cases[] = {notched(),
                         notched({{"offset", "40mm"}}),
                         notched({{"flat", "true"}, {"flat_at", "70"}}),
                         notched({{"diameter", "500mm"}, {"to_diameter", "600mm"}, {"flat", "true"}}),
                         notched({{"face_up", "air"}, {"collar", "100mm"}, {"to_collar", "80mm"}}),
                         notched({{"split", "seam"}, {"notches", "11"}})};
  for (const Flags& flags : cases) {
    const std::string what = testing::shown("reducer", flags);
    const Pattern pattern = blank_of(flags);
    const std::vector<std::size_t> tips = tips_of(pattern);
    const Ring& ring = pattern.cut.outer;
    double mouths = 0.0;
    for (const std::size_t i : tips)
      mouths += std::fabs(ring[(i + 1) % ring.size()].x - ring[(i + ring.size() - 1) % ring.size()].x);
    // 2 x 100 mm / 25.4 = 7.9, so 8 notches (common practice, no source), unless told otherwise
    EXPECT_EQ(tips.size(), flags.count("notches") != 0 ? 11u : 8u) << what;
    EXPECT_NEAR(mouths, k_pi * 100.0, 1e-6) << what;
    EXPECT_NEAR(pattern.stretch_out - mouths, k_pi * 500.0 - 19.05, 1e-6) << what;
  }
}

// The end of the tab on ruling theta lies as far from the bend line as the ruling is long: for the oblique
// cone from circle R to circle r, moved by e over the height h,
//   L(theta) = sqrt(h^2 + e^2 + (R - r)^2 - 2 e (R - r) cos(theta)).
// Away from the tabs' corners chords stay within the stated error of it.
TEST(Notched, TabsReachAsFarAsTheirRulings) {
  for (const char* count : {"2", "4", "8"}) {
    const Pattern pattern = blank_of(notched(
        {{"offset", "120mm"}, {"notches", count}, {"diameter", "1600mm"}, {"to_diameter", "1500mm"}}));
    const double bend = pattern.placement.board({0.0, 0.0}).y;
    const Ring& ring = pattern.cut.outer;
    const std::vector<std::size_t> tips = tips_of(pattern);
    ASSERT_EQ(tips.size(), static_cast<std::size_t>(std::stoi(count)));
    // the tab between the first two notches' near corners; its rulings run evenly from notch to notch
    const std::size_t left_tip = tips[1];  // the outline comes back from right to left
    const std::size_t right_tip = tips[0];
    const double pitch = pattern.stretch_out / static_cast<double>(tips.size());
    const auto theta_of = [&](double x) { return k_pi + k_two_pi * x / pattern.stretch_out; };
    const Vec2 right = ring[right_tip + 1];
    const Vec2 left = ring[left_tip - 1];
    EXPECT_NEAR(ring[right_tip].x - ring[left_tip].x, pitch, 1e-9);
    double worst = 0.0;
    for (int k = 1; k < 400; ++k) {
      const double share = k / 400.0;
      const double theta = theta_of(ring[right_tip].x - share * pitch);
      const double reach =
          std::sqrt(450.0 * 450.0 + 120.0 * 120.0 + 50.0 * 50.0 - 2.0 * 120.0 * 50.0 * std::cos(theta));
      const Vec2 exact{right.x + share * (left.x - right.x), bend + reach};
      double nearest = 1e300;
      for (std::size_t i = right_tip + 1; i + 1 < left_tip; ++i)
        nearest = std::min(nearest, distance_to_segment(exact, ring[i], ring[i + 1]));
      worst = std::max(worst, nearest);
    }
    EXPECT_LE(worst, k_chord_error) << count << " notches";
    EXPECT_GT(worst, 0.0);
  }
}

double off_ring(Vec2 p, const Ring& ring) {
  double nearest = 1e300;
  for (std::size_t i = 0; i < ring.size(); ++i)
    nearest = std::min(nearest, distance_to_segment(p, ring[i], ring[(i + 1) % ring.size()]));
  return nearest;
}

// Without a collar nothing is left between the tabs once the trim is off: each is an outline of its own that
// does not touch itself. Their area: half tabs and tabs are trapezoids between the bend line and the small
// end,
//   (pi D + pi d) / 2 * slant less the allowance's strip (concentric, duct face).
TEST(Notched, WithoutCollarEachTabIsAnOutline) {
  const Flags plain = notched();
  const Pattern pattern = blank_of(plain);
  EXPECT_EQ(pattern.duct_rest.size(), 8u);
  EXPECT_EQ(pattern.air_rest.size(), 8u);
  const double slant = std::hypot(450.0, 50.0);
  EXPECT_NEAR(pattern.duct_area, slant * (k_pi * 550.0 - 19.05), 1e-3);
  // moved so far that the wall opens outward on one side, the air face reaches past the notches' points there
  const Pattern wide = blank_of(notched({{"offset", "200mm"}, {"split", "seam"}}));
  EXPECT_LT(wide.air_rest.size(), wide.duct_rest.size());
  for (const Pattern* each : {&pattern, &wide}) {
    std::vector<Ring> rings = each->duct_rest;
    rings.insert(rings.end(), each->air_rest.begin(), each->air_rest.end());
    rings.push_back(each->duct.outer);
    rings.push_back(each->air.outer);
    for (const Ring& ring : rings) EXPECT_FALSE(self_intersects(ring, true));
  }
}

// By hand: the bend line, at each station how far the edges lie from it, at each notch its three corners. For
// a right cone the small end lies a slant from the bend line; the collar's end its length the other way.
TEST(Notched, OrdinatesLayItOutByHand) {
  const Pattern pattern = blank_of(notched({{"collar", "120mm"}, {"stations", "16"}}));
  const double bend = pattern.placement.board({0.0, 0.0}).y;
  const double slant = std::hypot(450.0, 50.0);
  ASSERT_EQ(pattern.ordinates.size(), 17u);
  for (std::size_t i = 0; i < 17; ++i) {
    const Ordinate& o = pattern.ordinates[i];
    EXPECT_NEAR(o.at.x, (k_pi * 600.0 - 19.05) * static_cast<double>(i) / 16.0, 1e-9);
    EXPECT_NEAR(o.at.y, bend - 120.0, 1e-9);
    EXPECT_NEAR(o.duct_low, -120.0, 1e-9);
    EXPECT_NEAR(o.air_low, -120.0, 1e-9);
    EXPECT_NEAR(o.duct_high, slant, 1e-9);
    // an open end: the air face's edge lies t tan(phi) further out
    EXPECT_NEAR(o.air_high, slant + 25.0 * 50.0 / 450.0, 1e-9);
  }
  ASSERT_EQ(pattern.notch_ordinates.size(), 8u);
  double mouths = 0.0;
  for (const NotchOrdinate& notch : pattern.notch_ordinates) {
    EXPECT_NEAR(notch.tip.y, bend, 1e-9);
    mouths += notch.duct[1].x - notch.duct[0].x;
    // the sides of both faces are one line from the point
    const Vec2 duct = notch.duct[1] - notch.tip;
    const Vec2 air = notch.air[1] - notch.tip;
    EXPECT_NEAR(cross(duct, air), 0.0, 1e-6);
    EXPECT_LT(off_ring(notch.duct[0], pattern.cut.outer), 1e-6);
    EXPECT_LT(off_ring(notch.tip, pattern.cut.outer), 1e-6);
  }
  EXPECT_NEAR(mouths, k_pi * 100.0, 1e-9);
}

// Crosses stand on the tabs, a quarter of a tab or 25 mm from any notch, no further apart than asked for, and
// are as many as the totals count.
TEST(Notched, FastenersStandOnTheTabs) {
  for (const char* notches : {"5", "12", "43"}) {
    const Fitting fitting = fitting_of("reducer", notched({{"diameter", "2000mm"},
                                                           {"to_diameter", "1600mm"},
                                                           {"length", "900mm"},
                                                           {"collar", "300mm"},
                                                           {"notches", notches}}));
    const Pattern pattern = pattern_of(make_patterns(fitting), "notched");
    std::vector<Vec2> crosses;
    for (std::size_t i = 0; i + 1 < pattern.marks.size(); ++i) {
      const auto& a = pattern.marks[i];
      const auto& b = pattern.marks[i + 1];
      if (!pattern.mark_names[i].empty() || a.size() != 2 || std::fabs(a[1].x - a[0].x - 10.0) > 1e-6)
        continue;
      if (std::fabs(b[1].y - b[0].y - 10.0) < 1e-6) crosses.push_back(0.5 * (a[0] + a[1]));
    }
    int counted = 0;
    for (const Piece& piece : fitting.pieces) counted += fastener_count(fitting, piece);
    EXPECT_GT(counted, 40);
    EXPECT_EQ(static_cast<int>(crosses.size()), counted) << notches;
    for (const Vec2 at : crosses) {
      EXPECT_TRUE(point_in_polygon(at, pattern.cut.outer)) << notches;
      EXPECT_GT(off_ring(at, pattern.cut.outer), 20.0) << notches << " at " << at.x << ", " << at.y;
    }
  }
}

// A board too small: every blank fits it, all panels of a ring close around, the rings' mouths together close
// pi (D - d), and seams that part a notch leave half of it on either side.
TEST(Notched, DividedForTheBoard) {
  const struct {
    Flags flags;
    std::size_t blanks;  // at least
    bool collar;         // on a blank
  } cases[] = {
      {{{"board_length", "3000mm"}, {"board_width", "1200mm"}, {"collar", "100mm"}}, 2, true},
      // so high with its collar that this comes apart
      {{{"board_length", "6000mm"}, {"board_width", "900mm"}, {"collar", "300mm"}}, 1, false},
      {{{"board_length", "1500mm"}, {"board_width", "700mm"}, {"split", "seam"}, {"length", "1400mm"}},
       10,
       false},
      {{{"board_length", "900mm"}, {"board_width", "1200mm"}, {"notches", "4"}}, 6, false},
      {{{"panels", "3"}, {"kerf_pitch", "20mm"}, {"collar", "150mm"}}, 3, true},
  };
  for (const auto& c : cases) {
    Flags flags = notched({{"diameter", "1600mm"}, {"to_diameter", "1300mm"}, {"length", "700mm"}});
    for (const auto& [key, value] : c.flags) flags[key] = value;
    const std::string what = testing::shown("reducer", flags);
    const Fitting fitting = fitting_of("reducer", flags);
    std::size_t blanks = 0;
    bool collar = false;
    double mouths = 0.0;
    double turns = 0.0;
    double rings = 0.0;
    for (const Pattern& pattern : make_patterns(fitting)) {
      if (flags.count("board_length") != 0) {
        EXPECT_LE(pattern.board.x, std::stod(flags.at("board_length")) + 0.02) << what << " " << pattern.id;
        EXPECT_LE(pattern.board.y, std::stod(flags.at("board_width")) + 0.02) << what << " " << pattern.id;
      }
      if (pattern.id.compare(0, 7, "notched") != 0) continue;
      ++blanks;
      collar = collar || pattern.pieces.size() > 1;
      const Piece& taper = fitting.piece(pattern.pieces.back());
      turns += taper.span / k_two_pi;
      const NotchedBlank* blank = notched_with(fitting, pattern.pieces.back());
      rings = std::max(rings, std::round(1.0 / (blank->small - blank->large)));
      for (const NotchOrdinate& notch : pattern.notch_ordinates) mouths += notch.duct[1].x - notch.duct[0].x;
    }
    EXPECT_GE(blanks, c.blanks) << what;
    EXPECT_EQ(collar, c.collar) << what;
    EXPECT_NEAR(turns, rings, 1e-9) << what;
    EXPECT_NEAR(mouths, k_pi * 300.0, 1e-6) << what;
  }
}

TEST(Notched, LineUpMarkReachesTheTabs) {
  for (const char* split : {"none", "seam"}) {
    const Pattern pattern =
        blank_of(notched({{"split", split}, {"collar", "100mm"}, {"to_collar", "100mm"}}));
    const double bend = pattern.placement.board({0.0, 0.0}).y;
    double highest = 0.0;
    for (std::size_t i = 0; i < pattern.marks.size(); ++i) {
      EXPECT_GE(polyline_length(pattern.marks[i], false), 1.0) << split << " " << pattern.mark_names[i];
      for (const Vec2 p : pattern.marks[i]) {
        EXPECT_TRUE(point_in_polygon(p, pattern.cut.outer) || off_ring(p, pattern.cut.outer) < 1e-6)
            << split << " " << pattern.mark_names[i];
        if (pattern.mark_names[i] == "line up") highest = std::max(highest, p.y);
      }
    }
    EXPECT_GT(highest, bend + 100.0) << split;
  }
}

std::string refusal(const Flags& flags) {
  try {
    fitting_of("reducer", flags);
  } catch (const InputError& error) {
    std::string text;
    for (const Problem& problem : error.problems()) text += one_line(problem) + "\n";
    return text;
  }
  return "made";
}

TEST(Notched, WhatCannotBeCutOrClosedIsRefused) {
  const struct {
    Flags flags;
    const char* says;
  } cases[] = {
      {notched({{"to_diameter", "600mm"}, {"offset", "50mm"}}), "nothing for notches to close"},
      {notched({{"to_diameter", "595mm"}, {"notches", "40"}}), "the mouth of a notch would be"},
      {notched({{"kerf_pitch", "300mm"}, {"notches", "8"}}), "run into each other"},
      {notched({{"notches", "400"}, {"to_diameter", "100mm"}}), "a tab between notches would be"},
      {notched({{"split", "seam"}, {"trim", "0mm"}}), "hold the tabs together"},
      {notched({{"split", "seam"}, {"trim", "9mm"}, {"collar", "100mm"}}), "hold the tabs together"},
  };
  for (const auto& c : cases) {
    const std::string said = refusal(c.flags);
    EXPECT_NE(said.find(c.says), std::string::npos) << testing::shown("reducer", c.flags) << "\n" << said;
  }
  // where nobody says how many, kerfs so wide take fewer; a steep taper takes a wider trim
  EXPECT_EQ(refusal(notched({{"kerf_pitch", "300mm"}})), "made");
  EXPECT_EQ(
      refusal(notched(
          {{"diameter", "3000mm"}, {"to_diameter", "2000mm"}, {"length", "250mm"}, {"thickness", "60mm"}})),
      "made");
  EXPECT_EQ(refusal(notched({{"split", "none"}, {"trim", "0mm"}, {"collar", "100mm"}})), "made");
  EXPECT_EQ(refusal(notched({{"split", "seam"}, {"trim", "17mm"}})), "made");
}

bool stays(const Pattern& pattern, Vec2 p) {
  return point_in_polygon(p, pattern.duct.outer) ||
         std::any_of(pattern.duct_rest.begin(), pattern.duct_rest.end(),
                     [&](const Ring& ring) { return point_in_polygon(p, ring); });
}

// The strip that is trimmed off carries no words, and with a collar on the blank both pieces are named, each
// on its own side of the bend line.
TEST(Notched, WordsStandOnBoardThatStays) {
  const Flags cases[] = {notched(), notched({{"collar", "100mm"}}),
                         notched({{"collar", "100mm"}, {"end_allowance", "60mm"}, {"face_up", "air"}}),
                         notched({{"collar", "120mm"}, {"flat", "true"}}),
                         notched({{"diameter", "500mm"}, {"to_diameter", "600mm"}, {"to_collar", "90mm"}})};
  for (const Flags& flags : cases) {
    const std::string what = testing::shown("reducer", flags);
    const Fitting fitting = fitting_of("reducer", flags);
    const Pattern pattern = pattern_of(make_patterns(fitting), "notched");
    const double bend = pattern.placement.board({0.0, 0.0}).y;
    const Vec2 tip = pattern.cut.outer[tips_of(pattern).front()];
    const double inside_notch = point_in_polygon({tip.x, tip.y + 1.0}, pattern.cut.outer) ? -1.0 : 1.0;
    std::size_t named = 0;
    for (const Text& label : pattern.labels)
      for (const Vec2 corner : text_corners(label))
        EXPECT_TRUE(stays(pattern, corner)) << what << ": " << label.text;
    for (const int index : pattern.pieces) {
      const std::string id = fitting.piece(index).id;
      for (const Text& label : pattern.labels) {
        if (label.text != fitting.tag + "/" + id) continue;
        ++named;
        const double side = index == pattern.pieces.back() ? inside_notch : -inside_notch;
        EXPECT_GT(side * (label.at.y - bend), 0.0) << what << ": " << id;
      }
    }
    EXPECT_EQ(named, pattern.pieces.size()) << what;
  }
}

// A hole in the middle of a tab keeps its height over the bend line; around, a tab's rulings share its top as
// evenly as its foot, so the hole is as wide there as what is left of the girth: with the bend line's length
// L and mouths m at the top, a way of c L / (2 pi) degrees of turn is less by m / L times the share of the
// height.
TEST(Notched, HolesLieOnTheirTabs) {
  const Pattern pattern = blank_of(notched({{"notches", "8"},
                                            {"fit_allowance", "0mm"},
                                            {"openings", "test hole at 200mm around 45 diameter 80mm"}}));
  ASSERT_EQ(pattern.cut.holes.size(), 1u);
  const Box box = bounding_box(pattern.cut.holes.front()).value();
  const double slant = std::hypot(450.0, 50.0);
  const double bend = pattern.placement.board({0.0, 0.0}).y;
  EXPECT_NEAR(0.5 * (box.low.y + box.high.y) - bend, 200.0, 0.1);  // a cone's hole is not quite even
  // the middle of the tab's foot, three tabs and a half on from the seam at 180: 225 degrees of the turn
  EXPECT_NEAR(0.5 * (box.low.x + box.high.x), 2.0 * k_pi * 300.0 * 225.0 / 360.0, 0.02);
  // a chord of 80 across the cone at that height, in angle, times the tab's width there
  const double sine = 50.0 / slant, cosine = 450.0 / slant;
  const double radius = 300.0 - 200.0 * sine;  // of the duct there
  const double curve = radius / cosine;        // of the wall around the opening's axis
  const double wide = 2.0 * curve * std::asin(40.0 / curve);
  EXPECT_NEAR(box.high.x - box.low.x, wide, 0.06);
  EXPECT_NEAR(box.high.y - box.low.y, 80.0, 0.05);
  EXPECT_EQ(pattern.hole_ordinates.size(), 12u);
  EXPECT_TRUE(std::find(pattern.mark_names.begin(), pattern.mark_names.end(), "test hole 1") !=
              pattern.mark_names.end());
}

}  // namespace
}  // namespace linerwright
