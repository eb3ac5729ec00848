// Divisions that are stated, and panels of different widths.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "helpers.hpp"

namespace linerwright {
namespace {

const Flags k_straight{{"diameter", "1200"}, {"length", "3000"}, {"thickness", "25"}, {"fit_allowance", "0"}};

// 3000 as 1200 + 1500 + 300, the second ring in three panels of a third of a turn.
TEST(Divide, AStatedDivisionIsTaken) {
  const Fitting fitting = fitting_from(
      "straight",
      with(k_straight, {{"division", "1: 1200mm + 1500mm / 3 + 300mm"}, {"board_width", "1600"}}));
  ASSERT_EQ(fitting.pieces.size(), 5u);
  EXPECT_NEAR(height(fitting, piece_of(fitting, "1a")), 1200.0, 1e-9);
  EXPECT_NEAR(height(fitting, piece_of(fitting, "1c")), 300.0, 1e-9);
  for (const char* id : {"1bp1", "1bp2", "1bp3"}) {
    EXPECT_NEAR(height(fitting, piece_of(fitting, id)), 1500.0, 1e-9);
    EXPECT_NEAR(piece_of(fitting, id).span, k_two_pi / 3.0, 1e-12);
  }
  // seams of neighbours lie at least a quarter of the narrowest panel apart
  for (const char* ring : {"1a", "1c"})
    for (const char* id : {"1bp1", "1bp2", "1bp3"})
      EXPECT_GT(
          std::fabs(std::remainder(piece_of(fitting, id).seam - piece_of(fitting, ring).seam, k_two_pi)) *
              600.0,
          0.25 * k_two_pi / 3.0 * 600.0 - 1e-9);
}

TEST(Divide, AStatedDivisionKeepsClearOfHoles) {
  const Flags tee{{"diameter", "600"},      {"length", "1500"},  {"branch_diameter", "200"},
                  {"branch_length", "400"}, {"thickness", "25"}, {"position", "750"}};
  const Fitting fitting = fitting_from("tee", with(tee, {{"division", "body: 500mm / 2 + 1000mm"}}));
  EXPECT_NO_THROW(piece_of(fitting, "bodyap2"));
  const std::string through = refusal("tee", with(tee, {{"division", "body: 750mm + 750mm"}}));
  EXPECT_NE(through.find("meets a hole"), std::string::npos) << through;
}

// A branch as wide as its body takes half the turn: of two equal panels one seam would lie in the hole. 1000
// mm inside, 25 thick: pi 1000 = 3141.6 around, the hole 1570.8 and 25 beside it on either side; a board of
// 2000 holds that panel, 1620.8 or more, and the other.
TEST(Divide, PanelsOfDifferentWidthsWhereEqualOnesMeetTheHole) {
  const Flags tee{{"diameter", "1000"},     {"length", "1500"},     {"branch_diameter", "1000"},
                  {"branch_length", "900"}, {"thickness", "25"},    {"fit_allowance", "0"},
                  {"board_length", "2000"}, {"board_width", "1600"}};
  const Fitting fitting = fitting_from("tee", tee);
  const Piece& first = piece_of(fitting, "bodyp1");
  const Piece& second = piece_of(fitting, "bodyp2");
  EXPECT_NEAR(first.span + second.span, k_two_pi, 1e-12);
  const Piece& pierced = first.span > second.span ? first : second;
  EXPECT_GE(pierced.span * 500.0, 500.0 * k_pi + 50.0 - 1e-6);
  EXPECT_LE(pierced.span * 500.0, 2000.0 + 0.01);
}

// On a board of 1600 nothing holds the half turn with its margins: that is refused.
TEST(Divide, AHoleWiderThanAnyPanelIsRefused) {
  const std::string why = refusal("tee", {{"diameter", "1000"},
                                          {"length", "1500"},
                                          {"branch_diameter", "1000"},
                                          {"branch_length", "900"},
                                          {"thickness", "25"},
                                          {"fit_allowance", "0"},
                                          {"board_length", "1600"},
                                          {"board_width", "1600"}});
  EXPECT_NE(why.find("board-length"), std::string::npos) << why;
}

}  // namespace
}  // namespace linerwright
