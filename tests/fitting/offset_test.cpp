// Offsets: ends, angles and volumes by closed forms, and refusals that the geometry asks for.
#include <gtest/gtest.h>

#include "fitting/helpers.hpp"
#include "linerwright/fitting/port.hpp"

using namespace linerwright;

namespace {

const Flags k_offset{{"diameter", "400"}, {"centreline_radius", "600"}, {"pieces", "3"}, {"thickness", "25"}};

double liner_volume(const Fitting& fitting) {
  return shell_volume(fitting, 0.0) - shell_volume(fitting, fitting.liner.thickness);
}

}  // namespace

// offset H = 2 rho (1 - cos A) + L sin A, length X = 2 rho sin A + L cos A; the gores' centreline is
// 2 (n - 1) rho tan(A / (2 (n - 1))) a bend and the liner pi (D t - t^2) times it.
TEST(Offset, by_angle) {
  const double a = 45 * k_degree;
  const double h = 1200 * (1 - std::cos(a)) + 300 * std::sin(a);
  const Fitting fitting = fitting_from("offset", with(k_offset, {{"offset", mm(h)}, {"angle", "45"}}));
  EXPECT_NEAR(h, 563.603897, 1e-6);
  EXPECT_NEAR(fact(fitting, "overall_length"), 1060.660172, 1e-6);
  EXPECT_NEAR(fact(fitting, "between_bends"), 300.0, 1e-6);
  EXPECT_NEAR(fact(fitting, "gored_centreline"), 1254.779363, 1e-6);
  EXPECT_NEAR(liner_volume(fitting), 36956302.8, 0.1);
  const std::vector<Port> ports = ports_of(fitting);
  ASSERT_EQ(ports.size(), 2U);
  EXPECT_NEAR(ports[1].frame.origin.x, h, 1e-6);
  EXPECT_NEAR(ports[1].frame.origin.z, 1060.660172, 1e-6);
  EXPECT_NEAR(ports[1].frame.z.z, 1.0, 1e-12);
}

TEST(Offset, by_length) {
  const Fitting fitting = fitting_from(
      "offset",
      with(k_offset,
           {{"diameter", "300"}, {"centreline_radius", "400"}, {"offset", "250"}, {"length", "900"}}));
  EXPECT_NEAR(fact(fitting, "bend_angle") / k_degree, 17.900177, 1e-6);
  EXPECT_NEAR(fact(fitting, "between_bends"), 687.386354, 1e-6);
  EXPECT_NEAR(fact(fitting, "gored_centreline"), 937.829437, 1e-6);
}

// true offset = sqrt(rise^2 + roll^2), as pipe fitters' handbooks have it (from memory).
TEST(Offset, rolling) {
  const Fitting fitting = fitting_from(
      "offset",
      with(k_offset, {{"centreline_radius", "450"}, {"rise", "300"}, {"roll", "400"}, {"angle", "45"}}));
  EXPECT_NEAR(fact(fitting, "true_offset"), 500.0, 1e-9);
  EXPECT_NEAR(fact(fitting, "roll_angle") / k_degree, 53.130102, 1e-6);
  EXPECT_NEAR(fact(fitting, "between_bends"), 334.314575, 1e-6);
  EXPECT_NEAR(fact(fitting, "overall_length"), 872.792206, 1e-6);
}

// Travel, from the crossing of one bend's axes to the other's, is the offset times 1.414 at 45 degrees, 1.155
// at 60 and 2.000 at 30: pipe fitters' constants (from memory).
TEST(Offset, travel_by_the_fitters_constants) {
  for (const auto& [angle, constant] : {std::pair{"45", 1.414}, {"60", 1.155}, {"30", 2.000}}) {
    const Fitting fitting = fitting_from("offset", with(k_offset, {{"offset", "900"}, {"angle", angle}}));
    const double travel =
        fact(fitting, "between_bends") + 2 * 600 * std::tan(0.5 * fact(fitting, "bend_angle"));
    EXPECT_NEAR(travel, 900 * constant, 0.5) << angle;
  }
}

// On the side that is the first bend's throat the middle piece is as long as on its other side, the second's
// throat: L + 2 rho tan a. It may be made while that is positive, whatever L is.
TEST(Offset, bends_may_overlap_while_the_piece_between_them_has_a_length) {
  const double a = 60 * k_degree;
  const double rho = 600;
  const double longest = 2 * rho * std::tan(a / 4);
  for (const double between : {-longest + 2, -longest + 0.5}) {
    const double h = 2 * rho * (1 - std::cos(a)) + between * std::sin(a);
    const Flags flags = with(k_offset, {{"offset", mm(h)}, {"angle", "60"}, {"thickness", "1"}});
    if (between + longest > 1.0) {
      const Fitting fitting = fitting_from("offset", flags);
      for (int i = 0; i < 12; ++i)
        EXPECT_NEAR(liner_end(fitting, 2, End::high, i * k_pi / 6, 0) -
                        liner_end(fitting, 2, End::low, i * k_pi / 6, 0),
                    between + longest, 1e-6);
    } else {
      EXPECT_TRUE(has(refusal("offset", flags), "the piece between the bends would be 0.5 mm long"));
    }
  }
}

TEST(Offset, what_is_asked_for_twice_or_not_at_all_is_refused) {
  EXPECT_TRUE(has(refusal("offset", with(k_offset, {{"angle", "45"}})), "offset, or rise and roll"));
  EXPECT_TRUE(has(refusal("offset", with(k_offset, {{"offset", "300"}})), "one of length and angle"));
  EXPECT_TRUE(has(refusal("offset", with(k_offset, {{"offset", "300"}, {"angle", "45"}, {"length", "900"}})),
                  "one of length and angle"));
  EXPECT_TRUE(has(refusal("offset", with(k_offset, {{"offset", "300"}, {"roll", "20"}, {"angle", "45"}})),
                  "offset, or rise and roll"));
  // sqrt(H (4 rho - H)) with H 250, rho 400
  EXPECT_TRUE(has(
      refusal("offset", with(k_offset, {{"centreline_radius", "400"}, {"offset", "250"}, {"length", "580"}})),
      "at least 580.95 mm"));
}

// Between two two-piece bends that nearly meet, a thick liner's faces do not lie over each other: said, with
// the key.
TEST(Offset, a_piece_whose_faces_lean_apart_is_refused_with_its_key) {
  const std::string said = refusal("offset", {{"diameter", "320.284241"},
                                              {"thickness", "100"},
                                              {"pieces", "2"},
                                              {"radius_ratio", "1.52847775"},
                                              {"angle", "30"},
                                              {"offset", "9.06638379"}});
  EXPECT_TRUE(has(said, "--offset = 9.06638379")) << said;
}

// Random offsets: the far end lies at (H, 0, X) and looks along z, neighbours share every cut, the liner is
// pi (D t - t^2) times the centreline.
TEST(Property, offsets) {
  Dice dice(17);
  int made = 0;
  for (int i = 0; i < cases(400); ++i) {
    const double d = dice.between(80, 2000);
    const double rho = d * dice.between(0.7, 3.0);
    const double t = std::clamp(d * dice.between(0.01, 0.3), 1.0, 300.0);
    const double a = dice.between(3, 90) * k_degree;
    const double between = dice.between(-0.5, 4.0) * d;
    const double h = 2 * rho * (1 - std::cos(a)) + between * std::sin(a);
    if (h < 1.0) continue;
    const double x = 2 * rho * std::sin(a) + between * std::cos(a);
    const double collar = dice.between(0, 1) < 0.5 ? 0.0 : dice.between(10, 300);
    const int pieces = 2 + static_cast<int>(dice.between(0, 6));
    const Flags flags{{"diameter", mm(d)},    {"centreline_radius", mm(rho)},
                      {"offset", mm(h)},      {"angle", mm(a / k_degree)},
                      {"collar", mm(collar)}, {"pieces", std::to_string(pieces)},
                      {"thickness", mm(t)},   {"fit_allowance", "0"}};
    SCOPED_TRACE(written("offset", flags));
    if (refusal("offset", flags) != "(made)") continue;
    ++made;
    const Fitting fitting = fitting_from("offset", flags);
    ASSERT_EQ(fitting.pieces.size(), static_cast<std::size_t>(2 * pieces - 1));
    const Port end = ports_of(fitting).at(1);
    EXPECT_NEAR(distance(end.frame.origin, {h, 0, x + collar}), 0.0, 1e-6 * d);
    EXPECT_NEAR(end.frame.z.z, 1.0, 1e-9);
    const double centreline =
        between + 4 * (pieces - 1) * rho * std::tan(a / (2 * (pieces - 1))) + 2 * collar;
    EXPECT_NEAR(liner_volume(fitting) / (k_pi * (d * t - t * t) * centreline), 1.0, 1e-9);
  }
  EXPECT_GT(made, cases(400) / 3);
}

// Mitres that reach past a short piece between the bends: no section of it is round, and no station says so.
TEST(Offset, a_short_middle_piece_has_no_section_of_its_own) {
  const Flags flags{{"diameter", "630"},
                    {"radius_ratio", "2.12493375"},
                    {"pieces", "2"},
                    {"thickness", "100"},
                    {"angle", "30"}};
  const Fitting slight = fitting_from("offset", with(flags, {{"offset", "51.407"}}));
  ASSERT_EQ(slight.passages.size(), 1U);
  EXPECT_EQ(slight.passages[0].stations.size(), 2U);
  const Fitting wide = fitting_from("offset", with(flags, {{"offset", "800"}}));
  EXPECT_EQ(wide.passages[0].stations.size(), 3U);
}
