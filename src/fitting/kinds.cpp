#include <algorithm>
#include <cmath>

#include "common.hpp"
#include "divider.hpp"
#include "hold_back.hpp"
#include "layers.hpp"
#include "linerwright/fitting/shop_words.hpp"
#include "open_holes.hpp"
#include "opening_words.hpp"
#include "openings.hpp"

namespace linerwright {

namespace {

KeySpec air_key(std::string name, Quantity quantity, std::string help, std::optional<std::string> value,
                double min, double max) {
  KeySpec key = length_key(std::move(name), std::move(help), {}, min, max);
  key.quantity = quantity;
  key.default_value = std::move(value);
  key.optional = !key.default_value;
  return key;
}

KeySpec per_passage(KeySpec key) {
  key.many = true;
  return key;
}

// What any fitting may say about its air.
std::vector<KeySpec> air_keys_of_fitting() {
  return {air_key("flow", Quantity::flow,
                  "air flow through the fitting, of a tee at its body's first end, of a wye in its inlet",
                  std::nullopt, 1e-6, 1e4),
          per_passage(air_key(
              "loss_coefficient", Quantity::number,
              "the designer's loss coefficient, on the lined velocity pressure; one for each passage, "
              "instead of a published formula's",
              std::nullopt, -100.0, 100.0)),
          per_passage(air_key("bare_loss_coefficient", Quantity::number,
                              "the same for the bare fitting, on the bare velocity pressure", std::nullopt,
                              -100.0, 100.0)),
          optional_choice_key("upstream",
                              "what the air comes from: lined duct, or bare metal of the same diameter",
                              k_beside_choices),
          optional_choice_key("downstream",
                              "what the air goes on into: lined duct, or bare metal of the same diameter",
                              k_beside_choices)};
}

// Of a fitting with branches or legs.
std::vector<KeySpec> branch_air_keys() {
  return {per_passage(air_key("branch_flow", Quantity::flow,
                              "air flow out of each branch or leg; with a minus sign into the body",
                              std::nullopt, -1e4, 1e4))};
}

std::vector<KeySpec> air_keys() {
  KeySpec efficiency =
      air_key("fan_efficiency", Quantity::number,
              "efficiency of fan and motor, for the power that the losses take", std::nullopt, 0.01, 1.0);
  return {
      air_key("density", Quantity::density, "density of the air", "1.204kg/m3", 0.1, 10.0),
      air_key("viscosity", Quantity::viscosity, "kinematic viscosity of the air", "1.506e-5m2/s", 1e-7, 1e-3),
      air_key("temperature", Quantity::temperature,
              "of the air in the duct, instead of density and viscosity", std::nullopt, -50.0, 200.0),
      air_key("altitude", Quantity::length, "of the site above the sea, instead of pressure", std::nullopt,
              -5e5, 1.1e7),
      air_key("pressure", Quantity::pressure, "absolute pressure of the air", std::nullopt, 1e4, 1e6),
      air_key("room_temperature", Quantity::temperature,
              "of the room the ducts hang in: what heat they gain or lose", std::nullopt, -50.0, 100.0),
      air_key("room_humidity", Quantity::percent,
              "relative humidity of that room: whether water settles on the metal", std::nullopt, 0.0, 100.0),
      air_key("emissivity", Quantity::number, "of the metal's outside, if not clean galvanized (0.26)",
              std::nullopt, 0.01, 1.0),
      air_key("humidity", Quantity::percent, "relative humidity of the air", std::nullopt, 0.0, 100.0),
      air_key("flow", Quantity::flow, "air flow for fittings that name none", std::nullopt, 1e-6, 1e4),
      efficiency,
      air_key("least_share", Quantity::percent,
              "least share of a bare area that the lining may leave; under it the report warns", std::nullopt,
              1.0, 100.0)};
}

// What any fitting may say beside its sizes.
std::vector<KeySpec> keys_of_any() {
  return {optional_key(text_key("note", "what the schedule remarks about the fitting")), openings_key(),
          optional_key(text_key(
              "division",
              "rings and panels of its pieces, as nest plans them: \"1: 44in + 4in / 2\" cuts piece 1 "
              "into two rings, the second in two panels"))};
}

// How a job's metal is counted.
std::vector<KeySpec> totals_keys() {
  return {air_key("metal_density", Quantity::density, "density of the metal; steel unless you say otherwise",
                  "7850kg/m3", 100.0, 25000.0),
          optional_key(length_key("inner_gauge",
                                  "inner wall of double-wall duct, to see how much metal the lining spares",
                                  {}, 0.1, 6.0)),
          air_key("inner_open", Quantity::number, "share of that inner wall that is perforated away", "0",
                  0.0, 0.9)};
}

std::vector<Kind> make_kinds() {
  std::vector<Kind> kinds{
      {straight_schema(), make_straight}, {elbow_schema(), make_elbow},
      {offset_schema(), make_offset},     {reducer_schema(), make_reducer},
      {tee_schema(), make_tee},           {tap_schema(), make_tap},
      {wye_schema(), make_wye},           {cap_schema(), make_cap},
      {path_schema(), make_path},         {square_to_round_schema(), make_square_to_round}};
  for (Kind& kind : kinds) {
    std::vector<KeySpec>& all = kind.schema.keys;
    for (KeySpec& key : all)
      key.duct_size = key.name.find("diameter") != std::string::npos || key.name == "branch_base";
    const bool branches = std::any_of(all.begin(), all.end(), [](const KeySpec& key) {
      return (key.name == "branch_diameter" && key.many) || key.name == "leg_diameter";
    });
    if (branches)
      for (KeySpec& key : branch_air_keys()) all.push_back(std::move(key));
    for (const auto& keys : {air_keys_of_fitting(), head_keys(), keys_of_any()})
      all.insert(all.end(), keys.begin(), keys.end());
  }
  return kinds;
}

}  // namespace

const std::vector<Kind>& fitting_kinds() {
  static const std::vector<Kind> kinds = make_kinds();
  return kinds;
}

const JobSchema& job_schema() {
  static const JobSchema schema = [] {
    JobSchema made;
    for (const Kind& kind : fitting_kinds()) made.kinds.push_back(kind.schema);
    made.liner_keys = liner_keys();
    made.tables["air"] = air_keys();
    made.tables["totals"] = totals_keys();
    made.tables["knife"] = knife_keys();
    made.tables["boards"] = division_keys();
    made.tables["dxf"] = dxf_keys();
    made.tables["stickers"] = sticker_keys();
    made.tables["rates"] = rate_keys();
    made.lists["stock"] = stock_keys();
    made.lists["run"] = run_keys();
    return made;
  }();
  return schema;
}

namespace {

const Kind& kind_of(const FittingRequest& request) {
  const auto& kinds = fitting_kinds();
  const auto kind =
      std::find_if(kinds.begin(), kinds.end(), [&](const Kind& k) { return k.schema.kind == request.kind; });
  if (kind == kinds.end()) throw InputError({problem_of(request, "kind", {}, "unknown kind of fitting")});
  return *kind;
}

}  // namespace

Fitting build_by(const Kind& kind, const FittingRequest& request) {
  Fitting fitting = kind.build(request);
  Reasons reasons(request);
  add_openings(reasons, fitting);
  reasons.throw_if_any();
  require_open_holes(reasons, fitting);
  reasons.throw_if_any();
  add_bare_ends(fitting);
  return fitting;
}

Fitting build_whole(const FittingRequest& request) {
  const Kind& kind = kind_of(request);
  Reasons reasons(request);
  require_second_layer(reasons, request);
  reasons.throw_if_any();
  return build_by(kind, request);
}

namespace {

// Divided, the cuts of the first layer `off_middle` mm beyond where even rings have them, with its second
// layer.
Fitting make_layers(const FittingRequest& request, double off_middle) {
  Fitting fitting = build_whole(request);
  Reasons reasons(request);
  divide(reasons, fitting, {}, off_middle);
  reasons.throw_if_any();
  split_bare_ends(fitting);
  if (request.values.has("second_layer")) add_second_layer(fitting, kind_of(request));
  return fitting;
}

// Cuts of both layers keep min_panel apart: where that leaves the second's no room, the first's go half of it
// to either side. What is refused is what even rings are refused for.
Fitting make_layers(const FittingRequest& request) {
  try {
    return make_layers(request, 0.0);
  } catch (const InputError&) {
    if (!request.values.has("second_layer") || !std::isfinite(room_of(request).along)) throw;
    const double half = 0.5 * request.values.quantity("min_panel");
    for (const double off_middle : {half, -half}) try {
        return make_layers(request, off_middle);
      } catch (const InputError&) {
        // told as even rings are
      }
    throw;
  }
}

}  // namespace

Fitting make_fitting(const FittingRequest& request) {
  Fitting fitting = make_layers(request);
  Reasons reasons(request);
  require_clear_seams(reasons, fitting);
  reasons.throw_if_any();
  letter_joints(fitting);
  for (std::string& warning : shop_warnings(fitting)) fitting.warnings.push_back(std::move(warning));
  fitting.steps = work_steps(fitting);
  return fitting;
}

}  // namespace linerwright
