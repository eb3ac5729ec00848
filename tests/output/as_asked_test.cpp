// The proof by the request alone: it passes what was made as asked, and fails files of another request.
#include <gtest/gtest.h>

#include "as_asked.hpp"
#include "linerwright/units/json.hpp"
#include "made_files.hpp"
#include "support/cases.hpp"
#include "support/held_back.hpp"
#include "support/openings_and_caps.hpp"

namespace linerwright {
namespace {

std::vector<CheckResult> asked_of(const MadeFiles& made) {
  return prove_as_asked(made.files, read_step(made.file(".step")));
}

// Puts other words into what was written, as if the request had been another one.
void rewrite(const MadeFiles& made, const std::string& before, const std::string& after) {
  const auto file = made.files.folder / "fitting.json";
  std::string text = bytes_of(file);
  const std::size_t at = text.find(before, text.find("\"written\""));
  ASSERT_NE(at, std::string::npos) << before;
  text.replace(at, before.size(), after);
  put_bytes(file, text);
}

const Flags k_elbow{
    {"diameter", "400"}, {"angle", "90"}, {"pieces", "5"}, {"thickness", "25"}, {"collar", "50"}};
const Flags k_reducer{{"diameter", "500"}, {"to_diameter", "300"}, {"length", "400"},
                      {"collar", "80"},    {"offset", "60"},       {"thickness", "25"}};
const Flags k_tee{{"diameter", "500"},      {"length", "1200"}, {"branch_diameter", "300"},
                  {"branch_length", "600"}, {"angle", "60"},    {"offset", "50"},
                  {"thickness", "25"}};

OutputOptions without_pages() {
  OutputOptions options;
  options.pages = false;
  return options;
}

TEST(AsAsked, EveryKindPasses) {
  std::vector<std::pair<std::string, Flags>> cases{
      {"straight", {{"diameter", "300"}, {"length", "1000"}, {"thickness", "25"}, {"face_up", "air"}}},
      {"straight",
       {{"diameter", "400"},
        {"length", "3000"},
        {"thickness", "25"},
        {"board_width", "1200"},
        {"board_length", "1000"}}},
      {"elbow",
       {{"diameter", "400"},
        {"angle", "90"},
        {"pieces", "5"},
        {"thickness", "25"},
        {"collar", "50"},
        {"seam", "heel"}}},
      {"elbow",
       {{"diameter", "315"}, {"angle", "60"}, {"pieces", "4"}, {"thickness", "25"}, {"form", "smooth"}}},
      {"offset",
       {{"diameter", "250"}, {"offset", "250"}, {"length", "900"}, {"pieces", "3"}, {"thickness", "25"}}},
      {"offset",
       {{"diameter", "400"},
        {"rise", "300"},
        {"roll", "400"},
        {"angle", "45"},
        {"pieces", "4"},
        {"collar", "50"},
        {"seam", "heel"},
        {"thickness", "25"},
        {"end_allowance", "5"},
        {"butt_allowance", "2"}}},
      {"offset",
       {{"diameter", "300"},
        {"offset", "500"},
        {"length", "1100"},
        {"pieces", "3"},
        {"collar", "35"},
        {"form", "smooth"},
        {"seam", "heel"},
        {"thickness", "20"},
        {"butt_allowance", "1"}}},
      {"straight",
       {{"diameter", "300"},
        {"duct_lengths", "500 & 600"},
        {"hold_back_start", "30"},
        {"hold_back_end", "1in"},
        {"thickness", "25"},
        {"second_layer", "15"},
        {"end_allowance", "5"}}},
      {"reducer", support::held_back_reducer()},
      {"reducer",
       {{"diameter", "600"},
        {"to_diameter", "500"},
        {"length", "400"},
        {"collar", "80"},
        {"pattern", "notched"},
        {"thickness", "25"},
        {"second_layer", "15"},
        {"second_face_up", "inner"}}},
      {"tee", support::with(support::held_back_tee(), {{"joint", "over"}})},
      {"tee",
       {{"diameter", "500"},
        {"length", "1500"},
        {"branch_diameter", "250"},
        {"branch_base", "330"},
        {"branch_length", "800"},
        {"angle", "60"},
        {"offset", "30"},
        {"around", "40"},
        {"turn_to", "120"},
        {"pieces", "4"},
        {"radius_ratio", "1.2"},
        {"collar", "60"},
        {"thickness", "25"},
        {"butt_allowance", "1"},
        {"hold_back_branch", "20"}}},
      {"tee",
       {{"diameter", "600"},
        {"length", "3200"},
        {"branch_diameter", "300 & 250"},
        {"branch_length", "900"},
        {"angle", "45 & 135"},
        {"position", "600 & 2600"},
        {"around", "0 & 150"},
        {"turn_to", "90 & 180"},
        {"branch_seam", "45"},
        {"thickness", "25"},
        {"second_layer", "15"}}},
      {"tap", support::with(support::held_back_tap(), {{"second_layer", "10"}})},
      {"wye", support::held_back_wye()},
      {"path",
       {{"diameter", "400"},
        {"parts", "straight 300mm, bend 45 pieces 3, straight 400mm, taper to 300mm over 300mm"},
        {"hold_back_start", "30"},
        {"hold_back_end", "40"},
        {"thickness", "25"}}},
      {"tap",
       {{"diameter", "500"},
        {"branch_diameter", "250"},
        {"branch_length", "700"},
        {"angle", "60"},
        {"offset", "-40"},
        {"thickness", "25"},
        {"end_allowance", "5"},
        {"butt_allowance", "2"}}},
      {"tap",
       {{"diameter", "400"},
        {"branch_diameter", "200"},
        {"branch_base", "300"},
        {"branch_length", "500"},
        {"angle", "75"},
        {"joint", "over"},
        {"thickness", "25"},
        {"second_layer", "15"},
        {"face_up", "air"}}},
      // a hole that turns sharply at its sides
      {"tap",
       {{"diameter", "1319.38527"},
        {"branch_diameter", "1319.25333"},
        {"branch_length", "717.692633"},
        {"offset", "-0.00446319843"},
        {"thickness", "50"}}},
      {"tap",
       {{"diameter", "500"},
        {"branch_diameter", "200"},
        {"branch_length", "600"},
        {"joint", "through"},
        {"thickness", "25"},
        {"board_width", "300"}}},
      {"path",
       {{"diameter", "315"},
        {"parts", "bend 60 pieces 4 turn 30, straight 200mm, bend 45 radius 20in turn 90, straight 4in"},
        {"seam", "heel"},
        {"thickness", "25"},
        {"end_allowance", "5"}}},
      {"path",
       {{"diameter", "400"},
        {"parts",
         "taper to 300mm over 300mm, taper to 350mm over 200mm, bend 45, straight 300mm, taper to 400mm over "
         "200mm"},
        {"thickness", "25"},
        {"second_layer", "20"},
        {"face_up", "air"}}},
      {"wye",
       {{"diameter", "400"},
        {"inlet_length", "350"},
        {"leg_diameter", "300&250"},
        {"leg_length", "700&500"},
        {"angle", "25&50"},
        {"thickness", "25"},
        {"second_layer", "20"},
        {"end_allowance", "5"},
        {"butt_allowance", "2"}}},
      {"wye",
       {{"diameter", "400"},
        {"inlet_length", "300"},
        {"legs", "4"},
        {"leg_diameter", "250"},
        {"leg_length", "800"},
        {"angle", "40"},
        {"thickness", "25"},
        {"face_up", "air"}}},
      {"reducer",
       {{"diameter", "500"},
        {"to_diameter", "300"},
        {"length", "400"},
        {"collar", "80"},
        {"offset", "60"},
        {"flat_at", "30"},
        {"thickness", "25"}}},
      {"reducer",
       {{"diameter", "300"},
        {"to_diameter", "500"},
        {"length", "400"},
        {"flat", "true"},
        {"thickness", "25"},
        {"neutral_factor", "0.5"}}},
      {"reducer",
       {{"diameter", "600"},
        {"to_diameter", "500"},
        {"length", "400"},
        {"collar", "80"},
        {"pattern", "notched"},
        {"thickness", "25"}}},
      {"tee",
       {{"diameter", "500"},
        {"length", "1200"},
        {"branch_diameter", "300"},
        {"branch_length", "600"},
        {"angle", "60"},
        {"offset", "50"},
        {"thickness", "25"},
        {"cut", "mid"}}},
      {"tee",
       {{"diameter", "500"},
        {"length", "1200"},
        {"branch_diameter", "200"},
        {"branch_length", "600"},
        {"thickness", "25"},
        {"cut", "tilt"},
        {"tilt_sign", "lower_left"},
        {"tilt_zero", "3deg"},
        {"pivot_height", "80"},
        {"tilt_limit", "30deg"}}},
      {"tee",
       {{"diameter", "500"},
        {"length", "1200"},
        {"branch_diameter", "300"},
        {"branch_length", "600"},
        {"branch_base", "340"},
        {"thickness", "25"},
        {"joint", "over"},
        {"around", "40"}}},
      {"tee",
       {{"diameter", "500"},
        {"length", "1200"},
        {"branch_diameter", "300"},
        {"branch_length", "600"},
        {"joint", "through"},
        {"thickness", "25"},
        {"butt_allowance", "2"},
        {"end_allowance", "5"}}}};
  for (const auto& more : support::openings_and_caps()) cases.push_back(more);
  for (const auto& [kind, flags] :
       support::drawn("fittings", cases, [](const auto& each) { return each.first; })) {
    const MadeFiles made(kind, flags, without_pages());
    const auto results = asked_of(made);
    EXPECT_GT(results.size(), 12u);
    EXPECT_FALSE(fails(results, "")) << support::written(kind, flags) << "\n" << listed(results);
  }
}

// What a program made that takes no fit allowance off: the board is 19 mm too long.
TEST(AsAsked, AnIgnoredFitAllowanceFails) {
  for (const std::string& kind :
       support::drawn<std::string>("kinds", {"straight", "elbow", "reducer", "tee"})) {
    const Flags flags = kind == "straight"
                            ? Flags{{"diameter", "300"}, {"length", "1000"}, {"thickness", "25"}}
                        : kind == "elbow"   ? k_elbow
                        : kind == "reducer" ? k_reducer
                                            : k_tee;
    const MadeFiles made(kind, with(flags, {{"fit_allowance", "0"}}), without_pages());
    EXPECT_FALSE(fails(asked_of(made), "")) << kind << listed(asked_of(made));
    rewrite(made, "\"fit_allowance\": \"0\"", "\"fit_allowance\": \"0.75in\"");
    EXPECT_TRUE(fails(asked_of(made), "asked girths")) << kind;
    EXPECT_TRUE(fails(asked_of(made), "asked cuts")) << kind;
  }
}

// What a program made that bends elbows by 81 degrees where 90 are asked for.
TEST(AsAsked, AnElbowOfAnotherAngleFails) {
  const MadeFiles made("elbow", with(k_elbow, {{"angle", "81"}}), without_pages());
  EXPECT_FALSE(fails(asked_of(made), "")) << listed(asked_of(made));
  rewrite(made, "\"angle\": \"81\"", "\"angle\": \"90\"");
  const auto found = asked_of(made);
  for (const char* name : {"asked faces", "asked cuts", "asked heights", "asked volumes", "asked open ends",
                           "asked mesh ends", "asked mesh corners", "asked blank", "asked parameters"})
    EXPECT_TRUE(fails(found, name)) << name;
}

// A pattern with no room for its words has them under its picture.
TEST(AsAsked, APictureSaysWhatItsPieceHasNoRoomFor) {
  const MadeFiles made("offset", {{"diameter", "250"},
                                  {"offset", "12"},
                                  {"length", "900"},
                                  {"pieces", "2"},
                                  {"thickness", "25"},
                                  {"butt_allowance", "2"}});
  EXPECT_FALSE(fails(asked_of(made), "")) << listed(asked_of(made));
  std::string picture = bytes_of(made.file("-1.svg"));
  const std::size_t at = picture.find("liner 25 mm");
  ASSERT_NE(at, std::string::npos);
  put_bytes(made.file("-1.svg"), picture.replace(at, 11, "liner 50 mm"));
  EXPECT_TRUE(fails(asked_of(made), "asked words"));
}

// One word of the request another one each time: a line beside the parameters' own must fail.
TEST(AsAsked, EveryOtherRequestFails) {
  struct Other {
    std::string kind;
    Flags flags;
    std::string key, asked;
  };
  const std::vector<Other> others{
      {"elbow", k_elbow, "thickness", "24"},
      {"elbow", k_elbow, "diameter", "401"},
      {"elbow", k_elbow, "collar", "55"},
      {"elbow", with(k_elbow, {{"radius_ratio", "1.5"}}), "radius_ratio", "1.49"},
      {"elbow", with(k_elbow, {{"seam", "heel"}}), "seam", "throat"},
      {"elbow", with(k_elbow, {{"face_up", "air"}}), "face_up", "duct"},
      {"elbow", with(k_elbow, {{"cut", "mid"}}), "cut", "outer"},
      {"elbow", with(k_elbow, {{"end_allowance", "5"}}), "end_allowance", "6"},
      {"elbow", with(k_elbow, {{"gauge", "0.8"}}), "gauge", "0.9"},
      {"elbow", with(k_elbow, {{"stations", "12"}}), "stations", "16"},
      {"reducer", k_reducer, "offset", "-60"},
      {"reducer", k_reducer, "to_diameter", "299"},
      {"reducer", k_reducer, "length", "401"},
      {"reducer", with(k_reducer, {{"flat_at", "30"}}), "flat_at", "-30"},
      {"reducer", with(k_reducer, {{"neutral_factor", "0.5"}}), "neutral_factor", "0"},
      {"tee", k_tee, "offset", "-50"},
      {"tee", k_tee, "angle", "61"},
      {"tee", k_tee, "angle", "120"},
      {"tee", k_tee, "branch_length", "601"},
      {"tee", with(k_tee, {{"joint", "over"}}), "joint", "mitre"},
      {"tee", with(k_tee, {{"joint", "through"}}), "joint", "over"},
      {"tee", with(k_tee, {{"around", "30"}}), "around", "-30"},
      {"tee", with(k_tee, {{"position", "600"}}), "position", "602"}};
  for (const Other& other : support::drawn("requests", others, [](const Other& each) { return each.kind; })) {
    const MadeFiles made(other.kind, other.flags, without_pages());
    rewrite(made, "\"" + other.key + "\": \"" + other.flags.at(other.key) + "\"",
            "\"" + other.key + "\": \"" + other.asked + "\"");
    const auto results = asked_of(made);
    const auto lines = support::failed(results);
    const auto elsewhere = std::count_if(lines.begin(), lines.end(), [](const std::string& name) {
      return name != "asked parameters" && name != "asked choices";
    });
    EXPECT_GE(elsewhere, 1) << other.kind << " " << other.key << " " << other.asked << "\n"
                            << listed(results, true);
  }
}

}  // namespace
}  // namespace linerwright
