// What cannot be made is refused with one line that names the key, the reason and what is allowed.
#include <gtest/gtest.h>

#include "fitting/helpers.hpp"

using namespace linerwright;

namespace {

const Flags k_elbow{{"diameter", "300"}, {"angle", "90"}, {"pieces", "5"}, {"thickness", "25"}};
const Flags k_reducer{{"diameter", "400"}, {"to_diameter", "250"}, {"length", "320"}, {"thickness", "25"}};
const Flags k_tee{{"diameter", "300"},
                  {"length", "1000"},
                  {"branch_diameter", "200"},
                  {"branch_length", "450"},
                  {"thickness", "25"}};

void expect_made(const std::string& kind, const Flags& flags) {
  EXPECT_EQ(refusal(kind, flags), "(made)") << written(kind, flags);
}
void expect_refused(const std::string& kind, const Flags& flags, const std::string& line) {
  EXPECT_EQ(refusal(kind, flags), line) << written(kind, flags);
}

}  // namespace

TEST(Refusal, liner_that_closes_the_bore) {
  const Flags straight{{"diameter", "100"}, {"length", "500"}, {"fit_allowance", "0"}};
  const std::string allowed = " (allowed: under 50 mm, so that a bore of 1 mm is left)";
  expect_made("straight", with(straight, {{"thickness", "49.5"}}));
  expect_refused("straight", with(straight, {{"thickness", "49.6"}}),
                 "straight: --thickness = 49.6: liner 49.6 mm closes a 100 mm bore (diameter)" + allowed);
  expect_refused("straight", with(straight, {{"thickness", "60"}}),
                 "straight: --thickness = 60: liner 60 mm closes a 100 mm bore (diameter)" + allowed);
  EXPECT_TRUE(
      has(refusal("elbow", with(k_elbow, {{"thickness", "150"}})), "closes a 300 mm bore (diameter)"));
  EXPECT_TRUE(
      has(refusal("reducer", with(k_reducer, {{"thickness", "125"}})), "closes a 250 mm bore (to_diameter)"));
  EXPECT_TRUE(
      has(refusal("tee", with(k_tee, {{"thickness", "100"}})), "closes a 200 mm bore (branch_diameter)"));
  EXPECT_TRUE(
      has(refusal("tee",
                  with(k_tee, {{"thickness", "26"}, {"branch_diameter", "50&200"}, {"position", "200&700"}})),
          "closes a 50 mm bore (branch_diameter)"));
}

TEST(Refusal, fit_allowance_over_a_quarter_of_the_stretch_out) {
  // a quarter of pi 100 is 78.54
  const Flags straight{{"diameter", "100"}, {"length", "500"}, {"thickness", "10"}};
  expect_made("straight", with(straight, {{"fit_allowance", "78.5"}}));
  expect_refused(
      "straight", with(straight, {{"fit_allowance", "80"}}),
      "straight: --fit-allowance = 80: takes more than a quarter off the 314.16 mm stretch-out of a "
      "100 mm duct (allowed: at most 78.54 mm)");
  // what goes around in a pressed bend are its gores: 200 mm at one diameter, mitred at 45 degrees, leave
  // (300 cos 45 - 100) / 2 = 56.07 mm of radius
  const Flags smooth = with(
      k_elbow,
      {{"diameter", "200"}, {"angle", "180"}, {"pieces", "3"}, {"radius_ratio", "1"}, {"form", "smooth"}});
  expect_made("elbow", with(smooth, {{"fit_allowance", "88"}}));
  EXPECT_TRUE(
      has(refusal("elbow", with(smooth, {{"fit_allowance", "88.1"}})),
          "takes more than a quarter off the 352.27 mm stretch-out of a 112.13 mm gore inside the bend"));
}

TEST(Refusal, throat_of_no_length) {
  // The metal's throat, 2 (rho - R - gauge) tan theta long, keeps at least 1 mm; an end piece half of that.
  expect_refused(
      "elbow", with(k_elbow, {{"radius_ratio", "0.5"}}),
      "elbow: --radius-ratio = 0.5: the throat of a piece would be -0.32 mm long: it has no length "
      "(allowed: a centreline radius of at least 155.83 mm, or fewer pieces)");
  EXPECT_NEAR(2 * -0.8 * std::tan(11.25 * k_degree), -0.32, 0.005);
  expect_refused("elbow", with(k_elbow, {{"centreline_radius", "155.8"}}),
                 "elbow: --centreline-radius = 155.8: the throat of a piece would be 0.99 mm long: it has no "
                 "length (allowed: a centreline radius of at least 155.83 mm, or fewer pieces)");
  // what the message allows is allowed
  expect_made("elbow", with(k_elbow, {{"centreline_radius", "155.83"}}));
  expect_made("elbow", with(k_elbow, {{"centreline_radius", "155.5"}, {"pieces", "4"}}));
}

TEST(Refusal, mitre_over_60_degrees) {
  expect_made("elbow", with(k_elbow, {{"angle", "120"}, {"pieces", "2"}}));
  expect_refused("elbow", with(k_elbow, {{"angle", "120.2"}, {"pieces", "2"}}),
                 "elbow: --pieces = 2: 2 pieces would be mitred at 60.1 degrees; the steepest mitre is 60 "
                 "(allowed: at least 3)");
  EXPECT_TRUE(has(refusal("elbow", with(k_elbow, {{"angle", "180"}, {"pieces", "2"}})), "at 90 degrees"));
  expect_made("elbow", with(k_elbow, {{"angle", "180"}, {"pieces", "3"}}));
}

TEST(Refusal, two_ways_to_say_the_radius) {
  expect_refused(
      "elbow", with(k_elbow, {{"radius_ratio", "1"}, {"centreline_radius", "300"}}),
      "elbow: --centreline-radius = 300: radius_ratio says the same thing; give only one (allowed: one "
      "of the two)");
  EXPECT_EQ(fact(fitting_from("elbow", with(k_elbow, {{"radius_ratio", "1"}})), "centreline_radius"), 300);
  EXPECT_EQ(fact(fitting_from("elbow", with(k_elbow, {{"centreline_radius", "310"}})), "centreline_radius"),
            310);
  EXPECT_EQ(fact(fitting_from("elbow", k_elbow), "centreline_radius"), 450);
}

TEST(Refusal, gap_limit_of_a_gored_bend) {
  expect_refused("elbow", with(k_elbow, {{"gap_limit", "3"}}),
                 "elbow: --gap-limit = 3: a gored bend leaves no gap behind its liner (allowed: with form = "
                 "\"smooth\")");
}

TEST(Refusal, gores_too_small_for_the_liner) {
  // two pieces at 45 degrees: R' = ((450 + 150) cos 45 - 300)/2 = 62.13
  expect_refused(
      "elbow", with(k_elbow, {{"form", "smooth"}, {"pieces", "2"}, {"thickness", "62"}}),
      "elbow: --pieces = 2: the largest gores that fit inside have a diameter of 124.26 mm; liner 62 mm "
      "closes them (allowed: more pieces or a thinner liner)");
  expect_made("elbow", with(k_elbow, {{"form", "smooth"}, {"pieces", "2"}, {"thickness", "61.6"}}));
}

TEST(Refusal, reducer_with_equal_ends) {
  expect_refused("reducer", with(k_reducer, {{"to_diameter", "400"}}),
                 "reducer: --to-diameter = 400: both ends are the same: that is a straight length (allowed: "
                 "another than diameter)");
  expect_made("reducer", with(k_reducer, {{"to_diameter", "400"}, {"offset", "30"}}));
}

TEST(Refusal, flat_and_offset_together) {
  expect_refused(
      "reducer", with(k_reducer, {{"flat", ""}, {"offset", "20"}}),
      "reducer: --offset = 20: flat = true already says how far the small end is moved; give only one "
      "(allowed: offset or flat)");
}

TEST(Refusal, layers_that_cross) {
  // The corner walks t tan(phi/2) back along the collar: phi = atan(75/20), t = 40 takes 30.73 of a 5 mm
  // collar.
  const double walk = 40 * std::tan(0.5 * std::atan2(75.0, 20.0));
  EXPECT_NEAR(5 - walk, -25.73, 0.005);
  expect_refused(
      "reducer",
      with(k_reducer, {{"length", "20"}, {"collar", "5"}, {"to_collar", "30"}, {"thickness", "40"}}),
      "reducer: --length = 20: the layers cross: the large collar has only -25.73 mm left on its air face "
      "(allowed: longer, or a thinner liner)");
  expect_made(
      "reducer",
      with(k_reducer, {{"length", "20"}, {"collar", "32"}, {"to_collar", "30"}, {"thickness", "40"}}));
  expect_refused(
      "reducer", with(k_reducer, {{"length", "5"}, {"thickness", "100"}}),
      "reducer: --length = 5: the taper's bore closes: its layers cross on the axis (allowed: longer, or "
      "a thinner liner)");
}

// A leg that widens outward is narrower behind the middle of the sphere than its inlet: here under the
// smallest bore, and no layers cross.
TEST(Refusal, leg_that_all_but_closes) {
  const std::string reason = refusal("wye", {{"diameter", "80.3486169"},
                                             {"thickness", "39.6743084"},
                                             {"leg_diameter", "80.3486169 & 83.1368828"},
                                             {"angle", "90 & 60"},
                                             {"around", "0 & 194.54367"},
                                             {"leg_length", "123.084513 & 100.945487"},
                                             {"inlet_length", "68.5316627"},
                                             {"fit_allowance", "0"}});
  EXPECT_TRUE(has(reason, "the leg's bore all but closes: it is under 1 mm wide at its narrowest")) << reason;
}

TEST(Refusal, branch_too_short_to_leave_the_body) {
  // The saddle's crests lie 150.8 from the body's axis on the metal, 150 on the duct face.
  expect_refused(
      "tee", with(k_tee, {{"branch_length", "140"}}),
      "tee: --branch-length = 140: the layers cross: the branch has only -10.8 mm left on its metal "
      "(allowed: longer, or a thinner liner)");
  EXPECT_TRUE(has(refusal("tee", with(k_tee, {{"branch_length", "151.7"}})), "has only 0.9 mm left"));
  expect_made("tee", with(k_tee, {{"branch_length", "151.9"}}));
}

TEST(Refusal, branch_larger_than_the_body_or_past_its_side) {
  expect_refused(
      "tee", with(k_tee, {{"branch_diameter", "301"}}),
      "tee: --branch-diameter = 301: the branch is larger than the body (allowed: at most 300 mm)");
  expect_made("tee", with(k_tee, {{"branch_diameter", "300"}}));
  for (const char* offset : {"51", "-51"})
    expect_refused("tee", with(k_tee, {{"offset", offset}}),
                   std::string("tee: --offset = ") + offset +
                       ": the branch reaches past the side of the body (allowed: from -50 mm to 50 mm)");
  expect_made("tee", with(k_tee, {{"offset", "50"}}));
  expect_made("tee", with(k_tee, {{"offset", "-50"}}));
}

TEST(Refusal, branch_that_cannot_pass_through) {
  expect_refused(
      "tee", with(k_tee, {{"joint", "through"}, {"branch_diameter", "250"}}),
      "tee: --joint = through: a branch of 250 mm cannot pass through to the air face of a body lined "
      "down to 250 mm (allowed: mitre or over)");
  expect_made("tee", with(k_tee, {{"joint", "through"}, {"branch_diameter", "248"}}));
  expect_made("tee", with(k_tee, {{"joint", "over"}, {"branch_diameter", "250"}}));
}

TEST(Refusal, hole_too_near_an_end) {
  // The metal's hole reaches 100.8 mm from the branch's axis; 5 mm are kept free.
  expect_refused(
      "tee", with(k_tee, {{"length", "206"}}),
      "tee: --length = 206: the hole reaches from 2.2 mm to 203.8 mm of the body's 206 mm (allowed: 5 mm "
      "between hole and ends)");
  expect_refused(
      "tee", with(k_tee, {{"position", "102"}}),
      "tee: --length = 1000: the hole reaches from 1.2 mm to 202.8 mm of the body's 1000 mm (allowed: 5 "
      "mm between hole and ends)");
  expect_made("tee", with(k_tee, {{"position", "105.9"}}));
  expect_refused("tee", with(k_tee, {{"position", "1200"}}),
                 "tee: --length = 1000: the hole reaches from 1099.2 mm to 1300.8 mm of the body's 1000 mm "
                 "(allowed: 5 mm "
                 "between hole and ends)");
}

// Tangent to the body's side to the last digit that was written, whatever the rounding of the sum does.
TEST(Refusal, a_tangent_branch_is_made) {
  expect_made("tee", {{"diameter", "244.046208"},
                      {"length", "500"},
                      {"branch_diameter", "96.924052"},
                      {"branch_length", "250"},
                      {"offset", "73.561078"},
                      {"thickness", "14.6"}});
}

// A lateral's hole lies past the crossing of the axes: the body may begin between the two.
TEST(Refusal, a_lateral_whose_axes_cross_beyond_the_body_stands_on_it_all_the_same) {
  const Flags lateral{{"diameter", "300"},      {"length", "330"}, {"branch_diameter", "150"},
                      {"branch_length", "600"}, {"angle", "45"},   {"thickness", "25"},
                      {"cut", "tilt"}};
  expect_made("tee", with(lateral, {{"position", "-35"}}));
  expect_made("tee", with(lateral, {{"position", "365"}, {"angle", "135"}}));
  EXPECT_TRUE(has(refusal("tee", with(lateral, {{"position", "-60"}})), "the hole reaches from -16.4 mm"));
}

TEST(Refusal, branches_too_near_each_other) {
  const Flags pair = with(k_tee, {{"branch_diameter", "200&200"}});
  // side by side along the body: axes 205 apart less two metal radii of 100.8
  expect_refused(
      "tee", with(pair, {{"position", "300&505"}}),
      "tee: --position = 300&505: the holes of branches 1 and 2 are 3.4 mm apart (allowed: holes at "
      "least 5 mm apart)");
  expect_made("tee", with(pair, {{"position", "300&507"}}));
  expect_refused(
      "tee", with(pair, {{"position", "300&480"}}),
      "tee: --position = 300&480: the holes of branches 1 and 2 overlap (allowed: holes at least 5 mm "
      "apart)");
  // around the body: the holes' edges lie asin(r/R) from their middles, the metal's nearest of all layers:
  // 150.8 (phi - 2 asin(100.8/150.8)) = 5
  const double metal = 5 / 150.8 + 2 * std::asin(100.8 / 150.8);
  for (const double side : {-1.0, 1.0})
    for (const double step : {-0.1, 0.1}) {
      const Flags flags =
          with(pair, {{"position", "500"}, {"around", "0&" + mm(side * (metal / k_degree + step))}});
      EXPECT_EQ(refusal("tee", flags) == "(made)", step > 0) << refusal("tee", flags);
    }
  // the other way around, past 180 degrees
  expect_made("tee", with(pair, {{"position", "500"}, {"around", "100&-100"}}));
  EXPECT_TRUE(has(refusal("tee", with(pair, {{"position", "500"}, {"around", "140&-140"}})), "overlap"));
}

TEST(Refusal, holes_that_cross_or_lie_inside_each_other) {
  // Two laterals lean apart on a large body; where their axes enter they are further apart than their
  // diameters, but the holes, longer by 1/sin 45 degrees, cross wherever that distance is under 2 r sqrt 2.
  int refused = 0;
  for (double apart = 2050; apart < 2900; apart += 31) {
    const Flags flags{{"diameter", "5000"},
                      {"length", "20000"},
                      {"branch_diameter", "2000&2000"},
                      {"branch_length", "4000"},
                      {"thickness", "25"},
                      {"angle", "135&45"},
                      {"position", "8000&" + mm(8000 + apart - 5000)}};
    const bool cross = apart < 2000 * std::sqrt(2.0);
    EXPECT_EQ(has(refusal("tee", flags), "overlap"), cross) << apart << ' ' << refusal("tee", flags);
    refused += cross ? 1 : 0;
  }
  EXPECT_GT(refused, 20);
  // a small lateral inside the long hole of a large one that leans away from it
  EXPECT_TRUE(has(refusal("tee", {{"diameter", "1000"},
                                  {"length", "9000"},
                                  {"branch_diameter", "600&60"},
                                  {"branch_length", "3000"},
                                  {"thickness", "10"},
                                  {"angle", "160&20"},
                                  {"position", "5500&3250"}}),
                  "overlap"));
}

TEST(Refusal, long_branches_that_meet_far_out) {
  // 60 and 120 degrees in one plane, p apart: the axes cross p/2 / cos 60 = p along, so every p under the
  // length collides, and each axis runs through the other's metal of 50.8.
  for (double p = 1000; p < 20000; p += 777) {
    const Flags flags{{"diameter", "300"},
                      {"length", "25000"},
                      {"branch_diameter", "100&100"},
                      {"branch_length", "21000"},
                      {"thickness", "10"},
                      {"angle", "60&120"},
                      {"position", "2000&" + mm(2000 + p)}};
    EXPECT_TRUE(has(refusal("tee", flags), "run into each other by 50.8 mm"))
        << p << ' ' << refusal("tee", flags);
  }
}

TEST(Refusal, seam_through_a_hole) {
  const double edge = std::asin(100.8 / 150.8) + 5.0 / 150;
  expect_refused(
      "tee", with(k_tee, {{"body_seam", "10"}}),
      "tee: --body-seam = 10: the body's seam would run through a hole (allowed: a ruling at least 5 mm "
      "from every hole)");
  EXPECT_TRUE(
      has(refusal("tee", with(k_tee, {{"body_seam", mm(edge / k_degree - 0.1)}})), "run through a hole"));
  expect_made("tee", with(k_tee, {{"body_seam", mm(edge / k_degree + 0.1)}}));
  // four holes of 134 degrees around leave no straight way between them
  EXPECT_TRUE(has(refusal("tee", with(k_tee, {{"length", "3000"},
                                              {"branch_diameter", "280&280&280"},
                                              {"position", "500&1000&1500"},
                                              {"around", "0&120&240"}})),
                  "no straight seam passes between the holes"));
}

TEST(Refusal, conical_branches) {
  expect_refused(
      "tee", with(k_tee, {{"branch_base", "180"}}),
      "tee: --branch-base = 180: a conical branch is larger at the body than at its end (allowed: at "
      "least 200 mm)");
  expect_refused("tee", with(k_tee, {{"branch_base", "320"}}),
                 "tee: --branch-base = 320: the branch is larger than the body (allowed: at most 300 mm)");
  expect_refused(
      "tee", with(k_tee, {{"branch_base", "240"}, {"branch_length", "155"}}),
      "tee: --branch-length = 155: a conical branch needs a length outside the body (allowed: at least "
      "160 mm)");
  expect_refused(
      "tee",
      with(k_tee, {{"branch_base", "290"}, {"angle", "30"}, {"length", "3000"}, {"branch_length", "1000"}}),
      "tee: --branch-base = 290: the branch reaches past the side of the body (allowed: a smaller one)");
  expect_made("tee", with(k_tee, {{"branch_base", "240"}}));
}

// The bore of a branch over a body, radius b = 62.5 - 50, goes straight through the liner: along the body its
// hole reaches b / sin 45 either side of where its axis passes the face, 600 + R / tan 45 on the duct face
// and 50 less on the air face. 35.4 mm of hole and 50 mm between their middles: nothing in common.
TEST(Refusal, a_square_cut_that_cannot_keep_all_of_both_faces) {
  const Flags over{{"diameter", "500"},      {"length", "1200"}, {"branch_diameter", "125"},
                   {"branch_length", "900"}, {"angle", "45"},    {"joint", "over"},
                   {"thickness", "50"},      {"cut", "outer"}};
  expect_refused(
      "tee", over,
      "tee: --cut = outer: the hole for the branch lies from 832.32 mm to 867.68 mm along the body on the "
      "duct face and from 782.32 mm to 817.68 mm on the air face: they have no opening in common, so no cut "
      "square to the board keeps all material of both (allowed: tilt, mid, duct, air)");
  for (const char* cut : {"tilt", "mid", "duct", "air"}) expect_made("tee", with(over, {{"cut", cut}}));
  // as soon as the hole is longer than its faces lie apart there is an opening: 2 b / sin 45 > t
  for (const double bore : {0.98, 1.03}) {
    const double diameter = 2 * (50 + bore * 25 * std::sin(45 * k_degree));
    const std::string said = refusal("tee", with(over, {{"branch_diameter", mm(diameter)}}));
    EXPECT_EQ(said == "(made)", bore > 1) << diameter << " " << said;
  }
  // where both are bevelled the air face's hole is smaller, 25 mm back and well inside the duct face's; over,
  // both are 14 mm long
  const Flags small{{"diameter", "500"},      {"length", "1200"}, {"branch_diameter", "60"},
                    {"branch_length", "600"}, {"angle", "45"},    {"thickness", "25"}};
  expect_made("tee", small);
  EXPECT_TRUE(has(refusal("tee", with(small, {{"joint", "over"}})), "no opening in common"));
  // beside the body's middle the faces part around it, 80 asin((52 -+ 5) / 80) and 80 asin((52 -+ 5) / 60),
  // and each branch is named
  const Flags beside{{"diameter", "160"},      {"length", "500"},       {"branch_diameter", "50&90"},
                     {"branch_length", "140"}, {"position", "125&300"}, {"around", "180&-90"},
                     {"offset", "52&0"},       {"joint", "over"},       {"thickness", "20"}};
  EXPECT_TRUE(has(refusal("tee", beside),
                  "the hole for branch1 lies from 50.24 mm to 63.44 mm around the body from the branch's "
                  "direction on the duct face and from 72 mm to 100.26 mm on the air face"))
      << refusal("tee", beside);
  // the allowance leaves an opening, or is refused: both faces have 2 (30 / sin 45) - 50 = 34.85 mm in common
  const Flags narrow = with(over, {{"branch_diameter", "160"}});
  expect_made("tee", with(narrow, {{"butt_allowance", "17.3"}}));
  EXPECT_TRUE(has(refusal("tee", with(narrow, {{"butt_allowance", "17.5"}})), "--butt-allowance"));
}

TEST(Refusal, wrong_number_of_values) {
  expect_refused(
      "tee",
      with(k_tee,
           {{"branch_diameter", "200&200"}, {"position", "300&700"}, {"branch_length", "450&450&400"}}),
      "tee: --branch-length = 450&450&400: 3 values for 2 branches (branch_diameter gives their number) "
      "(allowed: one value, or 2)");
}

TEST(Refusal, all_reasons_at_once) {
  const std::string lines = refusal(
      "elbow",
      with(k_elbow,
           {{"thickness", "150"}, {"centreline_radius", "151"}, {"radius_ratio", "1"}, {"gap_limit", "2"}}));
  for (const char* part : {"closes a 300 mm bore", "give only one", "it has no length", "leaves no gap"})
    EXPECT_TRUE(has(lines, part)) << part << " in\n" << lines;
}
