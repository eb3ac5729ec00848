// The installer's sheet: every line of it follows from what was asked for, and its letters can be read.
#include <gtest/gtest.h>

#include <set>

#include "linerwright/page_text.hpp"
#include "linerwright/shop_sheet.hpp"
#include "linerwright/tilt_table.hpp"
#include "support/requests.hpp"

namespace linerwright {
namespace {

using support::fitting_from;
using support::Flags;
using support::with;

ShopSheet sheet_of(const std::string& kind, const Flags& flags) {
  const Fitting fitting = fitting_from(kind, flags);
  const std::vector<Pattern> patterns = make_patterns(fitting);
  std::vector<std::string> warnings = fitting.warnings;
  for (std::string& warning : tilt_warnings(fitting, patterns)) warnings.push_back(std::move(warning));
  return shop_sheet(fitting, patterns, warnings, {"Job", "2026-11-29", "1", {}});
}

std::string joined(const std::vector<std::string>& lines) {
  std::string all;
  for (const std::string& line : lines) all += line + '\n';
  return all;
}

std::string words_of(const ShopDrawing& drawing) {
  std::string all = drawing.title + '\n' + drawing.note + '\n';
  for (const ShopText& text : drawing.texts) all += text.text + '\n';
  return all;
}

// A part of the sheet by its name: a heading, a question, "view", "knife" or "patterns".
std::string part(const ShopSheet& sheet, const std::string& name) {
  std::string all;
  for (const auto& [question, answer] : sheet.answers)
    if (question == name) return answer;
  for (const auto& [figure, value] : sheet.figures)
    if (figure == name) return value;
  if (name == "sizes") return sheet.sizes;
  if (name == "steps") return joined(sheet.fitting);
  if (name == "cutting") return joined(sheet.cutting);
  if (name == "warnings") return joined(sheet.warnings);
  if (name == "view") return words_of(sheet.view);
  if (name == "table")
    for (const auto& row : sheet.pieces.rows) all += joined(row);
  if (name == "knife")
    for (const ShopDrawing& drawing : sheet.sections) all += words_of(drawing);
  if (name == "patterns")
    for (const ShopDrawing& drawing : sheet.patterns) all += words_of(drawing);
  return all;
}

const Flags k_elbow{{"diameter", "600"}, {"angle", "90"}, {"pieces", "5"}, {"thickness", "25"}};
const Flags k_tee{{"diameter", "600"},      {"length", "1500"}, {"branch_diameter", "300"},
                  {"branch_length", "800"}, {"angle", "60"},    {"thickness", "25"}};
const Flags k_reducer{{"diameter", "600"}, {"to_diameter", "500"}, {"length", "450"},
                      {"collar", "100"},   {"to_collar", "80"},    {"thickness", "25"}};
const Flags k_notched = with(k_reducer, {{"pattern", "notched"}, {"notches", "8"}, {"trim", "50"}});
const Flags k_straight{{"diameter", "600"}, {"length", "900"}, {"thickness", "25"}};
const Flags k_wye{{"diameter", "600"},   {"inlet_length", "500"}, {"leg_diameter", "450"},
                  {"leg_length", "900"}, {"angle", "40"},         {"thickness", "25"}};

struct Case {
  const char* kind;
  Flags flags;
  const char* key;
  const char* value;
  std::vector<const char*> parts;  // all that must change
};

const Flags k_layers = with(k_elbow, {{"second_layer", "25"}});
const Flags k_rolling{{"diameter", "400"}, {"rise", "400"}, {"roll", "300"},
                      {"length", "1800"},  {"pieces", "3"}, {"thickness", "25"}};

const std::vector<Case>& cases() {
  static const std::vector<Case> all{
      {"elbow",
       k_elbow,
       "diameter",
       "500",
       {"sizes", "bore", "steps", "table", "patterns", "view", "Which end is first", "Where sealant goes",
        "Where tape goes"}},
      {"elbow",
       k_elbow,
       "angle",
       "60",
       {"sizes", "steps", "table", "patterns", "Angles and sizes", "How the knife leans", "knife",
        "After a square cut"}},
      {"elbow",
       k_elbow,
       "pieces",
       "4",
       {"sizes", "steps", "table", "patterns", "view", "Angles and sizes", "knife"}},
      {"elbow",
       k_elbow,
       "thickness",
       "40",
       {"liner", "bore", "knife", "Where sealant goes", "After a square cut", "table"}},
      {"elbow", k_elbow, "radius_ratio", "1.2", {"sizes", "steps", "table", "patterns", "Angles and sizes"}},
      {"elbow", k_elbow, "collar", "60", {"sizes", "steps", "table", "patterns", "Where tape goes"}},
      {"elbow", k_elbow, "seam", "heel", {"sizes", "steps", "table", "patterns"}},
      {"elbow", k_elbow, "face_up", "air", {"liner", "cutting", "knife", "patterns"}},
      {"elbow", k_elbow, "cut", "duct", {"After a square cut", "patterns"}},
      {"elbow", k_elbow, "flow_arrow", "against", {"Which way the air goes"}},
      {"tee", k_tee, "flow_arrow", "to_branch", {"Which way the air goes"}},
      {"elbow", k_elbow, "fold_above", "500", {"steps"}},
      {"elbow", with(k_elbow, {{"fold_above", "500"}}), "fold_thickness", "13", {"steps"}},
      {"elbow", k_elbow, "density", "60", {"table"}},
      {"elbow", k_elbow, "pins_above", "500", {"steps", "Fasteners", "warnings"}},
      {"elbow",
       k_elbow,
       "second_layer",
       "25",
       {"layer 2", "bore", "steps", "Which face is out", "Where sealant goes"}},
      {"elbow", k_elbow, "end_allowance", "20", {"steps", "table"}},
      {"elbow", k_elbow, "least_open_area", "0.9", {"warnings"}},
      {"straight", k_straight, "hold_back_start", "50", {"steps", "table"}},
      {"straight", k_straight, "duct_lengths", "900", {"sizes"}},
      {"straight", k_straight, "board_width", "500", {"steps", "table", "patterns", "view"}},
      {"straight", k_straight, "fit_allowance", "30", {"table", "patterns"}},
      {"reducer",
       k_reducer,
       "to_diameter",
       "480",
       {"sizes", "bore", "table", "patterns", "Angles and sizes"}},
      {"reducer", k_reducer, "length", "290", {"sizes", "table", "warnings"}},
      {"reducer", k_reducer, "offset", "50", {"sizes", "table", "patterns", "steps"}},
      {"reducer", k_reducer, "to_collar", "60", {"sizes", "table", "patterns"}},
      {"reducer", k_notched, "notches", "10", {"sizes", "steps", "patterns"}},
      {"reducer", k_notched, "trim", "70", {"sizes", "steps", "table"}},
      {"reducer",
       k_reducer,
       "pattern",
       "notched",
       {"sizes", "steps", "table", "patterns", "Where tape goes"}},
      {"tee",
       k_tee,
       "angle",
       "45",
       {"sizes", "warnings", "table", "knife", "How the knife leans", "After a square cut"}},
      {"tee",
       k_tee,
       "branch_diameter",
       "350",
       {"sizes", "branch", "table", "patterns", "view", "Where sealant goes"}},
      {"tee", k_tee, "branch_length", "850", {"sizes", "table", "patterns", "Where tape goes"}},
      {"tee", k_tee, "position", "700", {"sizes", "patterns"}},
      {"tee", k_tee, "joint", "over", {"table", "After a square cut"}},
      {"wye", k_wye, "leg_diameter", "400", {"sizes", "leg1", "table", "patterns", "view"}},
      {"wye", k_wye, "leg_length", "950", {"sizes", "table", "patterns"}},
      {"wye", k_wye, "inlet_length", "550", {"sizes", "table", "patterns"}},
      {"elbow", k_elbow, "centreline_radius", "700", {"sizes", "steps", "table", "Angles and sizes"}},
      {"elbow", k_elbow, "hold_back_end", "40", {"sizes", "steps", "table"}},
      {"elbow", k_elbow, "form", "smooth", {"sizes"}},
      {"elbow", with(k_elbow, {{"form", "smooth"}}), "gap_limit", "2", {"sizes"}},
      {"elbow", k_elbow, "butt_allowance", "5", {"table"}},
      {"elbow", k_elbow, "neutral_factor", "0.3", {"table", "patterns"}},
      {"elbow", k_elbow, "note", "south stair", {"note"}},
      {"elbow", k_elbow, "size_is", "clear", {"bore", "table", "view", "steps"}},
      {"elbow", k_elbow, "stations", "16", {"patterns"}},
      {"elbow", with(k_elbow, {{"pins_above", "500"}}), "pin_edge", "90", {"steps"}},
      {"elbow", with(k_elbow, {{"pins_above", "500"}}), "pin_around", "200", {"steps"}},
      {"elbow", with(k_elbow, {{"pins_above", "500"}}), "pin_along", "200", {"steps"}},
      {"elbow", k_layers, "second_seam", "90", {"table"}},
      {"elbow", k_layers, "second_fit_allowance", "30", {"table"}},
      {"elbow", k_layers, "second_end_allowance", "15", {"steps", "table"}},
      {"elbow", k_layers, "second_butt_allowance", "4", {"table"}},
      {"elbow", k_layers, "second_neutral_factor", "0.4", {"table"}},
      {"elbow", k_layers, "second_face_up", "inner", {"layer 2", "cutting"}},
      {"elbow", k_layers, "second_density", "90", {"table"}},
      {"straight",
       with(k_straight, {{"second_layer", "25"}}),
       "second_board_width",
       "500",
       {"table", "patterns"}},
      {"straight",
       with(k_straight, {{"second_layer", "25"}}),
       "second_board_length",
       "1000",
       {"table", "patterns"}},
      {"straight", k_straight, "board_length", "1000", {"table", "patterns", "steps"}},
      {"straight",
       with(k_straight, {{"second_layer", "25"}, {"board_width", "500"}, {"second_board_width", "500"}}),
       "min_panel",
       "120",
       {"steps"}},
      {"reducer", k_reducer, "flat", "yes", {"sizes", "table"}},
      {"reducer", with(k_reducer, {{"offset", "50"}}), "flat_at", "90", {"sizes"}},
      {"reducer", k_reducer, "panels", "2", {"sizes", "table", "steps"}},
      {"reducer", k_notched, "split", "seam", {"sizes", "table", "steps"}},
      {"reducer", with(k_reducer, {{"length", "290"}}), "min_taper", "200", {"warnings"}},
      {"tee", k_tee, "length", "1600", {"sizes", "table", "patterns"}},
      {"tee", k_tee, "around", "30", {"sizes"}},
      {"tee", k_tee, "offset", "40", {"sizes", "patterns", "table"}},
      {"tee", k_tee, "branch_base", "360", {"sizes", "patterns", "table"}},
      {"tee", k_tee, "body_seam", "90", {"table", "patterns"}},
      {"tee", k_tee, "branch_seam", "90", {"table", "patterns"}},
      {"tee", k_tee, "hold_back_branch", "30", {"sizes", "table"}},
      {"tee", k_tee, "tilt_limit", "20", {"warnings"}},
      {"tap",
       {{"diameter", "600"}, {"branch_diameter", "250"}, {"branch_length", "700"}, {"thickness", "25"}},
       "gauge",
       "3",
       {"Angles and sizes"}},
      {"wye", k_wye, "legs", "3", {"sizes", "table", "view"}},
      {"wye", k_wye, "leg_seam", "90", {"table"}},
      {"wye", k_wye, "inlet_seam", "0", {"table"}},
      {"wye", k_wye, "hold_back_leg", "30", {"sizes", "table"}},
      {"offset", k_rolling, "rise", "350", {"sizes", "table"}},
      {"offset", k_rolling, "roll", "250", {"sizes", "table"}},
      {"path",
       {{"diameter", "300"}, {"parts", "straight 400mm, bend 45, straight 400mm"}, {"thickness", "25"}},
       "parts",
       "straight 400mm, bend 60, straight 300mm",
       {"sizes", "table", "steps"}},
  };
  return all;
}

TEST(ShopSheet, ChangingAKeyChangesEveryPartItBearsOn) {
  for (const Case& each : cases()) {
    const ShopSheet before = sheet_of(each.kind, each.flags);
    const ShopSheet after = sheet_of(each.kind, with(each.flags, {{each.key, each.value}}));
    for (const char* name : each.parts)
      EXPECT_NE(part(before, name), part(after, name))
          << each.kind << " --" << each.key << ' ' << each.value << ": " << name;
  }
}

// Where the air's lines lie on the drawings of a sheet, one after the other.
std::vector<Vec2> arrows_of(const std::vector<ShopDrawing>& drawings, const std::string& id) {
  std::vector<Vec2> points;
  for (const ShopDrawing& drawing : drawings)
    for (const ShopLine& line : drawing.lines)
      if (line.ink == ShopInk::air && (id.empty() || drawing.id == id))
        points.insert(points.end(), line.points.begin(), line.points.end());
  return points;
}

// Two flows are two arrows on the body's own drawing; on the view the far end's arrow is turned.
TEST(ShopSheet, TwoFlowsAreDrawnAsTwo) {
  const ShopSheet one = sheet_of("tee", k_tee);
  const ShopSheet two = sheet_of("tee", with(k_tee, {{"flow_arrow", "to_branch"}}));
  const std::size_t lines = arrows_of(one.patterns, "body").size();
  EXPECT_GT(lines, 0u);
  EXPECT_EQ(arrows_of(two.patterns, "body").size(), 2 * lines);
  EXPECT_EQ(arrows_of(two.patterns, "branch").size(), arrows_of(one.patterns, "branch").size());
  const std::vector<Vec2> before = arrows_of({one.view}, {});
  const std::vector<Vec2> after = arrows_of({two.view}, {});
  ASSERT_EQ(before.size(), after.size());
  double moved = 0.0;
  for (std::size_t i = 0; i < before.size(); ++i) moved = std::max(moved, distance(before[i], after[i]));
  EXPECT_NEAR(moved, 8.0, 0.1);  // from its tip to its foot
}

// A key that no case changes bears on nothing that stands on the sheet, for a reason.
TEST(ShopSheet, EveryKeyIsTriedOrBearsOnNothingThere) {
  const std::set<std::string> elsewhere{
      // of the air: they bear on the bore report
      "flow", "branch_flow", "loss_coefficient", "bare_loss_coefficient", "upstream", "downstream",
      "conductivity", "second_conductivity", "roughness", "surface", "metal_roughness", "max_velocity",
      // of the head that leans: they bear on the tilt tables
      "tilt_sign", "tilt_zero", "pivot_height",
      // what nest plans and other keys refer to: they come as pieces like those of board_width
      "division", "kerf_pitch"};
  std::set<std::string> tried;
  for (const Case& each : cases()) tried.insert(each.key);
  const auto look = [&](const std::vector<KeySpec>& keys) {
    for (const KeySpec& key : keys) EXPECT_NE(tried.count(key.name), elsewhere.count(key.name)) << key.name;
  };
  look(job_schema().liner_keys);
  for (const Kind& kind : fitting_kinds()) look(kind.schema.keys);
}

const std::vector<std::pair<const char*, Flags>>& kinds() {
  static const std::vector<std::pair<const char*, Flags>> all{
      {"elbow", k_elbow},
      {"elbow", with(k_elbow, {{"diameter", "150"}, {"thickness", "13"}})},
      {"elbow", with(k_elbow, {{"form", "smooth"}})},
      {"elbow", with(k_elbow, {{"second_layer", "25"}})},
      {"tee", k_tee},
      {"tee", with(k_tee, {{"board_width", "800"}, {"length", "2400"}})},
      {"tap",
       {{"diameter", "600"}, {"branch_diameter", "250"}, {"branch_length", "700"}, {"thickness", "25"}}},
      {"reducer", k_reducer},
      {"reducer", with(k_reducer, {{"collar", "30"}, {"to_collar", "20"}, {"face_up", "air"}})},
      {"reducer", k_notched},
      {"straight", k_straight},
      {"straight",
       with(k_straight, {{"diameter", "1800"}, {"board_width", "1220"}, {"board_length", "3050"}})},
      {"offset",
       {{"diameter", "400"}, {"offset", "500"}, {"length", "1800"}, {"pieces", "3"}, {"thickness", "25"}}},
      {"path",
       {{"diameter", "300"},
        {"parts",
         "straight 200mm, bend 45, straight 500mm, bend 60 turn 90, taper to 250mm over 300mm, straight "
         "100mm"},
        {"thickness", "25"}}},
      {"wye", k_wye}};
  return all;
}

TEST(ShopSheet, LettersCanBeReadAndStayOnTheirDrawing) {
  std::size_t read = 0;
  for (const auto& [kind, flags] : kinds()) {
    const ShopSheet sheet = sheet_of(kind, flags);
    std::vector<ShopDrawing> drawings = sheet.patterns;
    drawings.push_back(sheet.view);
    drawings.insert(drawings.end(), sheet.sections.begin(), sheet.sections.end());
    for (const ShopDrawing& drawing : drawings) {
      for (const ShopText& text : drawing.texts) {
        EXPECT_GE(text.points, k_least_letter) << support::written(kind, flags) << ' ' << text.text;
        EXPECT_GE(text.at.y, 0.0) << support::written(kind, flags) << ' ' << drawing.id << ' ' << text.text;
        EXPECT_LE(text.at.y, drawing.size.y) << support::written(kind, flags) << ' ' << text.text;
        const double wide = shop_text_width(text.text, text.points);
        const double left = text.align == ShopAlign::left    ? text.at.x
                            : text.align == ShopAlign::right ? text.at.x - wide
                                                             : text.at.x - 0.5 * wide;
        EXPECT_GE(left, -0.1) << support::written(kind, flags) << ' ' << drawing.id << ' ' << text.text;
        EXPECT_LE(left + wide, drawing.size.x + 0.1)
            << support::written(kind, flags) << ' ' << drawing.id << ' ' << text.text;
        ++read;
      }
      for (const ShopLine& line : drawing.lines)
        for (const Vec2 p : line.points)
          EXPECT_TRUE(p.x > -0.1 && p.y > -0.1 && p.x < drawing.size.x + 0.1 && p.y < drawing.size.y + 0.1)
              << support::written(kind, flags) << ' ' << drawing.id << ' ' << p.x << ' ' << p.y;
    }
    for (const std::string& line : sheet.fitting)
      EXPECT_EQ(line.find("no source"), std::string::npos) << line;
  }
  EXPECT_GT(read, 500U);
}

// Most fittings take one page; what takes two fills the first.
TEST(ShopSheet, APageHoldsItWhereItFits) {
  std::size_t single = 0;
  for (const auto& [kind, flags] : kinds()) {
    const ShopSheet sheet = sheet_of(kind, flags);
    const std::vector<ShopDrawing> pages = shop_pages(sheet, k_shop_paper);
    ASSERT_GE(pages.size(), 1U);
    EXPECT_LE(pages.size(), 2U) << support::written(kind, flags);
    single += pages.size() == 1 ? 1 : 0;
    std::string all;
    for (const ShopDrawing& page : pages) {
      EXPECT_EQ(page.size.x, k_shop_paper.x);
      all += words_of(page);
      for (const ShopText& text : page.texts) {
        EXPECT_GE(text.points, k_least_letter) << text.text;
        const double wide = text_width(text.text, text.points, text.bold);
        const double left = text.align == ShopAlign::left    ? text.at.x
                            : text.align == ShopAlign::right ? text.at.x - wide
                                                             : text.at.x - 0.5 * wide;
        EXPECT_TRUE(left > 5.0 && left + wide < page.size.x - 5.0 && text.at.y > 10.0 &&
                    text.at.y < page.size.y - 10.0)
            << support::written(kind, flags) << ' ' << text.text << ' ' << left << ' ' << text.at.y;
      }
    }
    // every piece stands in the table and is drawn
    for (const auto& row : sheet.pieces.rows) EXPECT_NE(all.find(row[2]), std::string::npos) << row[2];
    for (const ShopDrawing& drawing : sheet.patterns)
      for (const ShopText& text : drawing.texts)
        EXPECT_NE(all.find(text.text), std::string::npos) << text.text;
  }
  EXPECT_GE(single, 11U) << "of " << kinds().size();
}

// Pieces 2 and 4 of an elbow in five pieces are cut by one template: one drawing has the letters of both.
TEST(ShopSheet, PiecesThatAreCutAlikeAreDrawnOnce) {
  const ShopSheet sheet = sheet_of("elbow", k_elbow);
  ASSERT_EQ(sheet.patterns.size(), 4U);
  EXPECT_EQ(sheet.patterns[1].title, "middle piece (2, 4), alike");
  const std::string words = words_of(sheet.patterns[1]);
  for (const char* letters : {"A, C\n", "B, D\n"}) EXPECT_NE(words.find(letters), std::string::npos) << words;
}

// A name over all of the page: the sheet says what there is room for, and all letters stay on it.
TEST(ShopSheet, LongNamesStayOnThePage) {
  ShopSheet sheet = sheet_of("tee", k_tee);
  sheet.tag = std::string(200, 'W');
  sheet.head.job = std::string(300, 'M');
  for (const ShopDrawing& page : shop_pages(sheet, k_shop_paper))
    for (const ShopText& text : page.texts)
      EXPECT_LE(text_width(text.text, text.points, text.bold), page.size.x - 24.0 + 1e-6) << text.text;
}

// What an installer asks has an answer on the sheet of every kind.
TEST(ShopSheet, EveryQuestionIsAnsweredForEveryKind) {
  for (const auto& [kind, flags] : kinds()) {
    const ShopSheet sheet = sheet_of(kind, flags);
    EXPECT_EQ(sheet.head.job, "Job");
    for (const char* question :
         {"Which end is first", "Which way the air goes", "Which face is out", "Where the seam goes",
          "Where tape goes", "Where sealant goes", "After a square cut", "How the knife leans", "Fasteners"})
      EXPECT_FALSE(part(sheet, question).empty()) << kind << ": " << question;
    for (const char* name : {"sizes", "steps", "cutting", "table", "patterns", "view"})
      EXPECT_FALSE(part(sheet, name).empty()) << kind << ": " << name;
    ASSERT_FALSE(sheet.pieces.rows.empty());
    for (const auto& row : sheet.pieces.rows) EXPECT_EQ(row.size(), sheet.pieces.heads.size());
  }
}

// A lateral of 45 degrees leans the knife by 67.5: half way between the walls' directions, 90 - 45 / 2.
TEST(ShopSheet, ASteepLateralIsToldOf) {
  const ShopSheet sheet = sheet_of("tee", with(k_tee, {{"angle", "45"},
                                                       {"diameter", "609.6"},
                                                       {"branch_diameter", "406.4"},
                                                       {"thickness", "25.4"},
                                                       {"branch_length", "1100"}}));
  const std::string told = part(sheet, "warnings");
  EXPECT_NE(told.find("an overlap of 61.3 mm on branch"), std::string::npos)
      << told;  // 25.4 tan 67.5 = 61.32
  EXPECT_NE(part(sheet, "How the knife leans").find("67.5 degrees"), std::string::npos);
}

}  // namespace
}  // namespace linerwright
