// Pieces larger than the board: how they are divided, and when that is refused.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "helpers.hpp"
#include "linerwright/fitting/stock_fits.hpp"

namespace linerwright {
namespace {

const Flags k_straight{{"diameter", "1200"}, {"length", "3000"}, {"thickness", "25"}, {"fit_allowance", "0"}};

// 3000 along on a board 1220 wide takes three rings of 1000; 1200 pi = 3769.9 around on 2440 takes two
// panels.
TEST(Divide, AStraightLengthIntoEvenRingsAndPanels) {
  const Fitting fitting =
      fitting_from("straight", with(k_straight, {{"board_width", "1220"}, {"board_length", "2440"}}));
  ASSERT_EQ(fitting.pieces.size(), 6u);
  EXPECT_EQ(fitting.pieces.front().id, "1ap1");
  EXPECT_EQ(fitting.pieces.back().id, "1cp2");
  for (const Piece& piece : fitting.pieces) {
    EXPECT_NEAR(height(fitting, piece), 1000.0, 1e-9) << piece.id;
    EXPECT_DOUBLE_EQ(piece.span, k_pi) << piece.id;
  }
  EXPECT_EQ(fitting.insertion, (std::vector<int>{0, 1, 2, 3, 4, 5}));
  EXPECT_EQ(piece_of(fitting, "1bp1").next, (std::vector<std::string>{"1a", "1c"}));
}

TEST(Divide, SeamsOfNeighbouringRingsAreStaggeredByHalfAPanel) {
  const Fitting rings = fitting_from("straight", with(k_straight, {{"board_width", "1220"}}));
  ASSERT_EQ(rings.pieces.size(), 3u);
  EXPECT_NEAR(std::fabs(std::remainder(rings.pieces[1].seam - rings.pieces[0].seam, k_two_pi)), k_pi, 1e-12);
  EXPECT_NEAR(std::remainder(rings.pieces[2].seam - rings.pieces[0].seam, k_two_pi), 0.0, 1e-12);
  const Fitting panels =
      fitting_from("straight", with(k_straight, {{"board_width", "1220"}, {"board_length", "2440"}}));
  EXPECT_NEAR(std::fabs(std::remainder(piece_of(panels, "1bp1").seam - piece_of(panels, "1ap1").seam, k_pi)),
              0.5 * k_pi, 1e-12);
}

// A board that a piece fits exactly is large enough; a tenth of a millimetre less is not.
TEST(Divide, TheBoardMayBeJustAsLargeAsThePiece) {
  const double around = 1200.0 * k_pi;
  EXPECT_EQ(fitting_from("straight", with(k_straight, {{"board_length", mm(around)}})).pieces.size(), 1u);
  EXPECT_EQ(fitting_from("straight", with(k_straight, {{"board_length", mm(around - 0.1)}})).pieces.size(),
            2u);
  EXPECT_EQ(fitting_from("straight", with(k_straight, {{"board_width", "3000"}})).pieces.size(), 1u);
  EXPECT_EQ(fitting_from("straight", with(k_straight, {{"board_width", "2999.9"}})).pieces.size(), 2u);
}

TEST(Divide, ATaperIntoThePanelsAskedFor) {
  const Fitting fitting = fitting_from("reducer", {{"diameter", "400"},
                                                   {"to_diameter", "250"},
                                                   {"length", "300"},
                                                   {"collar", "80"},
                                                   {"thickness", "25"},
                                                   {"panels", "3"}});
  ASSERT_EQ(fitting.pieces.size(), 4u);
  EXPECT_EQ(fitting.pieces[0].id, "collar");
  EXPECT_TRUE(fitting.pieces[0].full_turn());
  for (int p = 1; p <= 3; ++p) {
    const Piece& piece = fitting.piece(p);
    EXPECT_EQ(piece.id, "taperp" + std::to_string(p));
    EXPECT_NEAR(piece.span, k_two_pi / 3.0, 1e-12);
    EXPECT_EQ(piece.next, std::vector<std::string>{"collar"});
  }
}

// A hole stays whole in one ring and one panel, with board around it.
TEST(Divide, CutsAndSeamsKeepClearOfHoles) {
  const Fitting fitting = fitting_from("tee", {{"diameter", "1000"},
                                               {"length", "2600"},
                                               {"branch_diameter", "600"},
                                               {"branch_length", "1500"},
                                               {"angle", "60"},
                                               {"thickness", "25"},
                                               {"board_width", "1220"},
                                               {"board_length", "2440"}});
  int holes = 0;
  for (const Piece& piece : fitting.pieces) {
    if (piece.role.rfind("body", 0) != 0) continue;
    for (const std::size_t h : holes_of(fitting, piece)) {
      ++holes;
      const Wall& wall = fitting.wall_of(piece);
      const Joint& joint = fitting.joint(wall.holes[h].joint);
      for (int i = 0; i < 360; ++i)
        for (const double w : {0.0, 25.0}) {
          const Sheet::Place place = place_on(joint, wall.holes[h].side, k_two_pi * i / 360, shell_depths(w));
          const double turn = place.theta - piece.seam;
          const double from_seam = turn - k_two_pi * std::floor(turn / k_two_pi);
          EXPECT_GE(500.0 * from_seam, 24.9);
          EXPECT_GE(500.0 * (piece.span - from_seam), 24.9);
          EXPECT_GE(place.v - liner_end(fitting, piece.wall, End::low, place.theta, w), 24.9);
          EXPECT_GE(liner_end(fitting, piece.wall, End::high, place.theta, w) - place.v, 24.9);
        }
    }
  }
  EXPECT_EQ(holes, 1);
}

// A blank of all gores that is too large is taken apart; a board that holds it leaves it.
TEST(Divide, AnElbowKeepsItsBlankWhereTheBoardHoldsIt) {
  const Flags elbow{{"diameter", "300"}, {"angle", "90"}, {"pieces", "5"}, {"thickness", "25"}};
  const Fitting whole =
      fitting_from("elbow", with(elbow, {{"board_width", "1220"}, {"board_length", "1000"}}));
  EXPECT_EQ(whole.blanks.size(), 1u);
  const Fitting apart =
      fitting_from("elbow", with(elbow, {{"board_width", "600"}, {"board_length", "1000"}}));
  EXPECT_TRUE(apart.blanks.empty());
  EXPECT_EQ(apart.pieces.size(), 5u);
}

TEST(Divide, RefusesWithTheSizes) {
  const std::string narrow = refusal("straight", with(k_straight, {{"board_width", "90"}}));
  EXPECT_TRUE(has(narrow, "--board-width") && has(narrow, "3000 mm along") && has(narrow, "rings and panels"))
      << narrow;
  const std::string hole = refusal("tee", {{"diameter", "600"},
                                           {"length", "1400"},
                                           {"branch_diameter", "500"},
                                           {"branch_length", "700"},
                                           {"thickness", "25"},
                                           {"board_width", "450"}});
  EXPECT_TRUE(has(hole, "the body is")) << hole;
}

// A board for another thickness of liner is no board for this one; kerfs move the notches of a notched blank.
TEST(Divide, TheStockIsOfTheLinersThicknessAndBringsItsKerfs) {
  Job job;
  for (const auto& [width, thickness] : {std::pair{1220.0, 50.0}, {900.0, 25.0}}) {
    Values stock;
    stock.set("width", {width, "", true, 0, {}});
    stock.set("length", {2440.0, "", true, 0, {}});
    stock.set("thickness", {thickness, "", true, 0, {}});
    stock.set("kerf_pitch", {20.0, "", true, 0, {}});
    job.lists["stock"].push_back(stock);
  }
  job.fittings.push_back(support::request_from("straight", k_straight));
  job.fittings.push_back(support::request_from("reducer", {{"diameter", "400"},
                                                           {"to_diameter", "300"},
                                                           {"length", "350"},
                                                           {"thickness", "25"},
                                                           {"pattern", "notched"}}));
  job.fittings.push_back(support::request_from("straight", with(k_straight, {{"thickness", "30"}})));
  apply_stock(job);
  EXPECT_DOUBLE_EQ(job.fittings[0].values.quantity("board_width"), 900.0);
  EXPECT_FALSE(job.fittings[0].values.has("kerf_pitch"));
  EXPECT_DOUBLE_EQ(make_fitting(job.fittings[1]).notched.front().kerf_pitch, 20.0);
  EXPECT_FALSE(job.fittings[2].values.has("board_width"));
}

// The largest board of a job's stock, less what its edges are trimmed by, is its fittings' board.
TEST(Divide, TheStockOfAJobIsItsBoard) {
  Job job;
  for (const auto& [width, length] : {std::pair{900.0, 1200.0}, {1220.0, 2440.0}}) {
    Values stock;
    stock.set("width", {width, "", true, 0, {}});
    stock.set("length", {length, "", true, 0, {}});
    stock.set("edge_trim", {10.0, "", true, 0, {}});
    job.lists["stock"].push_back(stock);
  }
  job.fittings.push_back(support::request_from("straight", k_straight));
  job.fittings.push_back(support::request_from("straight", with(k_straight, {{"board_width", "600"}})));
  apply_stock(job);
  EXPECT_DOUBLE_EQ(job.fittings[0].values.quantity("board_width"), 1200.0);
  EXPECT_DOUBLE_EQ(job.fittings[0].values.quantity("board_length"), 2420.0);
  EXPECT_DOUBLE_EQ(job.fittings[1].values.quantity("board_width"), 600.0);
}

// Where holes keep the seams of a tee's body from their usual places, neighbouring rings are staggered all
// the same, and a ruling is counted within a turn of the zero ruling. One branch leaves most of the turn
// free; two opposite ones of the body's own size leave 25 mm of board beside each hole and what is between.
// 14 000 along on a board of 600: 24 rings. A branch that ends on its body: rings, whose seams
// end on the body where they are in panels.
TEST(Divide, IntoAsManyRingsAsItTakes) {
  const Fitting fitting = fitting_from("straight", {{"diameter", "400"},
                                                    {"length", "14000"},
                                                    {"thickness", "25"},
                                                    {"board_width", "600"},
                                                    {"board_length", "1300"}});
  ASSERT_EQ(fitting.pieces.size(), 24u);
  EXPECT_EQ(fitting.pieces.back().id, "1x");
  for (const char* joint : {"over", "through"}) {
    const Flags tee{{"diameter", "900"},       {"length", "1600"}, {"branch_diameter", "250"},
                    {"branch_length", "1500"}, {"joint", joint},   {"thickness", "25"},
                    {"board_width", "600"}};
    const Fitting rings = fitting_from("tee", with(tee, {{"board_length", "3000"}}));
    EXPECT_EQ(piece_of(rings, "brancha").role, "branch, ring 1 of 2");
    EXPECT_EQ(piece_of(rings, "branchb").role, "branch, ring 2 of 2");
    const Fitting panels =
        fitting_from("tee", with(tee, {{"board_length", "1500"}, {"branch_diameter", "500"}}));
    EXPECT_EQ(piece_of(panels, "branchap1").seam_place, "against p2 on both sides") << joint;
  }
}

TEST(Divide, SeamsOfATeesBodyAreStaggeredWithHolesInTheWay) {
  const std::vector<Flags> tees{{{"diameter", "500"},
                                 {"length", "3000"},
                                 {"branch_diameter", "300"},
                                 {"branch_length", "600"},
                                 {"around", "180"}},
                                {{"diameter", "500"},
                                 {"length", "3000"},
                                 {"branch_diameter", "300&300&250"},
                                 {"branch_length", "600"},
                                 {"around", "180&0&90"},
                                 {"position", "400&1500&2500"}},
                                {{"diameter", "500"},
                                 {"length", "3000"},
                                 {"branch_diameter", "480&480"},
                                 {"branch_length", "600"},
                                 {"around", "0&0"},
                                 {"position", "500&1500"}},
                                {{"diameter", "500"},
                                 {"length", "4000"},
                                 {"branch_diameter", "300"},
                                 {"branch_length", "600"},
                                 {"around", "0"},
                                 {"body_seam", "160"}}};
  for (const Flags& tee : tees)
    for (const char* board : {"1000", "1220"}) {
      const Fitting fitting = fitting_from("tee", with(tee, {{"thickness", "25"}, {"board_width", board}}));
      std::vector<const Piece*> rings;
      for (const Piece& piece : fitting.pieces)
        if (piece.role.rfind("body", 0) == 0) rings.push_back(&piece);
      ASSERT_GT(rings.size(), 1u);
      for (std::size_t i = 0; i < rings.size(); ++i) {
        EXPECT_TRUE(rings[i]->seam > -k_pi - 1e-9 && rings[i]->seam < k_two_pi) << rings[i]->seam;
        if (i == 0) continue;
        const double apart = std::fabs(std::remainder(rings[i]->seam - rings[i - 1]->seam, k_two_pi));
        EXPECT_GE(apart, 0.5 * k_pi - 1e-9)
            << written("tee", tee) << ": " << rings[i - 1]->id << " " << rings[i - 1]->seam << ", "
            << rings[i]->id << " " << rings[i]->seam;
      }
    }
}

// The reason a number of panels is refused is the board's, or the least panel's, never the board of a job
// that has none.
TEST(Divide, PanelsAreRefusedForWhatStandsInTheWay) {
  const Flags taper{
      {"diameter", "400"}, {"to_diameter", "250"}, {"length", "300"}, {"thickness", "25"}, {"panels", "24"}};
  const std::string narrow = refusal("reducer", taper);
  EXPECT_TRUE(has(narrow, "min_panel") && has(narrow, "of 24 panels one would be") && !has(narrow, "board"))
      << narrow;
  const std::string board = refusal("reducer", with(taper, {{"panels", "2"}, {"board_length", "400"}}));
  EXPECT_TRUE(has(board, "fit a board of any length along by 400 mm around")) << board;
  const Flags large{{"diameter", "1119.27"},
                    {"to_diameter", "3202.54"},
                    {"length", "3602"},
                    {"thickness", "25"},
                    {"panels", "3"}};
  EXPECT_EQ(fitting_from("reducer", large).pieces.size(), 3u);
  for (const char* offset : {"500", "1041.635", "2500"})
    EXPECT_EQ(fitting_from("reducer", with(large, {{"offset", offset}})).pieces.size(), 3u) << offset;
}

// A ruling of a collar meets an oblique taper's rulings at another place in each layer. At every depth the
// joint's splits keep their order, and the one of a collar's seam lies on the collar's ruling.
TEST(Divide, SeamsOfCollarsFollowTheirRulingsThroughTheDepths) {
  const Flags flat{{"diameter", "1800"}, {"to_diameter", "1500"}, {"length", "900"},  {"collar", "100"},
                   {"to_collar", "100"}, {"flat", "yes"},         {"thickness", "25"}};
  for (const char* length : {"2440", "1800", "1100"}) {
    const Fitting fitting =
        fitting_from("reducer", with(flat, {{"board_width", "1220"}, {"board_length", length}}));
    std::size_t on_rulings = 0;
    double farthest = 0.0;
    for (const Joint& joint : fitting.joints)
      for (const double w : {-fitting.liner.gauge, 0.0, 12.5, 25.0}) {
        const std::vector<Arc> arcs = arcs_at(joint, shell_depths(w));
        ASSERT_EQ(arcs.size(), joint.splits.size());
        for (const Arc& arc : arcs) EXPECT_GT(arc.to - arc.from, 1e-3) << length;
        if (!std::holds_alternative<CollarTarget>(joint.target)) continue;
        const End end = std::get<CollarTarget>(joint.target).end;
        for (const CollarSeam& seam : joint.collar_seams) {
          if (seam.at.end != end) continue;
          const double s = split_at(joint.lead, seam, w);
          EXPECT_TRUE(std::any_of(arcs.begin(), arcs.end(), [&](const Arc& arc) {
            return std::fabs(std::remainder(arc.from - s, k_two_pi)) < 1e-12;
          }));
          const double theta = place_on(joint, Side::follow, s, shell_depths(w)).theta;
          EXPECT_NEAR(std::remainder(theta - seam.theta, k_two_pi), 0.0, 1e-9) << length;
          farthest = std::max(farthest, std::fabs(s - seam.split));
          ++on_rulings;
        }
      }
    EXPECT_GE(on_rulings, 8u) << length;
    EXPECT_GT(farthest, 1e-5) << length;
  }
}

// Of so many panels some seams of collar and taper always nearly meet; on the larger board that the refusal
// asks for they do not.
TEST(Divide, SeamsThatNearlyMeetAreRefused) {
  const Flags narrow{{"diameter", "4800"},   {"to_diameter", "4750"}, {"length", "900"},
                     {"collar", "100"},      {"to_collar", "100"},    {"flat", "yes"},
                     {"thickness", "25"},    {"min_panel", "10"},     {"board_width", "1220"},
                     {"board_length", "160"}};
  const std::string reason = refusal("reducer", narrow);
  EXPECT_TRUE(has(reason, "would come within 1 mm of other seams") && has(reason, "a larger board"))
      << reason;
  EXPECT_GT(fitting_from("reducer", with(narrow, {{"board_length", "400"}})).pieces.size(), 100u);
}

// The ring behind a wide mitre is higher than any board, wherever seams lie: found out at once, it took 14 s
// while the seams of all numbers of rings and panels were placed beside the holes first.
TEST(Divide, AMitreHigherThanTheBoardIsRefusedWhateverTheSeams) {
  const Flags wide{{"diameter", "2900"},
                   {"thickness", "3"},
                   {"angle", "60"},
                   {"pieces", "2"},
                   {"collar", "50"},
                   {"radius_ratio", "1.5"},
                   {"board_width", "1200"},
                   {"board_length", "2400"},
                   {"openings",
                    "sensor piece 1 at 111mm around 90 width 142mm length 103mm, "
                    "test hole piece 2 at 1312mm around -90 width 546mm length 22mm"}};
  EXPECT_TRUE(has(refusal("elbow", wide), "cannot be divided into rings and panels of at least 100 mm"));
  EXPECT_GT(fitting_from("elbow", with(wide, {{"board_width", "1900"}})).pieces.size(), 2u);
}

// Stock of 25.43 mm is the board of a liner of 25.4 mm, for the division as on the floor; of 25.5 it is none.
TEST(Divide, StockServesALinerOfNearlyItsThickness) {
  for (const auto& [thickness, serves] :
       {std::pair{25.43, true}, {25.405, true}, {25.36, true}, {25.5, false}}) {
    EXPECT_EQ(stock_fits(thickness, 25.4), serves);
    Job job;
    Values stock;
    stock.set("width", {600.0, "", true, 0, {}});
    stock.set("length", {2000.0, "", true, 0, {}});
    stock.set("thickness", {thickness, "", true, 0, {}});
    job.lists["stock"].push_back(stock);
    job.fittings.push_back(support::request_from("straight", with(k_straight, {{"thickness", "25.4"}})));
    apply_stock(job);
    EXPECT_EQ(job.fittings[0].values.has("board_width"), serves) << thickness;
  }
  EXPECT_TRUE(stock_fits(std::nullopt, 25.4));
}

}  // namespace
}  // namespace linerwright
