#include <algorithm>

#include "common.hpp"
#include "divide.hpp"
#include "layers.hpp"

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

// What any fitting may say about its air.
std::vector<KeySpec> air_keys_of_fitting() {
  return {
      air_key("flow", Quantity::flow, "air flow through the fitting", std::nullopt, 1e-6, 1e4),
      air_key("loss_coefficient", Quantity::number,
              "the designer's loss coefficient, on the lined velocity pressure", std::nullopt, 0.0, 100.0)};
}

KeySpec note_key() {
  KeySpec key;
  key.name = "note";
  key.type = ValueType::text;
  key.help = "what the schedule remarks about the fitting";
  key.optional = true;
  return key;
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
  std::vector<Kind> kinds{{straight_schema(), make_straight},
                          {elbow_schema(), make_elbow},
                          {offset_schema(), make_offset},
                          {reducer_schema(), make_reducer},
                          {tee_schema(), make_tee}};
  for (Kind& kind : kinds) {
    for (KeySpec& key : kind.schema.keys)
      key.duct_size = key.name.find("diameter") != std::string::npos || key.name == "branch_base";
    for (const auto& keys : {air_keys_of_fitting(), head_keys(), {note_key()}})
      kind.schema.keys.insert(kind.schema.keys.end(), keys.begin(), keys.end());
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
    made.tables["air"] = {
        air_key("density", Quantity::density, "density of the air", "1.204kg/m3", 0.1, 10.0),
        air_key("viscosity", Quantity::viscosity, "kinematic viscosity of the air", "1.506e-5m2/s", 1e-7,
                1e-3),
        air_key("flow", Quantity::flow, "air flow for fittings that name none", std::nullopt, 1e-6, 1e4)};
    made.tables["totals"] = totals_keys();
    made.tables["knife"] = knife_keys();
    made.lists["stock"] = stock_keys();
    return made;
  }();
  return schema;
}

Fitting make_fitting(const FittingRequest& request) {
  const auto& kinds = fitting_kinds();
  const auto kind =
      std::find_if(kinds.begin(), kinds.end(), [&](const Kind& k) { return k.schema.kind == request.kind; });
  if (kind == kinds.end()) throw InputError({problem_of(request, "kind", {}, "unknown kind of fitting")});
  Reasons reasons(request);
  require_second_layer(reasons, request);
  reasons.throw_if_any();
  Fitting fitting = kind->build(request);
  divide(reasons, fitting);
  reasons.throw_if_any();
  if (request.values.has("second_layer")) add_second_layer(fitting, *kind);
  return fitting;
}

}  // namespace linerwright
