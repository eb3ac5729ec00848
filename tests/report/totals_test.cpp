// What a job needs, against sums by hand.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>

#include "fitting/helpers.hpp"
#include "linerwright/report/totals.hpp"
#include "linerwright/units/error.hpp"
#include "support/elliptic.hpp"

using namespace linerwright;

namespace {

TotalsRules steel() {
  return totals_rules(nullptr);
}

TotalsRow row_of(const Fitting& fitting, const TotalsRules& rules = steel()) {
  return totals_row(fitting, make_patterns(fitting), rules);
}

const Flags k_straight{{"diameter", "600mm"}, {"length", "1000mm"}, {"thickness", "25mm"},
                       {"gauge", "0.8mm"},    {"density", "48"},    {"fit_allowance", "19mm"}};
const Flags k_elbow{
    {"diameter", "600mm"}, {"angle", "90"}, {"pieces", "5"}, {"radius_ratio", "1.5"}, {"thickness", "25mm"}};

std::filesystem::path written_file(const std::string& name, const std::string& text) {
  const std::filesystem::path path = std::filesystem::path(testing::TempDir()) / name;
  std::ofstream(path, std::ios::binary) << text;
  return path;
}

std::string refusal_of(const std::filesystem::path& file) {
  try {
    totals_from_json(file);
  } catch (const InputError& error) {
    return error.what();
  }
  return "(read)";
}

}  // namespace

TEST(Totals, StraightByHand) {
  const TotalsFigures each = row_of(fitting_from("straight", k_straight)).each;
  EXPECT_EQ(each.pieces, 1.0);
  EXPECT_NEAR(each.board_area, (k_pi * 600 - 19) * 1000, 1.0);
  EXPECT_NEAR(each.liner_area, k_pi * 600 * 1000, 0.01);
  // pi t (D - t) L, 48 kg/m3
  EXPECT_NEAR(each.liner_mass, k_pi * 25 * 575 * 1000 * 48e-9, 1e-6);
  EXPECT_NEAR(each.tape, 1000.0, 1e-6);
  EXPECT_EQ(each.sealant, 0.0);
  EXPECT_EQ(each.fasteners, 0.0);
  EXPECT_NEAR(each.metal_area, k_pi * 600 * 1000, 0.01);
  // pi g (D + g) L, steel 7850 kg/m3 (handbook value, from memory)
  EXPECT_NEAR(each.metal_mass, k_pi * 0.8 * 600.8 * 1000 * 7850e-9, 1e-5);
  EXPECT_EQ(each.spared_area, 0.0);
}

// The seam of a gore is 2 (rho -+ r) tan(alpha) long in the throat or on the heel, of an end piece half that;
// a mitre is an ellipse with half axes r and r / cos(alpha).
TEST(Totals, ElbowByHand) {
  const double rho = 900, r = 275, alpha = k_pi / 16;
  const TotalsFigures each = row_of(fitting_from("elbow", k_elbow)).each;
  EXPECT_EQ(each.pieces, 5.0);
  const double throat = (rho - r) * std::tan(alpha), heel = (rho + r) * std::tan(alpha);
  EXPECT_NEAR(each.tape, throat + 2 * heel + 2 * throat + 2 * heel + throat, 1e-4);
  const double a = r / std::cos(alpha);
  EXPECT_NEAR(each.sealant, 4 * 4 * a * support::elliptic_e(std::sin(alpha)), 1e-3);
  // by Guldin: the wall's area is girth times centre line of the mitred axis, 8 rho tan(alpha)
  EXPECT_NEAR(each.metal_area, k_pi * 600 * 8 * rho * std::tan(alpha), 1.0);
}

TEST(Totals, PressedBendCountsItsOwnMetal) {
  const Fitting fitting = fitting_from("elbow", with(k_elbow, {{"form", "smooth"}, {"gauge", "0.8mm"}}));
  const TotalsFigures each = row_of(fitting).each;
  // Pappus: girth of the section times the way of its centre
  const double path = 900 * k_pi / 2;
  EXPECT_NEAR(each.metal_area, k_pi * 600 * path, 0.01);
  EXPECT_NEAR(each.metal_mass, k_pi * 0.8 * 600.8 * path * 7850e-9, 1e-6);
  EXPECT_LT(each.liner_area, each.metal_area);
}

// A notched taper is taped along its seam and along every notch, and it needs no sealant where it only bends.
TEST(Totals, NotchedTaperIsTapedAlongItsNotches) {
  const Flags taper{{"diameter", "600mm"}, {"to_diameter", "500mm"}, {"length", "400mm"},
                    {"collar", "100mm"},   {"to_collar", "100mm"},   {"thickness", "25mm"}};
  const TotalsRow sector = row_of(fitting_from("reducer", taper));
  const Fitting fitting = fitting_from("reducer", with(taper, {{"pattern", "notched"}}));
  const TotalsRow notched = row_of(fitting);
  const auto notches = static_cast<double>(notches_of(fitting, fitting.notched.at(0)).size());
  ASSERT_GT(notches, 2.0);
  // A notch runs from the bend line to the small end's edge on the air face. That is the metal's generator
  // and what the corner moves at depth t where a taper of half angle phi meets its collar, t tan(phi / 2).
  const double reach = std::hypot(400.0, 50.0) + 25.0 * std::tan(0.5 * std::atan2(50.0, 400.0));
  EXPECT_NEAR(notched.each.tape - sector.each.tape, notches * reach, 1e-3);
  // the joint at the large end, a circle on the air face
  EXPECT_NEAR(sector.each.sealant - notched.each.sealant, k_pi * 550.0, 0.5);
}

TEST(Totals, FastenersFollowTheSpacing) {
  const Flags large = with(k_straight, {{"diameter", "1800mm"}, {"length", "1200mm"}});
  // Girth 3.14159 x 1800 - 19 = 5635.9; less 2 x 76.2: 5483.5 / 304.8 = 17.99, so 19 columns. Along: 1047.6 /
  // 457.2 = 2.3, so 4 rows.
  EXPECT_EQ(row_of(fitting_from("straight", large)).each.fasteners, 19 * 4);
  EXPECT_EQ(row_of(fitting_from("straight", with(large, {{"pin_around", "24in"}}))).each.fasteners, 10 * 4);
  EXPECT_EQ(row_of(fitting_from("straight", with(large, {{"pin_along", "42in"}}))).each.fasteners, 19 * 2);
  EXPECT_EQ(row_of(fitting_from("straight", with(large, {{"pins_above", "1800mm"}}))).each.fasteners, 0);
  // one cross of two strokes of 10 mm on the pattern for each
  const Fitting fitting = fitting_from("straight", large);
  const Pattern pattern = make_patterns(fitting).at(0);
  const auto strokes = std::count_if(pattern.marks.begin(), pattern.marks.end(), [](const auto& line) {
    return line.size() == 2 && std::fabs(distance(line[0], line[1]) - 10.0) < 1e-9;
  });
  EXPECT_EQ(strokes, 2 * 19 * 4);
}

TEST(Totals, MetalSparedBesideDoubleWall) {
  TotalsRules rules = steel();
  rules.inner_gauge = 0.6;
  rules.inner_open = 0.25;
  const TotalsFigures each = row_of(fitting_from("straight", k_straight), rules).each;
  EXPECT_NEAR(each.spared_area, k_pi * 550 * 1000, 0.01);
  EXPECT_NEAR(each.spared_mass, k_pi * 550 * 1000 * 0.6 * 0.75 * 7850e-9, 1e-5);
}

TEST(Totals, SharesOfAJobAddUpToTheWholeExactly) {
  JobTotals whole;
  whole.job = "Shares";
  whole.units = Units::inch;
  whole.rules = steel();
  for (int i = 0; i < 40; ++i) {
    Fitting fitting = i % 2 == 0
                          ? fitting_from("straight", with(k_straight, {{"length", mm(300.1 + 17.7 * i)}}))
                          : fitting_from("elbow", with(k_elbow, {{"diameter", mm(310.3 + 11.9 * i)}}));
    fitting.count = 1 + i % 7;
    whole.rows.push_back(row_of(fitting));
  }
  JobTotals merged = whole;
  merged.rows.clear();
  for (int shard = 3; shard-- > 0;) {
    JobTotals share = whole;
    share.rows.clear();
    for (std::size_t i = static_cast<std::size_t>(shard); i < whole.rows.size(); i += 3)
      share.rows.push_back(whole.rows[i]);
    const JobTotals read = totals_from_json(written_file("share.json", totals_json(share)));
    merged.rows.insert(merged.rows.end(), read.rows.begin(), read.rows.end());
  }
  ASSERT_EQ(merged.rows.size(), whole.rows.size());
  const TotalsFigures a = sum_of(whole.rows), b = sum_of(merged.rows);
  for (const TotalsFigure& figure : totals_figures())
    EXPECT_EQ(a.*figure.value, b.*figure.value) << figure.key;
  // and against a plain sum
  double tape = 0.0;
  for (const TotalsRow& row : whole.rows) tape += static_cast<double>(row.count) * row.each.tape;
  EXPECT_NEAR(a.tape, tape, 1e-5);
}

TEST(Totals, JsonReadsBackAsItWas) {
  JobTotals totals;
  totals.job = "Two \"words\"";
  totals.rules = {7800.0, 0.7, 0.2};
  totals.rows = {row_of(fitting_from("elbow", k_elbow), totals.rules)};
  totals.rows[0].tag = "=1+1";
  totals.stock = {{"1220 x 3000", 3, 3 * 3.66e6, 8.5e6, 123456.789, 98.25, 30.5},
                  {"roll", 1, 2e6, 1.5e6, 4000.0, 10.0, std::nullopt}};
  totals.left_out = 2;
  const std::string text = totals_json(totals);
  const JobTotals read = totals_from_json(written_file("totals.json", text));
  EXPECT_EQ(totals_json(read), text);
  EXPECT_EQ(sum_of(read.stock).boards, 4);
  EXPECT_DOUBLE_EQ(sum_of(read.stock).yield(), 10.0e6 / (3 * 3.66e6 + 2e6));
  EXPECT_FALSE(sum_of(read.stock).cost);
  // cells that a spreadsheet would run are defused
  EXPECT_NE(totals_csv(read).find("\n'=1+1,elbow,1,5,"), std::string::npos) << totals_csv(read);
  EXPECT_NE(totals_table(read).find("without 2 fittings that could not be made"), std::string::npos);
}

TEST(Totals, OtherFilesAreRefused) {
  const std::string no_file = refusal_of(std::filesystem::path(testing::TempDir()) / "none.json");
  EXPECT_NE(no_file.find("cannot be read"), std::string::npos) << no_file;
  for (const char* text : {"", "[", "[1]", "{}", "{\"format\": 2}", "{\"format\": 1, \"job\": 3}"}) {
    const std::string why = refusal_of(written_file("other.json", text));
    EXPECT_NE(why.find("other.json"), std::string::npos) << text << ": " << why;
  }
}
