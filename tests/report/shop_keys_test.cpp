// Every key: changing it changes each part of the sheet that it bears on.
#include <gtest/gtest.h>

#include <set>

#include "shop_sheets.hpp"

namespace linerwright {
namespace {

using namespace sheets;

const Flags k_layers = with(k_elbow, {{"second_layer", "25"}});
const Flags k_rolling{{"diameter", "400"}, {"rise", "400"}, {"roll", "300"},
                      {"length", "1800"},  {"pieces", "3"}, {"thickness", "25"}};

struct Case {
  const char* kind;
  Flags flags;
  const char* key;
  const char* value;
  std::vector<const char*> parts;  // all that must change
};

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
      {"straight", k_straight, "openings", "sensor at 300mm around 90 diameter 25mm", {"patterns", "sizes"}},
      {"straight", k_straight, "seam_at", "90", {"table", "sizes"}},
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
      {"reducer", k_reducer, "seam_at", "90", {"table", "sizes"}},
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
  const Case* last = nullptr;
  ShopSheet before;
  for (const Case& each : cases()) {
    if (last == nullptr || last->kind != each.kind || last->flags != each.flags)
      before = sheet_of(each.kind, each.flags);
    last = &each;
    const ShopSheet after = sheet_of(each.kind, with(each.flags, {{each.key, each.value}}));
    for (const char* name : each.parts)
      EXPECT_NE(part(before, name), part(after, name))
          << each.kind << " --" << each.key << ' ' << each.value << ": " << name;
  }
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
      "division", "kerf_pitch",
      // a branch that turns: its pieces are an elbow's
      "turn_to", "turn_angle", "turn"};
  std::set<std::string> tried;
  for (const Case& each : cases()) tried.insert(each.key);
  const auto look = [&](const std::vector<KeySpec>& keys) {
    for (const KeySpec& key : keys) EXPECT_NE(tried.count(key.name), elsewhere.count(key.name)) << key.name;
  };
  look(job_schema().liner_keys);
  std::set<std::string> kinds;
  for (const Case& each : cases()) kinds.insert(each.kind);
  for (const Kind& kind : fitting_kinds())
    if (kinds.count(kind.schema.kind) > 0) look(kind.schema.keys);
  EXPECT_GE(kinds.size(), 8U);
}

}  // namespace
}  // namespace linerwright
