// The proof by the request alone: it passes what was made as asked, and fails files of another request.
#include <gtest/gtest.h>

#include "as_asked.hpp"
#include "linerwright/json.hpp"
#include "made_files.hpp"

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

ProduceOptions without_pages() {
  ProduceOptions options;
  options.pages = false;
  return options;
}

TEST(AsAsked, EveryKindPasses) {
  const std::vector<std::pair<std::string, Flags>> cases{
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
  for (const auto& [kind, flags] : cases) {
    const MadeFiles made(kind, flags, without_pages());
    const auto results = asked_of(made);
    EXPECT_GT(results.size(), 12u);
    EXPECT_FALSE(fails(results, "")) << support::written(kind, flags) << "\n" << listed(results);
  }
}

// Right files that earlier formulas called wrong, found by wide random trials: steep, deep and hardly
// eccentric tapers, short collars, nearly equal and nearly tangent branches, holes close to one another.
TEST(AsAsked, RightFilesOfWideRangesPass) {
  const std::vector<std::pair<std::string, Flags>> cases{
      {"reducer",
       {{"thickness", "13.0"},
        {"diameter", "2124.08417"},
        {"to_diameter", "1137.11423"},
        {"length", "44.0378271"},
        {"collar", "50.0"},
        {"to_collar", "13.3915604"},
        {"offset", "0.001"},
        {"flat_at", "90.0"},
        {"gauge", "1.0"},
        {"cut", "duct"}}},
      {"reducer",
       {{"thickness", "15.4398095"},
        {"diameter", "101.761513"},
        {"to_diameter", "105.454295"},
        {"length", "5.1"},
        {"to_collar", "209.545421"},
        {"flat", "true"}}},
      {"reducer",
       {{"thickness", "13.4079158"},
        {"diameter", "126.728212"},
        {"to_diameter", "61.7346743"},
        {"length", "137.894297"},
        {"collar", "50.0"},
        {"to_collar", "693.465436"},
        {"flat", "true"},
        {"pattern", "notched"},
        {"notches", "9"},
        {"fit_allowance", "38.7934223"},
        {"stations", "36"}}},
      {"reducer",
       {{"thickness", "38.1"},
        {"diameter", "125.0"},
        {"to_diameter", "124.949717"},
        {"length", "5.1"},
        {"collar", "50.0"},
        {"flat", "true"},
        {"cut", "tilt"},
        {"board_width", "2447.36128"},
        {"board_length", "6952.93668"}}},
      {"reducer",
       {{"thickness", "74.0471163"},
        {"diameter", "248.591638"},
        {"to_diameter", "203.888809"},
        {"length", "35.7725797"},
        {"collar", "124.047116"},
        {"offset", "18.0399717"},
        {"flat_at", "90.0"},
        {"face_up", "duct"},
        {"cut", "mid"}}},
      {"reducer",
       {{"thickness", "100.0"},
        {"diameter", "315.0"},
        {"to_diameter", "220.461087"},
        {"length", "2976.8485"},
        {"to_collar", "2.44992746"},
        {"offset", "47.2694567"},
        {"flat_at", "-215.981995"},
        {"neutral_factor", "1.0"},
        {"fit_allowance", "16.0636719"},
        {"cut", "tilt"}}},
      {"tee",
       {{"diameter", "1250.0"},
        {"thickness", "75.6726412"},
        {"length", "1180.43394"},
        {"branch_diameter", "1101.68883"},
        {"branch_length", "2879.68486"},
        {"angle", "103.333428"},
        {"position", "750.909061"},
        {"around", "0.0"},
        {"offset", "74.1555836"},
        {"face_up", "air"},
        {"cut", "duct"},
        {"stations", "360"}}},
      {"tee",
       {{"diameter", "90.5071573"},
        {"thickness", "25.0"},
        {"cut", "air"},
        {"length", "639.022527"},
        {"branch_diameter", "65.5303939&90.5071572"},
        {"branch_length", "126.449057&208.352172"},
        {"angle", "89.7120375&32.0633581"},
        {"position", "68.5080893&430.652329"},
        {"around", "0.0&9.410655"},
        {"offset", "0.0&0.0"},
        {"gauge", "0.5"},
        {"fit_allowance", "51.446864"},
        {"butt_allowance", "3.0"}}},
      {"tee",
       {{"diameter", "208.637195"},
        {"thickness", "21.2583133"},
        {"length", "912.475853"},
        {"branch_diameter", "208.636986"},
        {"branch_length", "909.210864"},
        {"angle", "165.0"},
        {"position", "867.952537"},
        {"around", "180.0"},
        {"offset", "0.0"},
        {"branch_seam", "180.0"},
        {"face_up", "air"}}},
      {"tee",
       {{"diameter", "106.442763"},
        {"thickness", "25.0"},
        {"joint", "over"},
        {"cut", "mid"},
        {"length", "602.290554"},
        {"branch_diameter", "106.432118&106.432118"},
        {"branch_length", "202.012419&524.811188"},
        {"angle", "67.4849155&15.0"},
        {"position", "45.0534254&146.980066"},
        {"around", "-64.8491933&-68.7848652"},
        {"offset", "0.0&-0.000709724936"},
        {"neutral_factor", "1.0"},
        {"fit_allowance", "44.3039535"},
        {"board_width", "646.827662"},
        {"board_length", "30000.0"}}},
      {"tee",
       {{"diameter", "1250.0"},
        {"thickness", "99.0087359"},
        {"joint", "over"},
        {"length", "2310.32094"},
        {"branch_diameter", "578.353348"},
        {"branch_length", "2489.91681"},
        {"angle", "22.698517"},
        {"position", "0.01"},
        {"around", "-90.0"},
        {"offset", "0.0"},
        {"face_up", "air"}}},
      {"reducer",
       {{"thickness", "15.7605076"},
        {"diameter", "923.003742"},
        {"to_diameter", "801.922074"},
        {"length", "4210.2045"},
        {"flat", "true"},
        {"flat_at", "-180.0"},
        {"neutral_factor", "0.5"},
        {"fit_allowance", "100.0"},
        {"end_allowance", "25.0"},
        {"butt_allowance", "43.3823573"},
        {"face_up", "air"},
        {"board_width", "1200.0"},
        {"board_length", "2400.0"}}},
      {"reducer",
       {{"thickness", "50.0"},
        {"diameter", "212.591319"},
        {"to_diameter", "212.591319"},
        {"length", "11.658195"},
        {"to_collar", "126.85375"},
        {"offset", "2.5"},
        {"end_allowance", "5.0"},
        {"cut", "outer"},
        {"board_width", "1500.0"},
        {"board_length", "2400.0"}}},
      {"tee",
       {{"diameter", "609.6"},
        {"thickness", "50.8"},
        {"length", "1083.45211"},
        {"branch_diameter", "200.0&609.599999"},
        {"branch_length", "529.17567&393.594256"},
        {"angle", "135.0&90.0"},
        {"position", "407.87895&748.3564"},
        {"around", "90.0&94.6328112"},
        {"offset", "-204.799795&0.0"},
        {"gauge", "0.3"},
        {"neutral_factor", "1.0"},
        {"cut", "tilt"}}},
      {"tee",
       {{"diameter", "1855.21017"},
        {"thickness", "25.4"},
        {"length", "4478.76177"},
        {"branch_diameter", "1736.12783&1855.21016"},
        {"branch_length", "961.005083&2329.32205"},
        {"angle", "90.0&45.0"},
        {"position", "904.063915&2194.83972"},
        {"around", "90.0&92.7321054"},
        {"offset", "0.0&0.0"},
        {"gauge", "0.5"},
        {"end_allowance", "5.0"},
        {"face_up", "air"},
        {"cut", "tilt"}}},
      // a taper that is nearly its own turned end for end
      {"reducer",
       {{"diameter", "2955.66755"},
        {"to_diameter", "2955.66935"},
        {"thickness", "42.0470154"},
        {"length", "1906.37745"},
        {"collar", "1.50000992"},
        {"to_collar", "120.832831"},
        {"face_up", "air"}}},
      {"reducer",
       {{"thickness", "15.618166"},
        {"diameter", "2681.85443"},
        {"to_diameter", "2031.69455"},
        {"length", "975.239823"},
        {"collar", "129.71883"},
        {"flat", "true"},
        {"flat_at", "90.0"},
        {"neutral_factor", "0.5"},
        {"end_allowance", "64.1603561"},
        {"cut", "tilt"}}},
      {"tee",
       {{"diameter", "209.670535"},
        {"thickness", "25.0"},
        {"length", "1257.1689"},
        {"branch_diameter", "209.670535&81.9955396&138.094533"},
        {"branch_length", "868.877438&294.260312&137.834445"},
        {"angle", "165.0&90.0&90.0"},
        {"position", "847.462518&939.052028&1091.32167"},
        {"around", "-73.0709175&180.0&-73.7684941"},
        {"offset", "0.0&53.1374509&-0.426954967"},
        {"branch_base", "209.670535&81.9955396&152.22732"},
        {"gauge", "6.0"},
        {"neutral_factor", "0.668216278"},
        {"fit_allowance", "33.7020224"},
        {"face_up", "duct"},
        {"cut", "tilt"}}},
      {"tee",
       {{"diameter", "136.93213"},
        {"thickness", "50.0"},
        {"joint", "over"},
        {"length", "184.907027"},
        {"branch_diameter", "136.931993"},
        {"branch_length", "126.466065"},
        {"angle", "90.0"},
        {"position", "80.4409913"},
        {"around", "90.0"},
        {"offset", "0.0"},
        {"face_up", "air"}}},
      {"tee",
       {{"diameter", "304.8"},
        {"thickness", "50.8"},
        {"joint", "over"},
        {"length", "1203.32261"},
        {"branch_diameter", "289.345999"},
        {"branch_length", "1639.69796"},
        {"angle", "15.0"},
        {"position", "0.01"},
        {"around", "180.0"},
        {"offset", "0.0"},
        {"fit_allowance", "100.0"},
        {"end_allowance", "25.0"},
        {"face_up", "air"},
        {"cut", "mid"},
        {"board_width", "1500.0"},
        {"board_length", "2400.0"}}},
      // mitres that two chords follow
      {"offset",
       {{"diameter", "80.4713768"},
        {"thickness", "13.0"},
        {"pieces", "12"},
        {"radius_ratio", "9.04926463"},
        {"length", "151.607537"},
        {"offset", "4.46465852"}}},
      // holes as wide as their body and nearly 9 m long: the drawn outline follows them to its chord error
      {"tee",
       {{"diameter", "2325.48239"},
        {"thickness", "50.8"},
        {"length", "11820.4306"},
        {"branch_diameter", "2325.48239&2325.48239"},
        {"branch_length", "2077.11913&8930.27075"},
        {"angle", "60.0&15.0"},
        {"position", "704.773044&2912.95988"},
        {"around", "90.0&89.8098734"}}},
  };
  for (const auto& [kind, flags] : cases) {
    const MadeFiles made(kind, flags, without_pages());
    const auto results = asked_of(made);
    EXPECT_GT(results.size(), 12u);
    EXPECT_FALSE(fails(results, "")) << support::written(kind, flags) << "\n" << listed(results);
  }
}

// What a program made that takes no fit allowance off: the board is 19 mm too long.
TEST(AsAsked, AnIgnoredFitAllowanceFails) {
  for (const std::string kind : {"straight", "elbow", "reducer", "tee"}) {
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
  for (const char* name : {"asked faces", "asked cuts", "asked heights", "asked volumes", "asked open ends",
                           "asked mesh ends", "asked mesh corners", "asked blank", "asked parameters"})
    EXPECT_TRUE(fails(asked_of(made), name)) << name;
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
  for (const Other& other : others) {
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
