// A small schema for the tests of the reader: three kinds that share keys, a liner, one table, one list.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "linerwright/job/job.hpp"

namespace linerwright::testing {

inline KeySpec length_key(const std::string& name, const std::string& help) {
  KeySpec key;
  key.name = name;
  key.help = help;
  key.min = 0.0;
  key.min_open = true;
  key.max = 3048.0;  // 120 in
  return key;
}

inline JobSchema test_schema() {
  KeySpec diameter = length_key("diameter", "inside diameter of the duct");
  diameter.sample = "24";
  diameter.range_reason = "no round duct has this diameter";

  KeySpec angle;
  angle.name = "angle";
  angle.quantity = Quantity::angle;
  angle.help = "turn of the bend";
  angle.default_value = "90";
  angle.min = 0.0;
  angle.min_open = true;
  angle.max = 3.14159265358979323846;
  angle.sample = "90";

  KeySpec gores;
  gores.name = "gores";
  gores.type = ValueType::integer;
  gores.help = "segments of the bend";
  gores.default_value = "5";
  gores.min = 2;
  gores.max = 24;

  KeySpec form;
  form.name = "form";
  form.type = ValueType::choice;
  form.help = "how the bend is made";
  form.choices = {"gored", "smooth"};
  form.default_value = "gored";
  form.sample = "gored";

  KeySpec collar = length_key("collar", "straight spigot at each end");
  collar.optional = true;

  KeySpec to_diameter = length_key("to_diameter", "inside diameter of the small end");
  to_diameter.sample = "20in";

  KeySpec eccentric;
  eccentric.name = "eccentric";
  eccentric.type = ValueType::flag;
  eccentric.help = "one side straight";
  eccentric.default_value = "no";
  eccentric.sample = "yes";

  KeySpec length = length_key("length", "length of the fitting");
  length.sample = "1'-6 1/2\"";

  KeySpec note;
  note.name = "note";
  note.type = ValueType::text;
  note.help = "words for the label";
  note.optional = true;
  note.sample = "say \"up\" \\ down";

  KeySpec thickness = length_key("thickness", "thickness of the board");
  thickness.max = 101.6;  // 4 in
  thickness.range_reason = "no board has this thickness";
  thickness.sample = "1in";

  KeySpec allowance = length_key("fit_allowance", "taken off the stretch-out");
  allowance.default_value = "0.75in";
  allowance.min_open = false;

  KeySpec factor;
  factor.name = "neutral_factor";
  factor.quantity = Quantity::number;
  factor.help = "depth of the fibre that keeps its length";
  factor.default_value = "0";
  factor.min = 0.0;
  factor.max = 1.0;

  KeySpec viscosity;
  viscosity.name = "viscosity";
  viscosity.quantity = Quantity::viscosity;
  viscosity.help = "kinematic viscosity";
  viscosity.default_value = "1.5e-5";
  viscosity.min = 1e-6;
  viscosity.max = 1e-4;

  KeySpec width = length_key("width", "across the board");
  width.sample = "48";

  JobSchema schema;
  schema.kinds = {{"elbow", "a bend", {diameter, angle, gores, form, collar}},
                  {"reducer", "from one diameter to another", {diameter, to_diameter, length, eccentric}},
                  {"straight", "a length of duct", {diameter, length, note}}};
  schema.liner_keys = {thickness, allowance, factor};
  schema.tables["air"] = {viscosity};
  schema.lists["stock"] = {width};
  return schema;
}

// The same where a diameter may be several.
inline JobSchema several_schema() {
  JobSchema schema = test_schema();
  for (KindSchema& kind : schema.kinds)
    for (KeySpec& key : kind.keys) key.many = key.name == "diameter";
  return schema;
}

// The request made from what another keeps as written.
inline FittingRequest made_again(const FittingRequest& request, const JobSchema& schema) {
  std::map<std::string, std::string> flags;
  for (const auto& [key, value] : request.values.all())
    if (value.given) flags[key] = value.written;
  return request_from_flags(request.kind, flags, request.units, schema);
}

// The messages of all problems, one line each.
inline std::string lines(const std::vector<Problem>& problems) {
  std::string out;
  for (const Problem& problem : problems) out += one_line(problem) + "\n";
  return out;
}

// The problems of a job that must not be read, or "no error" and those of its fittings.
inline std::string refusal(const std::string& text, const std::string& file = "job.toml",
                           const JobDefaults& defaults = {}, const JobSchema& schema = test_schema()) {
  try {
    return "no error\n" + lines(read_job_text(text, file, schema, defaults).problems);
  } catch (const InputError& error) {
    return lines(error.problems());
  }
}

}  // namespace linerwright::testing
