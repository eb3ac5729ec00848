// The tilt table: what a straight blade does that follows it, in space, and that a damaged table fails.
#include <functional>

#include "linerwright/reroll/rolled_piece.hpp"
#include "support/cases.hpp"
#include "written.hpp"

namespace linerwright {
namespace {

using support::Flags;
using support::Written;

// Where the blade's lower end goes along one contour, on the lower face in space. A straight blade's lower
// end lies t tan(tilt) beside its place, square to the heading; between rows all change evenly. Seams and
// turns on the spot are left out. With `all` also where rows say that something is left.
std::vector<Vec3> lower_way(const Fitting& fitting, const Pattern& pattern, int contour, bool all = false) {
  const RolledPiece rolled(fitting, pattern, 0);
  const double t = fitting.liner.thickness;
  const bool air_up = fitting.liner.face_up == Face::air;
  std::vector<TiltRow> rows;
  for (const TiltRow& row : pattern.tilts)
    if (row.contour == contour) rows.push_back(row);
  std::vector<Vec3> way;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const TiltRow& a = rows[i];
    const TiltRow& b = rows[(i + 1) % rows.size()];
    const bool seam = std::fabs(a.tilt) < 1e-9 && std::fabs(b.tilt) < 1e-9;
    if (distance(a.at, b.at) < 1e-9 || seam || (!all && (a.left > 0.0 || b.left > 0.0))) continue;
    for (int part = 0; part <= 4; ++part) {
      const double share = 0.25 * part;
      const double heading = a.heading + share * std::remainder(b.heading - a.heading, k_two_pi);
      const double tilt = a.tilt + share * (b.tilt - a.tilt);
      const Vec2 end = a.at + share * (b.at - a.at) +
                       t * std::tan(air_up ? -tilt : tilt) * Vec2{std::sin(heading), -std::cos(heading)};
      way.push_back(rolled.space(rolled.place(end), air_up ? 0.0 : t));
    }
  }
  return way;
}

double furthest(const std::vector<Vec3>& from, const std::vector<Vec3>& to) {
  double worst = 0.0;
  for (const Vec3& p : from) {
    double nearest = 1e300;
    for (std::size_t i = 0; i < to.size(); ++i) {
      const Vec3 a = to[i];
      const Vec3 along = to[(i + 1) % to.size()] - a;
      const double square = dot(along, along);
      const double share = square > 0.0 ? std::min(1.0, std::max(0.0, dot(p - a, along) / square)) : 0.0;
      nearest = std::min(nearest, distance(p, a + share * along));
    }
    worst = std::max(worst, nearest);
  }
  return worst;
}

Flags lateral(double body, double branch, double angle, double t, const char* face) {
  return {{"diameter", std::to_string(body)},
          {"branch_diameter", std::to_string(branch)},
          {"angle", std::to_string(angle)},
          {"thickness", std::to_string(t)},
          {"length", std::to_string(8.0 * body)},
          {"branch_length", std::to_string(5.0 * body)},
          {"fit_allowance", "0"},
          {"face_up", face},
          {"cut", "tilt"}};
}

// Both cut by the same blade and put back in space, branch and hole meet on the lower face. A tilt taken from
// pairs on one ruling leaves them 0.46, 1.24, 2.63, 5.15 and 8.47 mm apart at 90, 75, 60, 45 and 30 degrees.
TEST(TiltTable, BranchAndHoleMeetOnTheLowerFace) {
  for (const double angle : support::drawn<double>("angles", {90.0, 75.0, 60.0, 45.0, 30.0, 120.0}))
    for (const char* face : {"duct", "air"}) {
      const Fitting fitting = support::fitting_from("tee", lateral(1200.0, 600.0, angle, 25.0, face));
      const std::vector<Pattern> patterns = make_patterns(fitting);
      const std::vector<Vec3> hole = lower_way(fitting, patterns[0], 1);
      const std::vector<Vec3> branch =
          lower_way(fitting, patterns[1], 0);  // its other end is square: no tilt there
      ASSERT_GT(hole.size(), 400u);
      ASSERT_GT(branch.size(), 200u);
      for (const TiltRow& row : patterns[0].tilts) EXPECT_EQ(row.left, 0.0);
      EXPECT_LT(furthest(branch, hole), 0.1) << angle << " " << face;
      EXPECT_LT(furthest(hole, branch), 0.1) << angle << " " << face;
    }
}

// From a tenth of the body up, 15 to 165 degrees, liners to 100 mm, either face up: rows that say nothing is
// left are proved by the sweep, in rows of the others what they say is the distance, and the lower end never
// runs backwards.
TEST(TiltTable, SaysWhatABladeCannotCut) {
  int limited = 0;
  int made = 0;
  const std::vector<double> liners = support::drawn<double>("liners", {25.0, 6.0, 100.0});
  for (const double share : {0.1, 0.3, 1.0})
    for (const double angle : {15.0, 45.0, 165.0})
      for (const double t : liners)
        for (const char* face : {"duct", "air"}) {
          const double body = 1000.0;
          if (share * body <= 2.0 * t + 2.0) continue;
          Flags flags = lateral(body, share * body, angle, t, face);
          flags["length"] = "12000";
          flags["branch_length"] = "6000";
          const Fitting fitting = support::fitting_from("tee", flags);
          const std::vector<Pattern> patterns = make_patterns(fitting);
          support::Folder folder;
          const std::filesystem::path file = folder.path() / "t.csv";
          std::ofstream(file, std::ios::binary) << tilt_csv(fitting, patterns);
          EXPECT_EQ(support::listed(prove_tilts(fitting, patterns, file)), "")
              << support::written("tee", flags);
          for (const Pattern& pattern : patterns) {
            ++made;
            limited += pattern.not_cut > 0.0 ? 1 : 0;
            for (const TiltRow& row : pattern.tilts) EXPECT_LT(std::fabs(row.tilt), 0.5 * k_pi);
          }
        }
  EXPECT_GT(made, 80 * static_cast<int>(liners.size()) / 3);
  EXPECT_GT(limited, liners.size() == 3 ? 15 : 0);
}

// Branches that touch the side of their body, laid over it, and holes with a butt allowance: sharp but
// rounded corners on one face alone, and lines square to the path that pass the lower contour's end and meet
// its far side, where a blade leant over by 87 degrees went 260 mm away from where its rows said.
TEST(TiltTable, BranchesThatTouchTheBodysSide) {
  const std::vector<std::array<const char*, 9>> all{
      // body, branch, angle, offset, length, branch length, thickness, joint, butt
      {"727.6158", "200.8439", "34.5437", "263.38597", "9004.6", "2581.1", "25", "over", "0.51"},
      {"699.1549", "134.6", "28.414", "-253.13032", "9726.2", "2728.1", "42.245", "over", "0"},
      {"1489.8194", "298.4012", "45", "595.7091", "14562.5", "3997.7", "79.704", "over", "0"},
      {"350.0339", "269.9432", "45", "-39.2342", "4419.4", "1804.6", "100", "over", "2.58"},
      {"465.584", "376.7356", "121.7473", "-44.37979", "4889.9", "1727.1", "30.065", "over", "0.74"},
      {"718.1788", "274.2625", "145.1353", "221.95818", "9106.4", "3038.7", "100", "mitre", "2.54"},
      {"384.149", "231.558", "149.731", "-61.4362", "6089.6", "2109.5", "25", "mitre", "2.54"},
      {"372.471", "95.4308", "156.8701", "-138.38154", "6634.4", "1999", "38.922", "mitre", "0"},
      {"615.8908", "457.7251", "111.4858", "79.08283", "5685.9", "1929.9", "40.945", "mitre", "0"}};
  for (const auto& [body, branch, angle, offset, length, branch_length, t, joint, butt] :
       support::drawn("tees", all))
    for (const char* face : {"duct", "air"}) {
      const Flags flags{
          {"diameter", body},       {"branch_diameter", branch},      {"angle", angle},  {"offset", offset},
          {"length", length},       {"branch_length", branch_length}, {"thickness", t},  {"joint", joint},
          {"butt_allowance", butt}, {"fit_allowance", "0"},           {"face_up", face}, {"cut", "tilt"}};
      const Fitting fitting = support::fitting_from("tee", flags);
      const std::vector<Pattern> patterns = make_patterns(fitting);
      support::Folder folder;
      const std::filesystem::path file = folder.path() / "t.csv";
      std::ofstream(file, std::ios::binary) << tilt_csv(fitting, patterns);
      EXPECT_EQ(support::listed(prove_tilts(fitting, patterns, file)), "") << support::written("tee", flags);
    }
}

// The same branch of 200.8 on 727.6: its own saddle asks for leans up to 72 degrees, and no row leans
// further.
TEST(TiltTable, NoBladeReachesForTheFarSide) {
  const std::vector<Pattern> patterns =
      make_patterns(support::fitting_from("tee", {{"diameter", "727.6158"},
                                                  {"branch_diameter", "200.8439"},
                                                  {"angle", "34.5437"},
                                                  {"offset", "263.38597"},
                                                  {"length", "9004.6"},
                                                  {"branch_length", "2581.1"},
                                                  {"thickness", "25"},
                                                  {"joint", "over"},
                                                  {"fit_allowance", "0"},
                                                  {"cut", "tilt"}}));
  EXPECT_LT(patterns[1].max_tilt, 75.0 / 180.0 * k_pi);
  EXPECT_GT(patterns[1].not_cut, 0.0);
}

// 600 body, 150 branch, 45 degrees, 25 mm, duct face up: at the acute end the duct face's hole bends with a
// radius of some 45 mm, and its air face's hole lies 25 tan(67.5) = 60.4 mm further in: 15 mm remain.
TEST(TiltTable, AnAcuteHoleLeavesWhatItsBendDoesNotLet) {
  const std::vector<Pattern> patterns =
      make_patterns(support::fitting_from("tee", lateral(600.0, 150.0, 45.0, 25.0, "duct")));
  EXPECT_NEAR(patterns[0].not_cut, 15.1, 0.5);
  EXPECT_EQ(make_patterns(support::fitting_from("tee", lateral(600.0, 150.0, 45.0, 25.0, "air")))[0].not_cut,
            0.0);
}

const std::vector<std::pair<std::string, Flags>>& kinds() {
  static const std::vector<std::pair<std::string, Flags>> all{
      {"straight", {{"diameter", "250"}, {"length", "600"}}},
      {"elbow",
       {{"diameter", "315"}, {"angle", "90"}, {"pieces", "5"}, {"collar", "60"}, {"butt_allowance", "2"}}},
      {"reducer",
       {{"diameter", "400"},
        {"to_diameter", "250"},
        {"length", "300"},
        {"collar", "80"},
        {"end_allowance", "5"}}},
      {"reducer",
       {{"diameter", "400"},
        {"to_diameter", "250"},
        {"length", "300"},
        {"offset", "60"},
        {"face_up", "air"},
        {"panels", "3"}}},
      {"reducer",
       {{"diameter", "24in"},
        {"to_diameter", "20in"},
        {"length", "18in"},
        {"pattern", "notched"},
        {"collar", "4in"}}},
      {"tee",
       {{"diameter", "600"},
        {"length", "2000"},
        {"branch_diameter", "300"},
        {"branch_length", "900"},
        {"angle", "60"},
        {"butt_allowance", "3"},
        {"offset", "60"}}},
      {"tee",
       {{"diameter", "500"},
        {"length", "1500"},
        {"branch_diameter", "500"},
        {"branch_length", "700"},
        {"face_up", "air"}}},
      {"tee",
       {{"diameter", "500"},
        {"length", "1500"},
        {"branch_diameter", "200"},
        {"branch_length", "700"},
        {"joint", "over"},
        {"branch_seam", "90"}}},
      {"tee",
       {{"diameter", "500"},
        {"length", "1500"},
        {"branch_diameter", "200"},
        {"branch_base", "280"},
        {"branch_length", "700"},
        {"tilt_sign", "lower_left"},
        {"tilt_zero", "90"},
        {"pivot_height", "120"}}}};
  return all;
}

TEST(TiltTable, OfEveryKindPasses) {
  for (const auto& [kind, flags] : kinds()) {
    const Written written(kind, support::with(flags, {{"thickness", "25"}}));
    const std::vector<CheckResult> results = written.check_tilts();
    EXPECT_EQ(support::listed(results), "") << support::written(kind, flags);
    EXPECT_GE(results.size(), 2u);
  }
}

// A line of the table changed by a function of its cells; the rows of the head are left alone.
std::string changed(const std::string& text, const std::function<void(std::vector<std::string>&)>& change) {
  std::string out;
  bool named = false;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = text.find('\n', at);
    std::string line = text.substr(at, end - at);
    at = end + 1;
    if (line[0] != '#' && named) {
      std::vector<std::string> cells{{}};
      for (const char c : line) {
        if (c == ',')
          cells.emplace_back();
        else
          cells.back() += c;
      }
      change(cells);
      line.clear();
      for (const std::string& cell : cells) line += (line.empty() ? "" : ",") + cell;
      if (cells.empty()) continue;
    }
    named = named || line[0] != '#';
    out += line + "\n";
  }
  return out;
}

TEST(TiltTable, ADamagedTableFails) {
  const Written written("tee", lateral(600.0, 300.0, 60.0, 25.0, "duct"));
  const std::string good = tilt_csv(written.fitting, written.patterns);
  const auto fails = [&](const std::string& text) {
    written.write_text("f-tilt.csv", text);
    return !support::listed(written.check_tilts()).empty();
  };
  ASSERT_FALSE(fails(good));
  int row = 0;
  const auto number = [](const std::string& cell) { return std::stod(cell); };
  // signs, a lean that is a degree off, leans as pairs on rulings give them, a heading, a place, an order,
  // what is left
  EXPECT_TRUE(fails(changed(good, [&](auto& cells) { cells[5] = std::to_string(-number(cells[5])); })));
  EXPECT_TRUE(fails(changed(good, [&](auto& cells) { cells[5] = "0"; })));
  EXPECT_TRUE(fails(changed(good, [&](auto& cells) {
    if (++row == 40) cells[5] = std::to_string(number(cells[5]) + 1.0);
  })));
  EXPECT_TRUE(
      fails(changed(good, [&](auto& cells) { cells[4] = std::to_string(number(cells[4]) + 180.0); })));
  EXPECT_TRUE(fails(changed(good, [&](auto& cells) { cells[2] = std::to_string(number(cells[2]) + 0.5); })));
  EXPECT_TRUE(fails(changed(good, [&](auto& cells) { cells[6] = "5"; })));
  EXPECT_TRUE(fails(changed(good, [&](auto& cells) {
    if (cells[0] == "body" && cells[1] == "1") cells.clear();
  })));
  EXPECT_TRUE(fails(changed(good, [&](auto& cells) { cells[5] = "x"; })));
  EXPECT_TRUE(fails(changed(good, [&](auto& cells) { cells.push_back("1"); })));
  for (const auto& [from, to] : {std::pair<std::string, std::string>{"face_up = duct", "face_up = air"},
                                 {"board_mm = 25", "board_mm = 50"},
                                 {"tilt_sign = air_right", "tilt_sign = lower_left"},
                                 {"tilt_zero_deg = 0.0000", "tilt_zero_deg = 90.0000"},
                                 {"# tilt_limit_deg", "# limit"},
                                 {"x_mm", "x_in"}}) {
    std::string text = good;
    ASSERT_NE(text.find(from), std::string::npos) << from;
    text.replace(text.find(from), from.size(), to);
    EXPECT_TRUE(fails(text)) << from;
  }
  EXPECT_TRUE(fails(good.substr(0, good.size() / 2)));
  EXPECT_TRUE(fails(""));
  std::filesystem::remove(written.file("f-tilt.csv"));
  EXPECT_FALSE(support::listed(written.check_tilts()).empty());
}

// Heads differ in sign, zero and pivot: the same leans in other words. A 45 degree lateral leans by 67.5
// degrees at its acute end, and says so.
TEST(TiltTable, SpeaksTheHeadsLanguage) {
  const Flags flags = lateral(1200.0, 600.0, 45.0, 25.0, "air");
  const Fitting plain = support::fitting_from("tee", flags);
  const Fitting other = support::fitting_from("tee", support::with(flags, {{"tilt_sign", "lower_right"},
                                                                           {"tilt_zero", "90"},
                                                                           {"pivot_height", "100"},
                                                                           {"tilt_limit", "70"}}));
  // with the air face up the lower end lies to the left where the air face reaches to the right
  EXPECT_NEAR(head_reading(knife_head(other), Face::air, 0.3), 0.5 * k_pi - 0.3, 1e-12);
  EXPECT_NEAR(head_reading(knife_head(other), Face::duct, 0.3), 0.5 * k_pi + 0.3, 1e-12);
  EXPECT_EQ(head_reading(knife_head(plain), Face::air, 0.3), 0.3);
  EXPECT_NEAR(tilt_of_reading(knife_head(other), Face::air, 0.5 * k_pi - 0.3), 0.3, 1e-12);
  const std::vector<Pattern> patterns = make_patterns(other);
  EXPECT_NE(tilt_csv(other, patterns)
                .find("to the right of the heading with the duct face up; to the right with the air face up"),
            std::string::npos);
  EXPECT_NE(tilt_csv(plain, patterns)
                .find("to the right of the heading with the duct face up; to the left with the air face up"),
            std::string::npos);
  // what a square cut would leave is said of both
  const auto of_head = [&](const Fitting& fitting) {
    std::vector<std::string> told;
    for (const std::string& warning : tilt_warnings(fitting, patterns))
      if (warning.find("tilting head") != std::string::npos) told.push_back(warning);
    return told;
  };
  EXPECT_TRUE(of_head(other).empty());
  const std::vector<std::string> warnings = of_head(plain);
  ASSERT_EQ(warnings.size(), 1u);
  EXPECT_EQ(
      warnings[0].rfind("a tilting head leans over tilt_limit of 45 degrees: 67.5 degrees on body (at x ", 0),
      0u)
      << warnings[0];
  EXPECT_NE(warnings[0].find("; 67.5 degrees on branch (at x "), std::string::npos) << warnings[0];
}

}  // namespace
}  // namespace linerwright
