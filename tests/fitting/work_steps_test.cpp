// What the steps say is so: letters meet in space, lengths are those of the closed forms, and pieces go where
// they fit through.
#include <gtest/gtest.h>

#include <map>

#include "helpers.hpp"
#include "linerwright/fitting/shop_words.hpp"
#include "support/elliptic.hpp"

namespace linerwright {
namespace {

const Flags k_elbow{{"diameter", "600"}, {"angle", "90"}, {"pieces", "5"}, {"thickness", "25"}};

const Piece& named(const Fitting& fitting, const std::string& id) {
  for (const Piece& piece : fitting.pieces)
    if (piece.id == id) return piece;
  throw std::out_of_range("no piece " + id);
}

std::string all_of(const std::vector<std::string>& lines) {
  std::string all;
  for (const std::string& line : lines) all += line + '\n';
  return all;
}

std::vector<std::string> marks_of(const Fitting& fitting, const std::string& id) {
  std::vector<std::string> names;
  for (const MeetMark& mark : named(fitting, id).meets) names.push_back(mark.name);
  return names;
}

TEST(WorkSteps, every_mitre_has_letters_at_heel_and_throat_on_both_neighbours) {
  const Fitting elbow = fitting_from("elbow", k_elbow);
  using Names = std::vector<std::string>;
  EXPECT_EQ(marks_of(elbow, "1"), (Names{"A throat", "A heel"}));
  // the seams of 2 and 4 are the heel: they carry its letters all the same
  EXPECT_EQ(named(elbow, "2").seam_place, "heel");
  EXPECT_EQ(marks_of(elbow, "2"), (Names{"A throat", "A heel", "B throat", "B heel"}));
  EXPECT_EQ(marks_of(elbow, "5"), (Names{"D throat", "D heel"}));
}

// The same name on two pieces: the same place of the duct.
TEST(WorkSteps, marks_of_one_name_lie_in_one_place) {
  std::size_t pairs = 0;
  const std::vector<std::pair<std::string, Flags>> kinds{
      {"elbow", k_elbow},
      {"offset",
       {{"diameter", "400"}, {"offset", "500"}, {"length", "1800"}, {"pieces", "3"}, {"thickness", "25"}}},
      {"path",
       {{"diameter", "300"},
        {"parts", "straight 200mm, bend 45, straight 500mm, bend 60 turn 90, straight 100mm"},
        {"thickness", "25"}}},
      {"reducer",
       {{"diameter", "600"},
        {"to_diameter", "450"},
        {"length", "400"},
        {"collar", "100"},
        {"to_collar", "80"},
        {"offset", "75"},
        {"thickness", "25"}}},
      {"tee",
       {{"diameter", "600"},
        {"length", "2400"},
        {"branch_diameter", "300"},
        {"branch_length", "700"},
        {"thickness", "25"},
        {"board_width", "1220"}}}};
  for (const auto& [kind, flags] : kinds) {
    const Fitting fitting = fitting_from(kind, flags);
    std::map<std::string, Vec3> seen;
    for (const Piece& piece : fitting.pieces)
      for (const MeetMark& mark : piece.meets) {
        const Vec3 at = fitting.wall_of(piece).sheet.point(
            mark.theta, liner_end(fitting, piece.wall, mark.end, mark.theta, 0.0), 0.0);
        const auto [place, fresh] = seen.emplace(mark.name, at);
        if (fresh) continue;
        EXPECT_LT(distance(place->second, at), 1e-3) << kind << ' ' << mark.name;
        ++pairs;
      }
    EXPECT_FALSE(seen.empty()) << kind;
  }
  EXPECT_GT(pairs, 20U);
}

// Radius 300, centreline radius 900, mitre angle 90 / 8 = 11.25 degrees: an end piece is (900 -/+ 300)
// tan 11.25 long at throat and heel, and three of them lie between the middle piece and an end.
TEST(WorkSteps, lengths_of_an_elbow_are_its_closed_forms) {
  const Fitting elbow = fitting_from("elbow", k_elbow);
  const std::string steps = all_of(elbow.steps);
  const double t = std::tan(11.25 / 180.0 * k_pi);
  const double throat = 600.0 * t;
  const double heel = 1200.0 * t;
  EXPECT_TRUE(has(
      steps, trimmed(throat, 1) + " mm at the mark throat and " + trimmed(heel, 1) + " mm at the mark heel"))
      << steps;
  EXPECT_TRUE(has(steps, trimmed(3.0 * throat, 1) + " mm at the throat and " + trimmed(3.0 * heel, 1) +
                             " mm at the heel"))
      << steps;
  // a mitre on the air face: an ellipse of half axes 275 and 275 / cos 11.25, perimeter 4 a E(e)
  const double a = 275.0 / std::cos(11.25 / 180.0 * k_pi);
  const double mitre = 4.0 * a * support::elliptic_e(std::sin(11.25 / 180.0 * k_pi));
  EXPECT_TRUE(has(steps, "A " + trimmed(mitre, 1) + " mm, B")) << steps;
  EXPECT_TRUE(has(steps, trimmed(4.0 * mitre, 1) + " mm in all")) << steps;
}

TEST(WorkSteps, pieces_go_in_where_no_metal_is_narrower) {
  const Fitting reducer = fitting_from("reducer", {{"diameter", "600"},
                                                   {"to_diameter", "450"},
                                                   {"length", "400"},
                                                   {"collar", "100"},
                                                   {"to_collar", "80"},
                                                   {"thickness", "25"}});
  ASSERT_EQ(reducer.insertion, (std::vector<int>{2, 1, 0}));
  EXPECT_EQ(ways_in(reducer, reducer.pieces[2], {}).size(), 2U) << "the small collar fits through both ends";
  const std::vector<WayIn> taper = ways_in(reducer, reducer.pieces[1], {2});
  ASSERT_EQ(taper.size(), 1U);
  EXPECT_EQ(taper[0].from, "the first end");
  EXPECT_TRUE(ways_in(reducer, reducer.pieces[1], {0}).empty())
      << "the large collar's liner stands in the way";
  EXPECT_TRUE(has(all_of(reducer.steps), "Taper: slide it in, from the first end")) << all_of(reducer.steps);
}

// A path that narrows takes its pieces from its wide end: the narrow ones first.
TEST(WorkSteps, a_narrowing_path_is_lined_from_its_wide_end) {
  const Fitting path = fitting_from(
      "path",
      {{"diameter", "600"},
       {"parts", "straight 300mm, bend 45, straight 400mm, taper to 450mm over 500mm, straight 200mm"},
       {"thickness", "25"}});
  std::vector<int> before;
  for (const int piece : path.insertion) {
    EXPECT_FALSE(ways_in(path, path.pieces[static_cast<std::size_t>(piece)], before).empty()) << piece;
    before.push_back(piece);
  }
  EXPECT_TRUE(path.warnings.empty()) << all_of(path.warnings);
}

// Wide between two narrow ends: nothing reaches the middle, and that is told.
TEST(WorkSteps, a_piece_that_no_opening_lets_in_is_told) {
  const Flags bulge{{"diameter", "450"},
                    {"parts",
                     "straight 200mm, taper to 600mm over 500mm, straight 300mm, taper to 450mm over 500mm, "
                     "straight 200mm"},
                    {"thickness", "25"}};
  const std::string told = all_of(fitting_from("path", bulge).warnings);
  EXPECT_TRUE(has(told, "piece 3 is wider than every way to its place: it goes in folded")) << told;
  EXPECT_TRUE(has(told, "a taper is not folded")) << told;
  // a ring under the diameter from which rings are folded is none that is folded in
  const std::string small = all_of(fitting_from("path", with(bulge, {{"fold_above", "700"}})).warnings);
  EXPECT_TRUE(has(small, "a ring of 700 mm or less is not folded")) << small;
}

TEST(WorkSteps, nothing_is_said_of_folding_unless_asked) {
  EXPECT_FALSE(has(all_of(fitting_from("elbow", k_elbow).steps), "fold"));
  const std::string folded = all_of(fitting_from("elbow", with(k_elbow, {{"fold_above", "500"}})).steps);
  EXPECT_TRUE(has(folded,
                  "To push pieces 1, 2, 3, 4 and 5 in, fold the ring inward a quarter turn from its seam, "
                  "never at the seam"))
      << folded;
  const std::string stiff = all_of(fitting_from("elbow", with(k_elbow, {{"fold_above", "600"}})).steps);
  EXPECT_TRUE(has(stiff, "Pieces 1, 2, 3, 4 and 5 slide in unfolded")) << stiff;
}

// An elbow with tables of what is folded, as a job file gives them.
Fitting folding(const char* thickness, const std::vector<double>& up_to, const std::vector<double>& above) {
  FittingRequest request = support::request_from("elbow", with(k_elbow, {{"thickness", thickness}}));
  const auto give = [&](const char* key, const std::vector<double>& values) {
    if (values.empty()) return;
    Value value;
    value.given = true;
    if (values.size() == 1)
      value.data = values.front();
    else
      value.data = values;
    request.values.set(key, value);
  };
  give("fold_thickness", up_to);
  give("fold_above", above);
  return make_fitting(request);
}

// A thin board folds at a smaller diameter than a thick one: the diameter is that of the least thickness in
// the table which the board does not exceed; a thicker board than any has none.
TEST(WorkSteps, folding_goes_by_the_boards_thickness) {
  const auto of = [](const char* thickness) {
    return all_of(folding(thickness, {13.0, 25.0, 50.0}, {300.0, 500.0, 700.0}).steps);
  };
  EXPECT_TRUE(has(of("13"), "fold the ring inward"));
  EXPECT_TRUE(has(of("25"), "fold the ring inward"));
  EXPECT_TRUE(has(of("26"), "slide in unfolded")) << of("26");
  EXPECT_TRUE(has(of("50"), "slide in unfolded"));
  EXPECT_FALSE(has(of("51"), "fold"));
}

TEST(WorkSteps, a_table_of_folding_that_does_not_fit_together_is_refused) {
  const auto refused = [](const std::vector<double>& up_to, const std::vector<double>& above) {
    try {
      folding("25", up_to, above);
      return std::string("made");
    } catch (const InputError& error) {
      return std::string(error.what());
    }
  };
  EXPECT_TRUE(has(refused({}, {300.0, 500.0}), "fold_thickness with as many values"));
  EXPECT_TRUE(has(refused({25.0}, {}), "left out without fold_above"));
  EXPECT_TRUE(has(refused({25.0}, {300.0, 500.0}), "2 values"));
  EXPECT_TRUE(has(refused({25.0, 13.0}, {300.0, 500.0}), "thicker than the one before"));
  EXPECT_EQ(refused({13.0, 25.0}, {300.0, 500.0}), "made");
}

TEST(WorkSteps, notches_are_closed_from_the_middle_outward_and_the_trim_is_named) {
  const Flags notched{{"diameter", "600"},    {"to_diameter", "500"}, {"length", "450"}, {"collar", "100"},
                      {"pattern", "notched"}, {"notches", "8"},       {"trim", "50"},    {"thickness", "25"}};
  const std::string steps = all_of(fitting_from("reducer", notched).steps);
  EXPECT_TRUE(has(steps, "taper and large collar (collar) are one board")) << steps;
  EXPECT_TRUE(has(steps, "Close its 8 notches from the middle of the board outward")) << steps;
  EXPECT_TRUE(has(steps, "50 mm of extra board")) << steps;
  // taper and collar meet at a bend: nothing is sealed there
  EXPECT_FALSE(has(steps, "Seal")) << steps;
}

// The body's rings stand before the branch, and sealing comes last.
TEST(WorkSteps, rings_of_a_body_go_in_before_its_branch) {
  const Fitting tee = fitting_from("tee", {{"diameter", "600"},
                                           {"length", "2400"},
                                           {"branch_diameter", "300"},
                                           {"branch_length", "700"},
                                           {"thickness", "25"},
                                           {"board_width", "1220"}});
  const std::string steps = all_of(tee.steps);
  const std::size_t ring = steps.find("Body upper (bodyc)");
  ASSERT_NE(ring, std::string::npos) << steps;
  const std::size_t branch = steps.find("Branch: slide it in, from the branch's end");
  ASSERT_NE(branch, std::string::npos) << steps;
  EXPECT_LT(ring, branch);
  EXPECT_LT(branch, steps.find("Seal the joints"));
  EXPECT_TRUE(has(steps, "E ")) << "letters A to D are the saddle's";
}

TEST(WorkSteps, names_are_the_trades) {
  const Fitting panels = fitting_from("straight", {{"diameter", "1500"},
                                                   {"length", "2000"},
                                                   {"thickness", "25"},
                                                   {"board_width", "1220"},
                                                   {"board_length", "3050"}});
  EXPECT_EQ(piece_name(panels, named(panels, "1ap1")), "straight length lower, panel 1 of 2");
  const Fitting layers = fitting_from(
      "straight", {{"diameter", "600"}, {"length", "900"}, {"thickness", "25"}, {"second_layer", "25"}});
  EXPECT_EQ(piece_name(layers, named(layers, "i1")), "inner straight length");
  EXPECT_EQ(piece_title(layers, named(layers, "1")), "piece 1");
}

// A tap is lined before it stands on its duct, whose hole is cut by templates; what is said follows from it.
TEST(WorkSteps, a_tap_is_lined_before_it_is_set_on_its_duct) {
  const Flags tap{
      {"diameter", "600"}, {"branch_diameter", "250"}, {"branch_length", "700"}, {"thickness", "25"}};
  const Fitting plain = fitting_from("tap", tap);
  const std::string steps = all_of(plain.steps);
  EXPECT_TRUE(has(steps, "a slope all around")) << steps;
  EXPECT_TRUE(
      has(steps,
          "Branch: slide it in, from the far end or its saddle, until it stands flush with the metal at "
          "the far end"))
      << steps;
  double sealed = 0.0;
  for (const Fact& fact : plain.facts)
    if (fact.key == "sealant_length") sealed = fact.value;
  EXPECT_TRUE(has(steps, "all along: " + trimmed(sealed, 1) + " mm")) << steps;
  EXPECT_TRUE(has(all_of(fitting_from("tap", with(tap, {{"hold_back_end", "40"}})).steps),
                  "until it stands 40 mm short of the metal at the far end"));
  EXPECT_TRUE(
      has(all_of(fitting_from("tap", with(tap, {{"joint", "over"}})).steps), "as wide as the branch's bore"));
  EXPECT_TRUE(has(all_of(fitting_from("tap", with(tap, {{"joint", "through"}})).steps),
                  "as wide as the branch's metal"));
  // wider where it stands on the duct: it goes in from there, and nobody is warned
  const Fitting wide = fitting_from("tap", with(tap, {{"branch_base", "350"}}));
  EXPECT_TRUE(has(all_of(wide.steps), "slide it in, from its saddle, until")) << all_of(wide.steps);
  EXPECT_FALSE(has(all_of(wide.warnings), "wider than every way")) << all_of(wide.warnings);
}

TEST(WorkSteps, area_under_the_threshold_is_told) {
  // 300 mm lined with 25: (250 / 300)^2 = 69.4 %
  const Flags narrow{{"diameter", "300"}, {"length", "900"}, {"thickness", "25"}};
  EXPECT_TRUE(fitting_from("straight", narrow).warnings.empty());
  EXPECT_TRUE(fitting_from("straight", with(narrow, {{"least_open_area", "0.69"}})).warnings.empty());
  EXPECT_EQ(all_of(fitting_from("straight", with(narrow, {{"least_open_area", "0.7"}})).warnings),
            "through: the liner leaves 69.4 % of the area open, under least_open_area of 70 %\n");
}

}  // namespace
}  // namespace linerwright
