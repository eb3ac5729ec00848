// Divisions that are stated, and panels of different widths.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "helpers.hpp"
#include "linerwright/fitting/divisible.hpp"
#include "linerwright/units/error.hpp"
#include "support/requests.hpp"

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

FittingRequest request_of(const std::string& kind, const Flags& flags) {
  return support::request_from(kind, flags);
}

// The hole of a branch of 200 mm on a body of 600, in the middle of 1500 mm: 750 - 100 - 25 to 750 + 100 +
// 25, 25 mm beside it, and more for the liner's far face.
TEST(Divide, ABodyTellsWhereItsHoleLies) {
  const Flags tee{{"diameter", "600"},      {"length", "1500"},  {"branch_diameter", "200"},
                  {"branch_length", "400"}, {"thickness", "25"}, {"position", "750"}};
  const std::vector<DivisiblePiece> pieces = divisible_pieces(request_of("tee", tee));
  ASSERT_EQ(pieces.size(), 1u);  // the branch's end is a saddle
  EXPECT_EQ(pieces[0].piece, "body");
  EXPECT_NEAR(pieces[0].length, 1500.0, 1e-9);
  ASSERT_EQ(pieces[0].holes.size(), 1u);
  const StretchOfHole& hole = pieces[0].holes[0];
  EXPECT_NEAR(hole.low + hole.high, 1500.0, 1e-6);
  EXPECT_LE(hole.high - hole.low, 2.0 * (100.0 + 25.0 + 5.0));
  EXPECT_GE(hole.high - hole.low, 2.0 * (75.0 + 25.0));
  // a division that ends where the hole's stretch does can be had, one that ends 2 mm inside it cannot
  const auto text = [&](double cut) { return division_text({{"body", {{cut, 1}, {1500.0 - cut, 1}}}}); };
  EXPECT_NO_THROW(make_fitting(request_of("tee", with(tee, {{"division", text(hole.low)}}))));
  EXPECT_NO_THROW(make_fitting(request_of("tee", with(tee, {{"division", text(hole.high)}}))));
  EXPECT_THROW(make_fitting(request_of("tee", with(tee, {{"division", text(hole.low + 2.0)}}))), InputError);
}

TEST(Divide, OtherDivisionsCanAllBeHad) {
  const std::vector<std::pair<std::string, Flags>> fittings{
      {"reducer", {{"diameter", "800"}, {"to_diameter", "500"}, {"length", "600"}, {"thickness", "25"}}},
      {"elbow", {{"diameter", "500"}, {"angle", "90"}, {"pieces", "5"}, {"thickness", "25"}}},
      {"tee",
       {{"diameter", "600"},
        {"length", "1200"},
        {"branch_diameter", "400"},
        {"branch_length", "600"},
        {"thickness", "25"}}}};
  for (const auto& [kind, flags] : fittings) {
    SCOPED_TRACE(kind);
    const std::vector<OtherDivision> others = other_divisions(request_of(kind, flags));
    EXPECT_FALSE(others.empty());
    for (const OtherDivision& other : others) {
      const std::string text = division_text({{other.piece, other.rings}});
      SCOPED_TRACE(text);
      EXPECT_EQ(other.in_blank, kind == "elbow");
      EXPECT_TRUE(other.fits_whole);  // no board is stated
      const Fitting fitting = make_fitting(request_of(kind, with(flags, {{"division", text}})));
      std::size_t cut = 0;
      for (const StatedRing& ring : other.rings) cut += static_cast<std::size_t>(ring.panels);
      EXPECT_EQ(static_cast<std::size_t>(
                    std::count_if(fitting.pieces.begin(), fitting.pieces.end(),
                                  [&](const Piece& piece) { return is_cut_of(piece.id, other.piece); })),
                cut);
    }
    EXPECT_TRUE(other_divisions(request_of(kind, with(flags, {{"second_layer", "25"}}))).empty());
  }
  // panels of a taper that the request states are not changed
  EXPECT_TRUE(other_divisions(request_of("reducer", with(fittings[0].second, {{"panels", "2"}}))).empty());
}

TEST(Divide, RingsAndPanelsAreKnownByTheirIds) {
  for (const char* id : {"1", "1a", "1p1", "1ap12", "1p", "1pp3"}) EXPECT_TRUE(is_cut_of(id, "1")) << id;
  for (const char* id : {"2", "11", "1ab", "1apx", "1G1"}) EXPECT_FALSE(is_cut_of(id, "1")) << id;
  EXPECT_TRUE(is_cut_of("branchbp2", "branch"));
  EXPECT_FALSE(is_cut_of("branchG1", "branch"));
}

}  // namespace
}  // namespace linerwright
