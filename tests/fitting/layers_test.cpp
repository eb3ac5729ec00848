// A second layer of liner inside the first: depths, volumes by closed form, seams and joints against the
// first's.
#include <gtest/gtest.h>

#include "helpers.hpp"

namespace linerwright {
namespace {

const Flags k_straight{{"diameter", "400"}, {"length", "1000"}, {"thickness", "25"}, {"second_layer", "25"}};

std::vector<const Piece*> pieces_of_layer(const Fitting& fitting, int layer) {
  std::vector<const Piece*> found;
  for (const Piece& piece : fitting.pieces)
    if (fitting.wall_of(piece).layer == layer) found.push_back(&piece);
  return found;
}

double volume_of_layer(const Fitting& fitting, int layer) {
  const LinerSpec& liner = layer_of(fitting, layer);
  return shell_volume(fitting, liner.outer_depth) - shell_volume(fitting, liner.inner_depth());
}

// pi (D t - t^2) L with D the diameter that the layer lies in: 400, then 350.
TEST(Layers, VolumesOfAStraightLengthAreThoseOfTwoTubes) {
  const Fitting fitting = fitting_from("straight", k_straight);
  ASSERT_EQ(fitting.pieces.size(), 2u);
  EXPECT_EQ(fitting.pieces[1].id, "i1");
  EXPECT_NEAR(volume_of_layer(fitting, 0), k_pi * (400.0 * 25.0 - 625.0) * 1000.0, 1e-3);
  EXPECT_NEAR(volume_of_layer(fitting, 1), k_pi * (350.0 * 25.0 - 625.0) * 1000.0, 1e-3);
  EXPECT_DOUBLE_EQ(fitting.passages.front().stations.front().lined_diameter, 300.0);
  // rolled around the metal's inside, and around the first layer's
  EXPECT_NEAR(stretch_out(fitting, fitting.pieces[0].wall), k_pi * 400.0, 1e-9);
  EXPECT_NEAR(stretch_out(fitting, fitting.pieces[1].wall), k_pi * 350.0, 1e-9);
}

// A ring of section area A whose centroid runs along the gores' straight middle lines: A times their length,
// for any plane mitres (each gore is as long on the mean as on its axis).
TEST(Layers, VolumesOfAnElbowFollowItsMiddleLine) {
  const Fitting fitting = fitting_from("elbow", {{"diameter", "400"},
                                                 {"angle", "90"},
                                                 {"pieces", "4"},
                                                 {"centreline_radius", "600"},
                                                 {"thickness", "25"},
                                                 {"second_layer", "40"}});
  const double way = 2.0 * 3.0 * 600.0 * std::tan(k_pi / 12.0);
  EXPECT_NEAR(volume_of_layer(fitting, 0) / (k_pi * (400.0 * 25.0 - 625.0) * way), 1.0, 1e-12);
  EXPECT_NEAR(volume_of_layer(fitting, 1) / (k_pi * (350.0 * 40.0 - 1600.0) * way), 1.0, 1e-12);
  EXPECT_EQ(fitting.blanks.size(), 2u);
  EXPECT_EQ(fitting.blanks.back().id, "iblank");
}

// A duct of 59 mm with two branches leaves no two rulings 25 mm apart: that is told, and refused only of a
// seam that was asked for.
TEST(Layers, SeamsOfASmallDuctLieAsFarApartAsMayBe) {
  const Flags small{{"diameter", "59.6356072"},
                    {"length", "161.728941"},
                    {"branch_diameter", "49.1525328&59.6356072"},
                    {"branch_length", "98.8178036&512.627654"},
                    {"position", "44.884445&120.411081"},
                    {"around", "-90&-86.3109692"},
                    {"thickness", "10"},
                    {"second_layer", "3"},
                    {"fit_allowance", "0mm"}};
  const Fitting fitting = fitting_from("tee", small);
  EXPECT_EQ(pieces_of_layer(fitting, 1).size(), 3u);
  const auto near = [](const std::string& warning) { return has(warning, "seams of both layers"); };
  EXPECT_EQ(std::count_if(fitting.warnings.begin(), fitting.warnings.end(), near), 1);
  EXPECT_TRUE(has(refusal("straight", support::with(k_straight, {{"second_seam", "5"}})),
                  "on the straight length they come within 17.45 mm of each other"));
}

// A cone's parallel at depth w has lost w / cos p of its radius: what lies between two of them is a frustum
// less another. Layer 1 comes from a notched board, layer 2 as the sector of a cone, half a turn on.
TEST(Layers, InsideATaperThatIsClosedByNotches) {
  const Fitting fitting = fitting_from("reducer", {{"diameter", "600"},
                                                   {"to_diameter", "500"},
                                                   {"length", "400"},
                                                   {"pattern", "notched"},
                                                   {"thickness", "25"},
                                                   {"second_layer", "15"}});
  ASSERT_EQ(fitting.pieces.size(), 2u);
  ASSERT_EQ(fitting.notched.size(), 1u);
  EXPECT_NE(notched_with(fitting, 0), nullptr);
  EXPECT_EQ(notched_with(fitting, 1), nullptr);
  const double slant = std::hypot(400.0, 50.0) / 400.0;
  const auto within = [&](double w) {
    const double a = 300.0 - w * slant, b = 250.0 - w * slant;
    return k_pi * 400.0 * (a * a + a * b + b * b) / 3.0;
  };
  EXPECT_NEAR(volume_of_layer(fitting, 0), within(0.0) - within(25.0), 1e-2);
  EXPECT_NEAR(volume_of_layer(fitting, 1), within(25.0) - within(40.0), 1e-2);
  EXPECT_NEAR(std::fabs(std::remainder(fitting.pieces[0].seam - fitting.pieces[1].seam, k_two_pi)), k_pi,
              1e-9);
}

TEST(Layers, SeamsOfWholePiecesAreHalfATurnApart) {
  for (const char* kind : {"straight", "elbow"}) {
    Flags flags = k_straight;
    if (std::string(kind) == "elbow") {
      flags.erase("length");
      flags["angle"] = "90";
      flags["pieces"] = "5";
    }
    const Fitting fitting = fitting_from(kind, flags);
    const auto outer = pieces_of_layer(fitting, 0);
    const auto inner = pieces_of_layer(fitting, 1);
    ASSERT_EQ(outer.size(), inner.size());
    for (std::size_t i = 0; i < outer.size(); ++i)
      EXPECT_NEAR(std::fabs(std::remainder(outer[i]->seam - inner[i]->seam, k_two_pi)), k_pi, 1e-12) << kind;
  }
  const Fitting asked = fitting_from("straight", with(k_straight, {{"second_seam", "90"}}));
  EXPECT_NEAR(std::remainder(asked.pieces[1].seam - asked.pieces[0].seam, k_two_pi), 0.5 * k_pi, 1e-12);
}

// Opposite layer 1's seam is the hole. Layer 2's own is widest on its outer face, 25 deep: half of it takes
// asin(125 / 175) around; the seam keeps 25 mm from it.
TEST(Layers, TheSeamOfATeesBodyClearsTheHole) {
  const Fitting fitting = fitting_from("tee", {{"diameter", "400"},
                                               {"length", "900"},
                                               {"branch_diameter", "300"},
                                               {"branch_length", "500"},
                                               {"thickness", "25"},
                                               {"second_layer", "25"}});
  const auto outer = pieces_of_layer(fitting, 0);
  const auto inner = pieces_of_layer(fitting, 1);
  ASSERT_EQ(inner.size(), 2u);
  const double around = std::fabs(std::remainder(inner[0]->seam, k_two_pi));  // from the branch
  EXPECT_GT(around * 200.0, 200.0 * std::asin(125.0 / 175.0) + 24.9);
  EXPECT_GT(std::fabs(std::remainder(inner[0]->seam - outer[0]->seam, k_two_pi)) * 200.0, 100.0);
}

// A radial hole of 100 in a duct of 400 is as wide around at every depth: asin(50 / 200) on either side of
// its middle.
TEST(Layers, AStatedSeamKeepsTheMarginFromAHole) {
  const auto beside = [](double room) {
    const double degrees = 60.0 + (std::asin(50.0 / 200.0) + room / 200.0) / k_degree;
    return Flags{{"diameter", "400"},
                 {"length", "600"},
                 {"thickness", "25"},
                 {"second_layer", "25"},
                 {"openings", "test hole piece 1 at 300mm around 60 diameter 100mm bevel radial"},
                 {"second_seam", mm(degrees)}};
  };
  EXPECT_TRUE(
      has(refusal("straight", beside(-1.0)), "would run through a hole (allowed: a ruling at least 5 mm"));
  EXPECT_TRUE(has(refusal("straight", beside(4.9)), "would run 4.9 mm beside a hole"));
  const Fitting fitting = fitting_from("straight", beside(5.1));
  EXPECT_NEAR(fitting.pieces[1].seam - fitting.pieces[0].seam,
              k_degree * 60.0 + std::asin(0.25) + 5.1 / 200.0, 1e-6);
}

// 3000 along on a board 1220 wide: three rings in each layer, or four in the second, none of whose joints
// lies within min_panel of the first's at 1000 and 2000; and no seam of one over a seam of the other.
TEST(Layers, RingJointsAndSeamsKeepOffTheFirstLayers) {
  const Fitting fitting = fitting_from(
      "straight", with(k_straight, {{"length", "3000"}, {"board_width", "1220"}, {"min_panel", "150"}}));
  const auto inner = pieces_of_layer(fitting, 1);
  const auto outer = pieces_of_layer(fitting, 0);
  ASSERT_EQ(outer.size(), 3u);
  ASSERT_GE(inner.size(), 3u);
  int overlaps = 0;
  for (const Piece* a : outer)
    for (const Piece* b : inner) {
      const auto at = [&](const Piece* piece, End end) {
        return liner_end(fitting, piece->wall, end, 0.0, 0.0);
      };
      if (b != inner.back() && a != outer.back()) {
        EXPECT_GE(std::fabs(at(a, End::high) - at(b, End::high)), 150.0 - 1e-6);
      }
      EXPECT_LE(at(b, End::high) - at(b, End::low), 1220.0 + 0.02);
      if (std::min(at(a, End::high), at(b, End::high)) <= std::max(at(a, End::low), at(b, End::low)))
        continue;
      ++overlaps;
      EXPECT_GE(std::fabs(std::remainder(a->seam - b->seam, k_two_pi)) * 200.0, 25.0);
    }
  EXPECT_GT(overlaps, 3);
}

TEST(Layers, BothLayersTogetherMustLeaveABore) {
  const std::string words = refusal("straight", with(k_straight, {{"diameter", "100"}}));
  EXPECT_NE(words.find("in two layers closes a 100 mm bore"), std::string::npos) << words;
}

TEST(Layers, ASeamOverTheFirstLayersIsRefused) {
  const std::string words = refusal("straight", with(k_straight, {{"second_seam", "1"}}));
  EXPECT_NE(words.find("second-seam"), std::string::npos) << words;
}

TEST(Layers, KeysOfASecondLayerAreRefusedWithoutOne) {
  const std::string words =
      refusal("straight",
              {{"diameter", "400"}, {"length", "1000"}, {"thickness", "25"}, {"second_fit_allowance", "6"}});
  EXPECT_NE(words.find("second-fit-allowance"), std::string::npos) << words;
}

TEST(Layers, AllowancesAndFacesMayBeTheSecondLayersOwn) {
  const Fitting fitting = fitting_from("straight", with(k_straight, {{"fit_allowance", "20"},
                                                                     {"second_fit_allowance", "6"},
                                                                     {"second_face_up", "inner"}}));
  EXPECT_DOUBLE_EQ(fitting.liner.fit_allowance, 20.0);
  EXPECT_DOUBLE_EQ(layer_of(fitting, 1).fit_allowance, 6.0);
  EXPECT_EQ(layer_of(fitting, 1).face_up, Face::air);
  EXPECT_STREQ(face_word(layer_of(fitting, 1), Face::air), "inner");
  EXPECT_STREQ(face_word(fitting.liner, Face::air), "air");
}

}  // namespace
}  // namespace linerwright
