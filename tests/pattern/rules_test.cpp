// What every pattern promises: allowances, policies, tilt, blanks, sides.
#include <gtest/gtest.h>

#include <cmath>

#include "made.hpp"

namespace linerwright {
namespace {

using testing::fitting_of;
using testing::Flags;
using testing::pattern_of;

Flags elbow(Flags more = {}) {
  Flags flags{{"diameter", "600mm"}, {"angle", "90"}, {"pieces", "5"}, {"thickness", "25mm"}};
  for (const auto& [key, value] : more) flags[key] = value;
  return flags;
}

constexpr double k_mitre = k_pi / 16.0;

// A cut square to the board leaves a wedge of t tan(alpha) at heel and throat, and the tilt there is alpha.
TEST(Rules, SquareCutLeavesTheWedge) {
  const double wedge = 25.0 * std::tan(k_mitre);
  const struct {
    const char* policy;
    double gap, overlap;
  } cases[] = {{"outer", 0.0, wedge},
               {"mid", 0.5 * wedge, 0.5 * wedge},
               {"duct", wedge, wedge},
               {"air", wedge, wedge}};
  for (const auto& c : cases) {
    const Pattern pattern = make_patterns(fitting_of("elbow", elbow({{"cut", c.policy}})))[1];
    EXPECT_NEAR(pattern.gap_square, c.gap, 2e-3) << c.policy;
    EXPECT_NEAR(pattern.overlap_square, c.overlap, 2e-3) << c.policy;
    EXPECT_NEAR(pattern.max_tilt, k_mitre, 1e-4) << c.policy;
  }
}

TEST(Rules, OuterKeepsBothFaces) {
  const Pattern pattern = make_patterns(fitting_of("elbow", elbow()))[1];
  for (const Region* face : {&pattern.duct, &pattern.air}) {
    const std::vector<Region> left = subtracted({*face}, {pattern.cut});
    double outside = 0.0;
    for (const Region& region : left) outside += area(region);
    EXPECT_LT(outside, 0.01 * k_chord_error * 4000.0);
  }
  const Pattern duct = make_patterns(fitting_of("elbow", elbow({{"cut", "duct"}})))[1];
  EXPECT_NEAR(duct.board_area, duct.duct_area, 1e-6);
  const Pattern tilt = make_patterns(fitting_of("elbow", elbow({{"cut", "tilt"}, {"face_up", "air"}})))[1];
  EXPECT_NEAR(tilt.board_area, area(tilt.air), 1e-6);
}

// Arrows of two flows that meet at a branch stand tip to tip, of two that part foot to foot; an arrow's head
// is its second line.
TEST(Rules, ArrowsOfTwoFlows) {
  const Flags tee{{"diameter", "500mm"},
                  {"length", "1500mm"},
                  {"branch_diameter", "250mm"},
                  {"branch_length", "600mm"},
                  {"thickness", "25mm"}};
  for (const char* arrow : {"to_branch", "from_branch", "along"}) {
    Flags flags = tee;
    flags["flow_arrow"] = arrow;
    const std::vector<Pattern> patterns = make_patterns(fitting_of("tee", flags));
    const auto& body = patterns.at(0).label_lines;
    const bool two = arrow[0] != 'a';
    ASSERT_EQ(body.size(), two ? 4u : 2u) << arrow;
    EXPECT_EQ(patterns.at(1).label_lines.size(), 2u) << arrow;
    if (!two) continue;
    const double lower = body[0][1].y - body[0][0].y;
    const double upper = body[2][1].y - body[2][0].y;
    EXPECT_LT(body[0][0].y + body[0][1].y, body[2][0].y + body[2][1].y);
    EXPECT_GT(arrow[0] == 't' ? lower : -lower, 1.0);
    EXPECT_NEAR(upper, -lower, 1e-9);
    EXPECT_NEAR(distance(body[1][1], body[0][1]), 0.0, 1e-9);
    EXPECT_NEAR(distance(body[3][1], body[2][1]), 0.0, 1e-9);
  }
}

// Allowances show on CUT only: true contours stay.
TEST(Rules, Allowances) {
  const Pattern plain =
      make_patterns(fitting_of("straight", {{"diameter", "300mm"}, {"length", "1m"}, {"thickness", "25mm"}}))
          .front();
  const Pattern longer = make_patterns(fitting_of("straight", {{"diameter", "300mm"},
                                                               {"length", "1m"},
                                                               {"thickness", "25mm"},
                                                               {"end_allowance", "20mm"}}))
                             .front();
  EXPECT_NEAR(longer.board.y - plain.board.y, 40.0, 1e-9);
  EXPECT_NEAR(longer.duct_area, plain.duct_area, 1e-6);
  EXPECT_GT(longer.marks.size(), plain.marks.size());  // the trimmed edges are marked
  const std::vector<Pattern> tight = make_patterns(fitting_of("elbow", elbow({{"cut", "duct"}})));
  const std::vector<Pattern> eased =
      make_patterns(fitting_of("elbow", elbow({{"cut", "duct"}, {"butt_allowance", "3mm"}})));
  EXPECT_NEAR(eased[1].board.y - tight[1].board.y, 6.0, 1e-6);      // a joint at either end
  EXPECT_NEAR(eased[0].board.y - tight[0].board.y, 3.0, 1e-6);      // one joint
  EXPECT_NEAR(eased[5].board.y - tight[5].board.y, 4 * 6.0, 1e-6);  // the blank: four joints, both sides
  const Pattern neutral = make_patterns(fitting_of("straight", {{"diameter", "300mm"},
                                                                {"length", "1m"},
                                                                {"thickness", "25mm"},
                                                                {"neutral_factor", "0.5"},
                                                                {"cut", "duct"}}))
                              .front();
  EXPECT_NEAR(neutral.board.x, k_two_pi * (150.0 - 12.5) - 19.05, 1e-9);
}

// Blank height 2 (n - 1) rho tan(a) plus collars; every piece's area is in it, and nothing else.
TEST(Rules, BlankHasNoWaste) {
  const Fitting fitting = fitting_of("elbow", elbow({{"collar", "50mm"}}));
  const std::vector<Pattern> patterns = make_patterns(fitting);
  const Pattern& blank = pattern_of(patterns, "blank");
  EXPECT_NEAR(blank.board.y, 8.0 * 900.0 * std::tan(k_mitre) + 100.0, 1e-6);
  EXPECT_NEAR(blank.board.x, k_pi * 600.0 - 19.05, 1e-9);
  ASSERT_EQ(blank.open_cuts.size(), 4u);
  double pieces = 0.0;
  for (std::size_t i = 0; i < 5; ++i) pieces += patterns[i].duct_area;
  EXPECT_NEAR(pieces, blank.board_area, 4 * k_chord_error * 4000.0);
  for (const auto& cut : blank.open_cuts) {
    EXPECT_NEAR(cut.front().x, blank.board.x, 1e-9);
    EXPECT_NEAR(cut.back().x, 0.0, 1e-9);
  }
}

// A branch that turns shares its mitres as a bend's gores do; its saddle is the board's lower edge. What the
// pieces' duct faces hold is what the outline's does, whichever face is up and whatever the knife follows.
TEST(Rules, BlankOfATurnedBranch) {
  for (const char* face : {"duct", "air"})
    for (const char* cut : {"outer", "mid", "tilt"}) {
      SCOPED_TRACE(std::string(face) + " " + cut);
      const Fitting fitting = fitting_of("tee", {{"diameter", "600mm"},
                                                 {"length", "1500mm"},
                                                 {"branch_diameter", "300mm"},
                                                 {"branch_length", "700mm"},
                                                 {"angle", "45"},
                                                 {"offset", "40mm"},
                                                 {"turn_to", "90"},
                                                 {"pieces", "4"},
                                                 {"thickness", "25mm"},
                                                 {"cut", cut},
                                                 {"face_up", face}});
      const std::vector<Pattern> patterns = make_patterns(fitting);
      const Pattern& blank = pattern_of(patterns, "blank");
      ASSERT_EQ(blank.pieces, (std::vector<int>{1, 2, 3, 4}));
      ASSERT_EQ(blank.open_cuts.size(), 3u);
      double pieces = 0.0;
      for (const int piece : blank.pieces) pieces += patterns[static_cast<std::size_t>(piece)].duct_area;
      const double around = 0.5 * pattern_of(patterns, "branch").board.x + 2000.0;
      EXPECT_NEAR(pieces, area(blank.duct), 4 * k_chord_error * around);
      // one board takes less of a sheet's length than its pieces one by one
      double one_by_one = 0.0;
      for (const int piece : blank.pieces) one_by_one += patterns[static_cast<std::size_t>(piece)].board.y;
      EXPECT_LT(blank.board.y, one_by_one - 100.0);
      // its lower edge leans as the branch's own saddle does
      double own = 0.0, held = 0.0;
      for (const TiltRow& row : pattern_of(patterns, "branch").tilts)
        own = std::max(own, std::fabs(row.tilt));
      for (const TiltRow& row : blank.tilts)
        if (row.contour == 0) held = std::max(held, std::fabs(row.tilt));
      EXPECT_NEAR(held, own, 1e-9);
    }
}

// Gores on both sides of a taper: a blank of each size, the taper for itself.
TEST(Rules, BlanksBesideATaper) {
  const Fitting fitting = fitting_of(
      "path", {{"diameter", "500mm"},
               {"parts", "bend 45 pieces 3, taper to 400mm over 300mm, bend 60 pieces 4, straight 100mm"},
               {"thickness", "25mm"}});
  const std::vector<Pattern> patterns = make_patterns(fitting);
  EXPECT_EQ(pattern_of(patterns, "blank").pieces, (std::vector<int>{0, 1, 2}));
  EXPECT_EQ(pattern_of(patterns, "blank2").pieces, (std::vector<int>{4, 5, 6, 7}));
  std::size_t singles = 0;
  for (const std::size_t i : patterns_to_cut(patterns, false)) singles += patterns[i].is_blank ? 0 : 1;
  EXPECT_EQ(singles, 1u);
  // no other joint is shared: two tapers, or a taper and a collar
  EXPECT_TRUE(fitting_of("path", {{"diameter", "500mm"},
                                  {"parts", "straight 200mm, taper to 400mm over 300mm, straight 100mm"},
                                  {"thickness", "25mm"}})
                  .blanks.empty());
}

// The mirror trap: a branch off-centre to the left of the body comes out on the left, whichever face is up.
TEST(Rules, OffCentreBranchKeepsItsSide) {
  for (const char* face : {"duct", "air"}) {
    const Fitting fitting = fitting_of("tee", {{"diameter", "600mm"},
                                               {"length", "1200mm"},
                                               {"branch_diameter", "200mm"},
                                               {"branch_length", "500mm"},
                                               {"offset", "150mm"},
                                               {"angle", "60"},
                                               {"thickness", "25mm"},
                                               {"face_up", face}});
    const std::vector<Pattern> patterns = make_patterns(fitting);
    const Pattern& body = pattern_of(patterns, "body");
    const Piece& piece = fitting.pieces[0];
    const Sheet& sheet = fitting.walls[0].sheet;
    const Development development = development_of(fitting, piece);
    double sum_y = 0.0;
    double sum_z = 0.0;
    for (const Vec2 p : body.duct.holes.at(0)) {
      const Vec2 flat = body.placement.flat(p);
      const Sheet::Place place = development.place(flat, piece.seam + k_two_pi * flat.x / body.stretch_out);
      const Vec3 at = sheet.point(place.theta, place.v, 0.0);
      EXPECT_GT(at.x, 0.0) << face;  // the branch stands on the +x side
      sum_y += at.y;
      sum_z += at.z - 600.0;
    }
    EXPECT_GT(sum_y, 0.0) << face;  // off-centre toward +y
    EXPECT_GT(sum_z, 0.0) << face;  // leaning toward the far end
    // on the board the hole lies on opposite sides of the middle for the two faces
    const Box box = bounding_box(body.duct.holes[0]).value();
    const double off = 0.5 * (box.low.x + box.high.x) - 0.5 * body.board.x;
    EXPECT_EQ(off > 0.0, std::string(face) == "duct") << face;
    EXPECT_EQ(body.placement.mirrored, std::string(face) == "air");
  }
}

TEST(Rules, MarksOfBranchAndHoleCarryTheSameNames) {
  const Fitting fitting = fitting_of("tee", {{"diameter", "600mm"},
                                             {"length", "1200mm"},
                                             {"branch_diameter", "300mm"},
                                             {"branch_length", "900mm"},
                                             {"angle", "45"},
                                             {"thickness", "25mm"},
                                             {"branch_seam", "45"}});
  const std::vector<Pattern> patterns = make_patterns(fitting);
  std::vector<std::string> on_branch;
  for (const std::string& name : pattern_of(patterns, "branch").mark_names)
    if (!name.empty()) on_branch.push_back(name);
  ASSERT_EQ(on_branch.size(), 4u);
  const auto& on_body = pattern_of(patterns, "body").mark_names;
  for (const std::string& name : on_branch)
    EXPECT_EQ(std::count(on_body.begin(), on_body.end(), name), 1) << name;
}

// The tilt table's sign: where the air face reaches further out than the duct face, tilt is positive. At the
// heel of an end piece's mitre the air face stops short of the duct face, at the throat it reaches past it.
TEST(Rules, TiltSign) {
  for (const char* face : {"duct", "air"}) {
    const Fitting fitting = fitting_of("elbow", elbow({{"face_up", face}}));
    const Pattern pattern = make_patterns(fitting).front();
    const TiltRow* heel = nullptr;
    const TiltRow* throat = nullptr;
    for (const TiltRow& row : pattern.tilts) {
      if (row.at.y < 1.0) continue;                          // the square end
      if (std::fabs(std::cos(row.heading)) < 0.5) continue;  // along the seams
      if (heel == nullptr || row.at.y > heel->at.y) heel = &row;
      if (throat == nullptr || row.at.y < throat->at.y) throat = &row;
    }
    ASSERT_NE(heel, nullptr);
    EXPECT_NEAR(heel->tilt, -k_mitre, 1e-3) << face;
    EXPECT_NEAR(throat->tilt, k_mitre, 1e-2) << face;
    // outlines run counter-clockwise: along the upper edge the knife heads toward -x
    EXPECT_LT(std::cos(heel->heading), -0.99) << face;
  }
}

TEST(Rules, PlacementGoesThereAndBack) {
  Placement placement{true, 0.7, {3.0, -4.0}};
  const Vec2 p{12.5, -7.25};
  const Vec2 back = placement.flat(placement.board(p));
  EXPECT_NEAR(back.x, p.x, 1e-12);
  EXPECT_NEAR(back.y, p.y, 1e-12);
}

TEST(Rules, FastenersAreMarkedOnLargeDuctsOnly) {
  const auto marks = [](const char* diameter) {
    return make_patterns(
               fitting_of("straight", {{"diameter", diameter}, {"length", "48in"}, {"thickness", "1in"}}))
        .front()
        .marks.size();
  };
  EXPECT_EQ(marks("60in"), marks("24in"));
  EXPECT_GT(marks("61in"), marks("60in") + 40);
}

}  // namespace
}  // namespace linerwright
