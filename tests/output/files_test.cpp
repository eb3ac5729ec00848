// Files of every kind of fitting pass the whole proof, however they were asked to be written.
#include <gtest/gtest.h>

#include "made_files.hpp"
#include "support/cases.hpp"

namespace linerwright {
namespace {

struct Case {
  std::string name;
  std::string kind;
  Flags flags;
  OutputOptions options{};
  Units units = Units::metric;
};

void PrintTo(const Case& each, std::ostream* out) {
  *out << support::written(each.kind, each.flags);
}

OutputOptions written_as(DxfVersion version, DxfUnits units) {
  OutputOptions options;
  options.dxf.version = version;
  options.dxf.units = units;
  return options;
}

const Flags k_lateral{{"diameter", "300"},      {"length", "1200"}, {"branch_diameter", "140"},
                      {"branch_length", "520"}, {"angle", "60"},    {"offset", "60"},
                      {"position", "500"},      {"thickness", "25"}};
const Flags k_elbow{{"diameter", "315"}, {"angle", "90"}, {"pieces", "4"}, {"thickness", "25"}};
const Flags k_taper{{"diameter", "400"}, {"to_diameter", "250"}, {"length", "300"},
                    {"thickness", "25"}, {"collar", "80"},       {"to_collar", "60"}};
const Flags k_wye{{"diameter", "500"},   {"inlet_length", "300"}, {"leg_diameter", "400&300"},
                  {"leg_length", "600"}, {"angle", "30"},         {"thickness", "25"}};
const Flags k_tap{{"diameter", "500"}, {"branch_diameter", "250"}, {"branch_length", "700"},
                  {"angle", "60"},     {"offset", "40"},           {"thickness", "25"}};
const Flags k_path{
    {"diameter", "400"},
    {"thickness", "25"},
    {"parts",
     "straight 100mm, bend 45, straight 200mm, bend 45 turn 120, taper to 300mm over 250mm, straight 60mm"}};

std::vector<Case> cases() {
  const OutputOptions old_millimetres = written_as(DxfVersion::r12, DxfUnits::millimetre);
  const OutputOptions old_inches = written_as(DxfVersion::r12, DxfUnits::inch);
  const OutputOptions new_inches = written_as(DxfVersion::r2000, DxfUnits::inch);
  OutputOptions cut_only;
  cut_only.dxf.cut_only = true;
  OutputOptions single;
  single.dxf.single_layer = true;
  OutputOptions coarse;
  coarse.mesh.deflection = 1.0;
  coarse.mesh.angle = 0.5;
  return {
      {"straight", "straight", {{"diameter", "250"}, {"length", "600"}, {"thickness", "25"}}},
      {"straight_held_back",
       "straight",
       {{"diameter", "250"},
        {"length", "600"},
        {"thickness", "25"},
        {"hold_back_start", "40"},
        {"hold_back_end", "25"}}},
      {"cap", "cap", {{"diameter", "400"}, {"length", "300"}, {"thickness", "25"}}},
      {"cap_disc_alone",
       "cap",
       {{"diameter", "400"},
        {"length", "0"},
        {"thickness", "25"},
        {"seat", "inside"},
        {"second_layer", "10"}}},
      {"cap_bevelled",
       "cap",
       {{"diameter", "400"}, {"length", "300"}, {"thickness", "25"}, {"seat", "mitre"}, {"cut", "tilt"}}},
      {"cap_openings",
       "cap",
       {{"diameter", "400"},
        {"length", "300"},
        {"thickness", "25"},
        {"cut", "tilt"},
        {"openings",
         "access door piece disc at 170mm around 30 width 150mm length 120mm bevel straight metal yes, test "
         "hole piece disc at 80mm around 200 diameter 60mm bevel splayed splay 20"}}},
      {"straight_openings",
       "straight",
       {{"diameter", "600"},
        {"length", "1200"},
        {"thickness", "25"},
        {"cut", "tilt"},
        {"openings",
         "test hole at 200mm around 60 diameter 150mm bevel straight, access door at 850mm around 90 width "
         "200mm "
         "length 300mm setback 20mm bevel straight metal yes, damper shaft at 500mm around 20 diameter "
         "20mm"}}},
      {"taper_openings", "reducer",
       with(k_taper,
            {{"cut", "mid"},
             {"openings",
              "test hole piece taper at 150mm around 60 diameter 80mm bevel radial, access door piece taper "
              "at 150mm around -60 width 120mm length 100mm setback 15mm bevel splayed"}})},
      {"taper_doors", "reducer",
       with(k_taper,
            {{"butt_allowance", "2"},
             {"openings",
              "access door piece taper at 150mm around 90 width 120mm length 100mm bevel straight metal yes, "
              "access door piece taper at 150mm around -90 width 120mm length 100mm bevel radial"}})},
      {"straight_inch",
       "straight",
       {{"diameter", "24"}, {"length", "48"}, {"thickness", "1"}},
       old_inches,
       Units::inch},
      {"elbow", "elbow", k_elbow},
      {"elbow_air_up", "elbow", with(k_elbow, {{"face_up", "air"}, {"seam", "heel"}}), old_millimetres},
      {"elbow_allowances", "elbow",
       with(k_elbow, {{"neutral_factor", "0.4"},
                      {"end_allowance", "12"},
                      {"butt_allowance", "1.5"},
                      {"collar", "50"},
                      {"cut", "mid"}})},
      {"elbow_cut_only", "elbow", k_elbow, cut_only},
      {"smooth", "elbow", with(k_elbow, {{"form", "smooth"}, {"pieces", "5"}})},
      {"smooth_collar", "elbow",
       with(k_elbow, {{"form", "smooth"}, {"collar", "60"}, {"angle", "60"}, {"face_up", "air"}}),
       new_inches},
      {"smooth_offset",
       "offset",
       {{"diameter", "300"},
        {"offset", "500"},
        {"angle", "50"},
        {"pieces", "4"},
        {"form", "smooth"},
        {"thickness", "20"}}},
      {"taper", "reducer", k_taper, coarse},
      {"eccentric", "reducer", with(k_taper, {{"flat", "yes"}, {"flat_at", "90"}})},
      {"eccentric_air_up", "reducer", with(k_taper, {{"offset", "40"}, {"face_up", "air"}}), old_millimetres},
      {"notched", "reducer", with(k_taper, {{"pattern", "notched"}})},
      {"notched_apart", "reducer",
       with(k_taper, {{"pattern", "notched"}, {"split", "seam"}, {"face_up", "air"}}), new_inches},
      {"lateral", "tee", k_lateral},
      {"lateral_air_up", "tee", with(k_lateral, {{"face_up", "air"}, {"cut", "tilt"}}), old_inches},
      {"lateral_single_layer", "tee", k_lateral, single},
      {"tee_over", "tee", with(k_lateral, {{"joint", "over"}, {"angle", "90"}, {"offset", "-60"}})},
      {"tee_inch",
       "tee",
       {{"diameter", "12"},
        {"length", "40"},
        {"branch_diameter", "6"},
        {"branch_length", "18"},
        {"offset", "2.5"},
        {"thickness", "1"}},
       new_inches,
       Units::inch},
      {"tap", "tap", k_tap},
      {"tap_over", "tap", with(k_tap, {{"joint", "over"}, {"face_up", "air"}, {"cut", "tilt"}}), old_inches},
      {"tap_through", "tap",
       with(k_tap, {{"joint", "through"}, {"branch_base", "320"}, {"branch_length", "900"}}), single},
      {"tap_two_layers", "tap", with(k_tap, {{"second_layer", "15"}}), new_inches},
      {"path", "path", k_path},
      {"path_air_up", "path", with(k_path, {{"face_up", "air"}, {"cut", "tilt"}, {"seam", "heel"}}),
       old_inches},
      {"wye", "wye", k_wye},
      {"wye_air_up", "wye", with(k_wye, {{"face_up", "air"}, {"cut", "tilt"}, {"leg_seam", "100"}}),
       old_inches},
      {"breeches", "wye",
       with(k_wye, {{"legs", "3"},
                    {"leg_diameter", "300"},
                    {"angle", "35"},
                    {"end_allowance", "12"},
                    {"butt_allowance", "1.5"},
                    {"neutral_factor", "0.4"}})},
      {"turned_square", "tee", with(k_lateral, {{"turn_to", "90"}, {"end_allowance", "12"}})},
      {"turned_parallel", "tee",
       with(k_lateral, {{"turn_to", "0"}, {"face_up", "air"}, {"cut", "tilt"}, {"collar", "30"}}),
       old_inches},
      {"cross", "tee",
       with(k_lateral,
            {{"branch_diameter", "140&120"}, {"angle", "90"}, {"around", "0&180"}, {"offset", "60&-20"}})},
  };
}

class Files : public ::testing::TestWithParam<Case> {};

TEST_P(Files, PassEveryCheck) {
  const Case& each = GetParam();
  const MadeFiles made(each.kind, each.flags, each.options, each.units);
  const std::vector<CheckResult> results = check_fitting(made.fitting, make_patterns(made.fitting),
                                                         made.files, made.options.dxf, made.options.mesh);
  EXPECT_EQ(listed(results), "");

  // and nothing was left out
  const bool faces = !each.options.dxf.cut_only && !each.options.dxf.single_layer;
  const std::vector<Pattern> patterns = make_patterns(made.fitting);
  ASSERT_FALSE(patterns.empty());
  for (const Pattern& pattern : patterns) {
    EXPECT_TRUE(has_check(results, "audit " + pattern.id));
    EXPECT_TRUE(has_check(results, "cut " + pattern.id));
    EXPECT_EQ(has_check(results, "duct face " + pattern.id), faces);
    EXPECT_EQ(has_check(results, "air face " + pattern.id), faces);
    const bool notched = !made.fitting.notched.empty() && made.fitting.notched.front().id == pattern.id;
    EXPECT_EQ(has_check(results, "re-roll " + pattern.id), faces && !notched);
    EXPECT_EQ(has_check(results, "knife " + pattern.id), !notched);
    EXPECT_EQ(has_check(results, "notches"), !made.fitting.notched.empty());
  }
  for (const char* name : {"fill", "volumes", "step volumes", "step fill", "step places", "closed metal",
                           "closed liner", "stl volume metal", "stl edges liner"})
    EXPECT_TRUE(has_check(results, name)) << name;
  const bool opens = !made.fitting.passages.empty();  // a disc alone has no bore, and no piece beside it
  for (const char* name : {"bore slices", "closed bore", "stl edges bore"})
    EXPECT_EQ(has_check(results, name), opens) << name;
  EXPECT_EQ(has_check(results, "interference"), made.fitting.pieces.size() > 1);
  EXPECT_EQ(has_check(results, "edges that meet"),
            made.fitting.pieces.size() > 1 && !joint_on_duct(made.fitting) && opens);
}

INSTANTIATE_TEST_SUITE_P(OfAllKinds, Files,
                         ::testing::ValuesIn(support::drawn("fittings proved from their files", cases(),
                                                            [](const Case& each) { return each.kind; })),
                         [](const ::testing::TestParamInfo<Case>& each) { return each.param.name; });

TEST(OneLine, SaysWhetherAndHowFar) {
  CheckResult result{"re-roll 3", 0.25, 0.1, false, "mm", "12 points"};
  EXPECT_EQ(one_line(result), "FAIL  re-roll 3                0.25 mm  (limit 0.1 mm)  12 points");
  result = {"fill", 2.5e-13, 1e-8, true, "", ""};
  EXPECT_EQ(one_line(result), "pass  fill                     2.5e-13  (limit 1.0e-08)");
}

}  // namespace
}  // namespace linerwright
