// The fittings every solid test goes through, degenerate ones among them.
#pragma once

#include <ostream>
#include <string>
#include <vector>

#include "support/held_back.hpp"
#include "support/openings_and_caps.hpp"
#include "support/requests.hpp"

namespace linerwright::support {

struct Case {
  std::string name;
  std::string kind;
  Flags flags;
};

inline void PrintTo(const Case& each, std::ostream* out) {
  *out << written(each.kind, each.flags);
}

inline const std::vector<Case>& solid_cases() {
  static const std::vector<Case> cases = [] {
    std::vector<Case> all;
    all.push_back({"straight", "straight", {{"diameter", "250"}, {"length", "600"}, {"thickness", "25"}}});

    const Flags held{{"diameter", "250"}, {"length", "600"}, {"thickness", "25"}, {"hold_back_start", "40"}};
    all.push_back({"straight_held_back", "straight", with(held, {{"hold_back_end", "25"}})});
    all.push_back({"straight_held_back_divided", "straight",
                   with(held, {{"board_width", "300"}, {"board_length", "500"}})});
    all.push_back({"straight_held_back_twice", "straight", with(held, {{"second_layer", "15"}})});
    const Flags both{{"hold_back_start", "30"}, {"hold_back_end", "20"}};
    const Flags bend{
        {"diameter", "315"}, {"angle", "70"}, {"pieces", "3"}, {"thickness", "25"}, {"collar", "60"}};
    all.push_back({"elbow_held_back", "elbow", with(bend, both)});
    const Flags cone{{"diameter", "400"}, {"to_diameter", "250"}, {"length", "300"}, {"thickness", "25"}};
    all.push_back({"reducer_held_back", "reducer", with(cone, both)});
    all.push_back({"reducer_flat_held_back", "reducer", with(with(cone, both), {{"flat", "yes"}})});
    all.push_back({"reducer_flat_held_back_divided", "reducer",
                   with(with(cone, both), {{"flat", "yes"}, {"panels", "3"}, {"second_layer", "10"}})});
    all.push_back({"tap_held_back", "tap", held_back_tap()});
    all.push_back({"tee_held_back", "tee", held_back_tee()});
    all.push_back({"wye_held_back", "wye", held_back_wye()});
    const Flags cap{{"diameter", "400"}, {"length", "300"}, {"thickness", "25"}};
    for (const char* seat : {"butt", "inside", "mitre"}) {
      all.push_back({std::string("cap_") + seat, "cap", with(cap, {{"seat", seat}})});
      const Flags alone = with(cap, {{"seat", seat}, {"length", "0"}});
      all.push_back({std::string("disc_alone_") + seat, "cap", alone});
      all.push_back({std::string("disc_alone_opened_") + seat, "cap", with(alone, opened_disc())});
    }
    all.push_back({"cap_in_panels", "cap", with(cap, {{"board_length", "800"}})});
    all.push_back({"cap_short_held_back",
                   "cap",
                   {{"diameter", "400"},
                    {"length", "120"},
                    {"thickness", "25"},
                    {"second_layer", "20"},
                    {"hold_back_start", "30"},
                    {"board_length", "700"},
                    {"seat", "mitre"}}});
    const Flags duct{{"diameter", "600"}, {"length", "1200"}, {"thickness", "25"}};
    all.push_back(
        {"opening_round", "straight", with(duct, {{"openings", "sensor at 300mm around 90 diameter 25mm"}})});
    all.push_back(
        {"opening_bevels", "straight",
         with(duct, {{"openings",
                      "test hole at 200mm around 60 diameter 150mm bevel straight, test hole at 500mm around "
                      "180 diameter 150mm bevel splayed splay 30 setback 10mm, access door at 850mm around "
                      "90 width 200mm length 300mm setback 20mm bevel straight metal yes"}})});
    all.push_back({"opening_shaft_divided", "straight",
                   with(duct, {{"openings", "damper shaft at 600mm around 30 diameter 20mm metal yes"},
                               {"board_width", "500"},
                               {"board_length", "1000"},
                               {"second_layer", "15"}})});
    all.push_back({"opening_in_a_gore",
                   "elbow",
                   {{"diameter", "400"},
                    {"angle", "60"},
                    {"pieces", "3"},
                    {"thickness", "25"},
                    {"openings", "test hole piece 2 at 90mm around 60 diameter 60mm bevel radial"}}});
    all.push_back({"opening_in_a_taper",
                   "reducer",
                   {{"diameter", "600"},
                    {"to_diameter", "400"},
                    {"length", "400"},
                    {"thickness", "25"},
                    {"openings",
                     "access door at 200mm around 90 width 180mm length 150mm setback 15mm metal yes, test "
                     "hole at 200mm around -60 diameter 120mm bevel straight, access door at 200mm around "
                     "10 width 120mm length 90mm bevel radial, access door at 190mm around -110 width "
                     "90mm length 80mm bevel straight"}}});
    all.push_back({"opening_in_a_leg",
                   "wye",
                   {{"diameter", "500"},
                    {"inlet_length", "300"},
                    {"leg_diameter", "400&300"},
                    {"leg_length", "600"},
                    {"angle", "30"},
                    {"thickness", "25"},
                    {"openings", "sensor piece leg2 at 250mm around 90 diameter 40mm bevel straight"}}});
    for (const char* seat : {"butt", "inside", "mitre"})
      all.push_back(
          {std::string("openings_in_a_disc_") + seat, "cap",
           with(cap, {{"seat", seat},
                      {"openings",
                       "test hole piece disc at 185mm around 30 diameter 100mm bevel splayed metal yes, "
                       "access door piece disc at 85mm around 200 width 60mm length 50mm metal yes"}})});
    const Flags elbow{{"diameter", "315"}, {"angle", "90"}, {"pieces", "5"}, {"thickness", "25"}};
    for (const char* pieces : {"2", "3", "4", "5", "7", "12"})
      all.push_back({std::string("elbow_pieces_") + pieces, "elbow", with(elbow, {{"pieces", pieces}})});
    for (const char* angle : {"1", "2", "45", "120", "180"})
      all.push_back(
          {std::string("elbow_angle_") + angle, "elbow",
           with(elbow, {{"angle", angle}, {"pieces", angle[1] == '\0' ? "2" : "6"}, {"collar", "20"}})});
    all.push_back({"elbow_collar", "elbow", with(elbow, {{"collar", "75"}, {"seam", "heel"}})});
    all.push_back({"elbow_tight", "elbow", with(elbow, {{"radius_ratio", "0.55"}, {"pieces", "4"}})});
    all.push_back({"elbow_thin_liner", "elbow", with(elbow, {{"thickness", "1"}})});
    all.push_back({"elbow_thick_liner", "elbow", with(elbow, {{"thickness", "156"}})});
    const Flags offset{
        {"diameter", "400"}, {"centreline_radius", "500"}, {"angle", "40"}, {"thickness", "25"}};
    all.push_back({"offset", "offset", with(offset, {{"offset", "450"}, {"pieces", "3"}})});
    all.push_back(
        {"offset_short", "offset", with(offset, {{"offset", "200"}, {"pieces", "2"}, {"collar", "40"}})});
    all.push_back({"offset_divided", "offset",
                   with(offset, {{"offset", "900"}, {"pieces", "4"}, {"board_width", "600"}})});
    all.push_back({"offset_smooth", "offset",
                   with(offset, {{"offset", "450"}, {"pieces", "3"}, {"form", "smooth"}, {"collar", "30"}})});
    for (const char* pieces : {"2", "5", "12"})
      all.push_back(
          {std::string("smooth_pieces_") + pieces, "elbow",
           with(elbow, {{"form", "smooth"}, {"pieces", pieces}, {"angle", pieces[0] == '2' ? "40" : "90"}})});
    all.push_back({"smooth_collar", "elbow", with(elbow, {{"form", "smooth"}, {"collar", "60"}})});

    const Flags reducer{{"diameter", "400"}, {"to_diameter", "250"}, {"length", "300"}, {"thickness", "25"}};
    const Flags collars{{"collar", "80"}, {"to_collar", "60"}};
    all.push_back({"reducer_plain", "reducer", reducer});
    all.push_back({"reducer_collars", "reducer", with(reducer, collars)});
    all.push_back({"reducer_one_collar", "reducer", with(reducer, {{"to_collar", "60"}})});
    all.push_back({"reducer_growing", "reducer",
                   with(with(reducer, collars), {{"diameter", "250"}, {"to_diameter", "400"}})});
    all.push_back({"reducer_slight", "reducer", with(with(reducer, collars), {{"to_diameter", "399.99"}})});
    all.push_back({"reducer_steep", "reducer", with(with(reducer, collars), {{"length", "60"}})});
    all.push_back({"reducer_flat", "reducer", with(with(reducer, collars), {{"flat", "yes"}})});
    all.push_back({"reducer_flat_growing", "reducer",
                   with(with(reducer, collars),
                        {{"diameter", "250"}, {"to_diameter", "400"}, {"offset", "75"}, {"flat_at", "90"}})});
    // steep flat tapers whose layers only just reach their collars' turn sharply beside the flat side
    all.push_back({"reducer_flat_steepest",
                   "reducer",
                   {{"diameter", "197.66"},
                    {"to_diameter", "312.5"},
                    {"length", "7.93"},
                    {"offset", "57.36258"},
                    {"thickness", "9.944"},
                    {"panels", "4"},
                    {"collar", "43.49"},
                    {"to_collar", "84.37"}}});
    all.push_back({"reducer_flat_steep_large",
                   "reducer",
                   {{"diameter", "581.37"},
                    {"to_diameter", "1070.59"},
                    {"length", "31.658"},
                    {"offset", "244.60938"},
                    {"thickness", "25"},
                    {"panels", "2"},
                    {"collar", "77.97"}}});
    all.push_back({"reducer_offset_plain", "reducer", with(reducer, {{"offset", "40"}})});
    all.push_back({"reducer_offset_equal", "reducer",
                   with(with(reducer, collars), {{"to_diameter", "400"}, {"offset", "60"}})});

    const Flags tee{{"diameter", "300"},
                    {"length", "1000"},
                    {"branch_diameter", "200"},
                    {"branch_length", "450"},
                    {"thickness", "25"}};
    all.push_back({"tee", "tee", tee});
    all.push_back({"tee_small", "tee", with(tee, {{"branch_diameter", "60"}})});
    all.push_back({"tee_equal", "tee", with(tee, {{"branch_diameter", "300"}})});
    for (const char* size : {"299.99", "299.999", "299.99999"})
      all.push_back(
          {"tee_near_equal_" + std::to_string(all.size()), "tee", with(tee, {{"branch_diameter", size}})});
    for (const char* aside : {"30", "50", "-50", "49.9999", "49.999999"})
      all.push_back({"tee_offset_" + std::to_string(all.size()), "tee", with(tee, {{"offset", aside}})});
    const Flags lateral =
        with(tee, {{"length", "4000"}, {"branch_length", "1500"}, {"branch_diameter", "160"}});
    for (const char* angle : {"15", "30", "45", "60", "75", "105", "120", "135", "165"})
      all.push_back({std::string("lateral_") + angle, "tee", with(lateral, {{"angle", angle}})});
    all.push_back({"lateral_equal_45", "tee", with(lateral, {{"angle", "45"}, {"branch_diameter", "300"}})});
    all.push_back(
        {"lateral_near_equal", "tee", with(lateral, {{"angle", "60"}, {"branch_diameter", "299.99"}})});
    const Flags turned = with(tee, {{"length", "1400"}, {"angle", "45"}, {"branch_length", "700"}});
    all.push_back({"lateral_turned_equal", "tee",
                   with(turned, {{"turn_to", "90"}, {"branch_diameter", "300"}, {"pieces", "2"}})});
    all.push_back({"lateral_turned_conical", "tee",
                   with(turned, {{"turn_to", "90"}, {"branch_base", "260"}, {"hold_back_branch", "20"}})});
    all.push_back({"lateral_turned_divided", "tee",
                   with(turned, {{"turn_to", "110"}, {"board_width", "1000"}, {"board_length", "900"}})});
    all.push_back({"lateral_tangent", "tee", with(lateral, {{"angle", "45"}, {"offset", "70"}})});
    all.push_back({"lateral_nearly_tangent", "tee", with(lateral, {{"angle", "45"}, {"offset", "69.9999"}})});
    // turned around the body, rounding decides whether equal walls touch at their sides
    all.push_back({"lateral_equal_turned",
                   "tee",
                   {{"angle", "67.122527"},
                    {"around", "34.510791"},
                    {"branch_diameter", "1441.693055"},
                    {"branch_length", "3179.562762"},
                    {"diameter", "1441.693055"},
                    {"fit_allowance", "0"},
                    {"gauge", "1.76687"},
                    {"length", "9488.688287"},
                    {"thickness", "5.747774"}}});
    for (const char* joint : {"over", "through"}) {
      all.push_back({std::string("tee_") + joint, "tee", with(tee, {{"joint", joint}})});
      all.push_back({std::string("lateral_") + joint, "tee",
                     with(lateral, {{"joint", joint}, {"angle", "45"}, {"offset", "20"}})});
    }
    all.push_back({"tee_equal_over", "tee", with(tee, {{"joint", "over"}, {"branch_diameter", "300"}})});
    all.push_back({"conical", "tee", with(tee, {{"branch_base", "240"}, {"branch_diameter", "160"}})});
    all.push_back({"conical_lateral", "tee",
                   with(lateral, {{"branch_base", "220"}, {"branch_diameter", "160"}, {"angle", "60"}})});
    all.push_back({"conical_over", "tee",
                   with(tee, {{"branch_base", "220"}, {"branch_diameter", "180"}, {"joint", "over"}})});
    all.push_back({"cross", "tee", with(tee, {{"branch_diameter", "200&200"}, {"around", "0&180"}})});
    all.push_back({"cross_unequal", "tee",
                   with(tee, {{"branch_diameter", "200&120"}, {"around", "0&90"}, {"position", "300&700"}})});
    all.push_back({"double_lateral", "tee",
                   with(lateral, {{"branch_diameter", "160&125"},
                                  {"around", "0&180"},
                                  {"angle", "45&60"},
                                  {"position", "1500&1600"}})});
    const Flags tap{
        {"diameter", "300"}, {"branch_diameter", "200"}, {"branch_length", "450"}, {"thickness", "25"}};
    for (const char* joint : {"mitre", "over", "through"}) {
      all.push_back({std::string("tap_") + joint, "tap", with(tap, {{"joint", joint}})});
      all.push_back(
          {std::string("tap_lateral_") + joint, "tap",
           with(tap, {{"joint", joint}, {"angle", "50"}, {"offset", "20"}, {"branch_length", "700"}})});
      all.push_back({std::string("tap_conical_") + joint, "tap",
                     with(tap, {{"joint", joint}, {"branch_base", "200"}, {"branch_diameter", "160"}})});
    }
    all.push_back({"tap_equal", "tap", with(tap, {{"branch_diameter", "300"}})});
    all.push_back({"tap_tangent", "tap", with(tap, {{"offset", "50"}})});
    all.push_back({"tap_divided", "tap",
                   with(tap, {{"diameter", "700"},
                              {"branch_diameter", "500"},
                              {"branch_length", "1400"},
                              {"board_width", "600"},
                              {"board_length", "1000"}})});
    all.push_back({"tap_two_layers", "tap", with(tap, {{"second_layer", "15"}, {"angle", "70"}})});
    // the analyzer found these edges further from their faces than their tolerances said
    all.push_back({"elbow_two_steep",
                   "elbow",
                   {{"diameter", "390.104"},
                    {"angle", "111.629"},
                    {"pieces", "2"},
                    {"radius_ratio", "1.330"},
                    {"collar", "45.030"},
                    {"thickness", "39.408"}}});
    all.push_back({"lateral_nearly_equal",
                   "tee",
                   {{"diameter", "412.405"},
                    {"branch_diameter", "397.181"},
                    {"angle", "54.385"},
                    {"around", "159.332"},
                    {"offset", "-2.525"},
                    {"length", "2191.728"},
                    {"branch_length", "1345.037"},
                    {"thickness", "38.462"}}});
    // walls about one sphere: equal and unequal legs, four walls in two poles, a middle leg that does not
    // reach the inlet, legs out of one plane, legs that part straight away from each other
    const Flags wye{{"diameter", "500"},   {"inlet_length", "300"}, {"leg_diameter", "400&300"},
                    {"leg_length", "600"}, {"angle", "30"},         {"thickness", "25"}};
    const Flags breeches = with(wye, {{"legs", "3"}, {"angle", "0&40&40"}, {"around", "0&0&180"}});
    all.push_back({"wye_unequal", "wye", wye});
    all.push_back({"wye_cylinders", "wye", with(wye, {{"leg_diameter", "500"}})});
    all.push_back({"wye_straight_on", "wye", with(wye, {{"angle", "0&45"}, {"leg_seam", "120"}})});
    all.push_back({"wye_widening", "wye",
                   with(wye, {{"leg_diameter", "500&600"},
                              {"angle", "20&60"},
                              {"leg_length", "900"},
                              {"inlet_length", "500"}})});
    all.push_back({"wye_contrary", "wye",
                   with(wye, {{"leg_diameter", "400"}, {"angle", "90"}, {"inlet_length", "400"}})});
    all.push_back({"wye_contrary_cylinders", "wye",
                   with(wye, {{"leg_diameter", "500"}, {"angle", "90"}, {"inlet_length", "400"}})});
    all.push_back(
        {"breeches_poles", "wye", with(breeches, {{"leg_diameter", "500"}, {"leg_length", "800"}})});
    all.push_back({"breeches", "wye", with(breeches, {{"leg_diameter", "300"}})});
    all.push_back({"breeches_middle_apart", "wye", with(breeches, {{"leg_diameter", "250&300&300"}})});
    all.push_back(
        {"breeches_around", "wye", with(wye, {{"legs", "3"}, {"leg_diameter", "300"}, {"angle", "35"}})});
    all.push_back({"wye_divided", "wye",
                   with(wye, {{"diameter", "900"},
                              {"inlet_length", "1200"},
                              {"leg_diameter", "700&600"},
                              {"leg_length", "1800&1500"},
                              {"board_width", "1000"},
                              {"board_length", "1500"}})});
    const Flags path{{"diameter", "400"}, {"thickness", "25"}};
    all.push_back(
        {"path", "path",
         with(path, {{"parts",
                      "straight 100mm, bend 60, straight 200mm, bend 45 pieces 4 turn 70, straight 50mm"}})});
    all.push_back(
        {"path_tapers", "path",
         with(path, {{"parts",
                      "taper to 300mm over 250mm, bend 45, taper to 450mm over 300mm, taper to 400mm over "
                      "200mm, bend 30 turn 180, straight 100mm"}})});
    all.push_back({"path_divided", "path",
                   with(path, {{"parts", "straight 1500mm, bend 90 pieces 5, taper to 250mm over 900mm"},
                               {"board_width", "900"},
                               {"board_length", "1000"}})});
    // pieces divided for a board
    all.push_back({"straight_divided",
                   "straight",
                   {{"diameter", "600"},
                    {"length", "900"},
                    {"thickness", "25"},
                    {"board_width", "500"},
                    {"board_length", "800"}}});
    all.push_back({"elbow_divided",
                   "elbow",
                   {{"diameter", "500"},
                    {"angle", "90"},
                    {"pieces", "4"},
                    {"thickness", "25"},
                    {"board_length", "900"}}});
    all.push_back({"reducer_divided",
                   "reducer",
                   {{"diameter", "500"},
                    {"to_diameter", "350"},
                    {"length", "600"},
                    {"offset", "60"},
                    {"collar", "80"},
                    {"thickness", "25"},
                    {"board_width", "400"},
                    {"board_length", "900"}}});
    all.push_back({"tee_divided",
                   "tee",
                   {{"diameter", "500"},
                    {"length", "1500"},
                    {"branch_diameter", "250"},
                    {"branch_length", "700"},
                    {"thickness", "25"},
                    {"board_width", "700"},
                    {"board_length", "1000"}}});
    // rings of a body were cut through the metal's hole, which is larger than the board's under joint over
    all.push_back({"tee_over_equal_divided",
                   "tee",
                   {{"around", "204.090994"},
                    {"board_length", "1862.098054"},
                    {"board_width", "490.40143"},
                    {"branch_diameter", "119.022409"},
                    {"branch_length", "288.044817"},
                    {"diameter", "119.022409"},
                    {"gauge", "1.590709"},
                    {"joint", "over"},
                    {"length", "814.134451"},
                    {"thickness", "30.246136"}}});
    all.push_back({"tee_over_off_centre_divided",
                   "tee",
                   {{"around", "-18.434092"},
                    {"board_length", "1571.083401"},
                    {"board_width", "976.936823"},
                    {"branch_diameter", "178.630239"},
                    {"branch_length", "598.147545"},
                    {"diameter", "274.073772"},
                    {"gauge", "0.941521"},
                    {"joint", "over"},
                    {"length", "1458.112034"},
                    {"offset", "-27.958884"},
                    {"thickness", "63.096873"}}});
    all.push_back({"tee_over_two_conical_divided",
                   "tee",
                   {{"around", "-180&-90"},
                    {"board_length", "1533.214898"},
                    {"board_width", "1192.256048"},
                    {"branch_base", "327.639815&293.384886"},
                    {"branch_diameter", "327.639815&285.648758"},
                    {"branch_length", "736.825112&736.825112"},
                    {"diameter", "343.412556"},
                    {"gauge", "2.286096"},
                    {"joint", "over"},
                    {"length", "4100.341058"},
                    {"offset", "7.88637&0"},
                    {"position", "1056.578557&3106.749086"},
                    {"thickness", "50.591497"}}});
    return all;
  }();
  return cases;
}

inline double thinnest(const Fitting& fitting) {
  return fitting.liner.gauge < fitting.liner.thickness ? fitting.liner.gauge : fitting.liner.thickness;
}

}  // namespace linerwright::support
