#include "common.hpp"

#include "divider.hpp"
#include "layers.hpp"
#include "linerwright/fitting/shop_words.hpp"
#include "linerwright/units/error.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace linerwright {

KeySpec length_key(std::string name, std::string help, std::string sample, double min, double max) {
  KeySpec key;
  key.name = std::move(name);
  key.help = std::move(help);
  key.sample = std::move(sample);
  key.min = min;
  key.max = max;
  return key;
}

KeySpec text_key(std::string name, std::string help) {
  KeySpec key;
  key.name = std::move(name);
  key.type = ValueType::text;
  key.help = std::move(help);
  return key;
}

KeySpec optional_key(KeySpec key) {
  key.optional = true;
  return key;
}

KeySpec with_default(KeySpec key, std::string value) {
  key.default_value = std::move(value);
  return key;
}

KeySpec choice_key(std::string name, std::string help, std::vector<std::string> choices) {
  KeySpec key;
  key.name = std::move(name);
  key.type = ValueType::choice;
  key.help = std::move(help);
  key.choices = std::move(choices);
  return key;
}

KeySpec quantity_key(std::string name, Quantity quantity, std::string help, std::string value, double min,
                     double max) {
  KeySpec key = with_default(length_key(std::move(name), std::move(help), {}, min, max), std::move(value));
  key.quantity = quantity;
  return key;
}

KeySpec integer_key(std::string name, std::string help, std::string sample, double min, double max) {
  KeySpec key = length_key(std::move(name), std::move(help), std::move(sample), min, max);
  key.type = ValueType::integer;
  return key;
}

std::vector<KeySpec> liner_keys() {
  std::vector<KeySpec> keys;
  keys.push_back(
      length_key("thickness", "thickness of the board, along the wall's normal", "1in", 1.0, 300.0));
  keys.push_back(with_default(length_key("gauge", "thickness of the metal", {}, 0.3, 6.0), "0.8mm"));
  keys.push_back(
      with_default(length_key("fit_allowance", "taken off the stretch-out so that the rolled liner goes in",
                              {}, 0.0, 100.0),
                   "0.75in"));
  keys.push_back(with_default(
      length_key("end_allowance", "extra board at an open end, trimmed flush once fitted", {}, 0.0, 300.0),
      "0mm"));
  keys.push_back(with_default(
      length_key("butt_allowance", "extra board along the axis at each joint, compressed when fitted", {},
                 0.0, 50.0),
      "0mm"));
  keys.push_back(quantity_key("neutral_factor", Quantity::number,
                              "share of the thickness at which bending keeps the length; 0 is the duct face",
                              "0", 0.0, 1.0));
  keys.push_back(
      choice_key("face_up", "face that is up on the cutting table", k_face_up_choices, Face::duct));
  keys.push_back(choice_key("cut", "what the knife follows where the two faces differ", k_cut_choices,
                            CutPolicy::outer));
  keys.push_back(choice_key("joint", "how a branch sits in its body", k_joint_choices, JointStyle::mitre));
  keys.push_back(choice_key(
      "flow_arrow",
      "way of the air drawn on the pieces: along their numbers and out of the branches, or against; of a "
      "tee also to_branch, from both ends into the branch, and from_branch, out of it to both ends",
      k_flow_choices, Flow::along));
  keys.push_back(
      with_default(integer_key("stations", "ordinates given around each piece", {}, 4, 360), "12"));
  keys.push_back(
      with_default(length_key("min_taper", "a shorter taper gets a warning", {}, 0.0, 5000.0), "12in"));
  KeySpec fold_above = optional_key(length_key(
      "fold_above",
      "rings of a larger diameter may be folded inward to push them in: one for every board, or one for each "
      "of fold_thickness (default: nothing is said)",
      {}, 25.0, 10000.0));
  KeySpec fold_thickness = optional_key(length_key(
      "fold_thickness", "boards up to these thicknesses take the diameters of fold_above, in the same order",
      {}, 1.0, 200.0));
  for (KeySpec* key : {&fold_above, &fold_thickness}) {
    key->many = true;
    keys.push_back(std::move(*key));
  }
  KeySpec open_share = optional_key(length_key(
      "least_open_area",
      "share of the bare area under which what the liner leaves open gets a warning (default: none)", {}, 0.0,
      1.0));
  open_share.quantity = Quantity::number;
  keys.push_back(std::move(open_share));
  keys.push_back(with_default(
      length_key("pins_above", "larger ducts need mechanical fasteners for the liner", {}, 0.0, 10000.0),
      "60in"));
  keys.push_back(with_default(
      length_key("pin_edge", "fasteners: from a piece's edges to the first ones", {}, 10.0, 1000.0), "3in"));
  keys.push_back(with_default(
      length_key("pin_around", "fasteners: most between two around the duct", {}, 50.0, 5000.0), "12in"));
  keys.push_back(with_default(
      length_key("pin_along", "fasteners: most between two along the duct", {}, 50.0, 5000.0), "18in"));
  keys.push_back(quantity_key("density", Quantity::density, "density of the board", "48kg/m3", 1.0, 1000.0));
  keys.push_back(quantity_key("conductivity", Quantity::conductivity, "thermal conductivity of the board",
                              "0.036W/(m K)", 0.001, 10.0));
  keys.push_back(
      with_default(length_key("roughness", "roughness of the lined bore", {}, 0.0, 50.0), "0.9mm"));
  keys.push_back(optional_choice_key(
      "surface", "the liner's air side, instead of roughness: faced is 1.52 mm, coated 4.57 mm",
      k_surface_choices));
  keys.push_back(
      with_default(length_key("metal_roughness", "roughness of the bare metal", {}, 0.0, 50.0), "0.09mm"));
  keys.push_back(quantity_key("max_velocity", Quantity::velocity, "highest air speed the liner may see",
                              "6000fpm", 0.1, 200.0));
  for (KeySpec& key : board_keys()) keys.push_back(std::move(key));
  for (KeySpec& key : second_layer_keys()) keys.push_back(std::move(key));
  return keys;
}

void Reasons::add(const std::string& key, const std::string& allowed, const std::string& reason) {
  problems_.push_back(problem_of(request_, key_of_layer(request_, key), allowed, reason));
}

void Reasons::throw_if_any() const {
  if (!problems_.empty()) throw InputError(problems_);
}

std::string Reasons::length(double millimetres) const {
  return format_quantity(Quantity::length, millimetres, request_.units,
                         request_.units == Units::inch ? 3 : 2);
}

namespace {

Flow flow_of(const FittingRequest& request) {
  const Flow flow = chosen(request.values, "flow_arrow", k_flow_choices);
  const bool two = flow == Flow::to_branch || flow == Flow::from_branch;
  if (two && request.kind != "tee")
    throw InputError({problem_of(request, "flow_arrow", "along, against or unmarked",
                                 "only in a tee do two flows meet at a branch")});
  return flow;
}

// A table of what is folded: as many diameters as thicknesses, which rise.
void require_fold_table(const FittingRequest& request) {
  const Values& values = request.values;
  if (!values.has("fold_above")) {
    if (values.has("fold_thickness"))
      throw InputError({problem_of(request, "fold_thickness", "left out without fold_above",
                                   "it says up to which board each of its diameters holds")});
    return;
  }
  const std::vector<double> above = values.list("fold_above");
  if (!values.has("fold_thickness")) {
    if (above.size() > 1)
      throw InputError(
          {problem_of(request, "fold_above", "one diameter, or fold_thickness with as many values",
                      "each diameter holds for boards up to one thickness")});
    return;
  }
  const std::vector<double> thickness = values.list("fold_thickness");
  if (thickness.size() != above.size() ||
      std::adjacent_find(thickness.begin(), thickness.end(), std::greater_equal<>()) != thickness.end())
    throw InputError({problem_of(request, "fold_thickness",
                                 fmt::format("{} value{}, each thicker than the one before", above.size(),
                                             above.size() == 1 ? "" : "s"),
                                 "each is the thickest board for which the diameter of fold_above holds")});
}

}  // namespace

Fitting begin_fitting(const FittingRequest& request) {
  require_fold_table(request);
  Fitting fitting;
  fitting.tag = request.tag;
  fitting.kind = request.kind;
  fitting.count = request.count;
  fitting.units = request.units;
  fitting.request = request;
  const Values& values = request.values;
  LinerSpec& liner = fitting.liner;
  liner.gauge = values.quantity("gauge");
  read_layer(request, liner);
  liner.cut = chosen(values, "cut", k_cut_choices);
  liner.joint = chosen(values, "joint", k_joint_choices);
  liner.flow = flow_of(request);
  liner.stations = static_cast<int>(values.integer("stations"));
  liner.pins_above = values.quantity("pins_above");
  liner.pin_edge = values.quantity("pin_edge");
  liner.pin_around = values.quantity("pin_around");
  liner.pin_along = values.quantity("pin_along");
  return fitting;
}

void note_fasteners(Fitting& fitting, double diameter) {
  if (diameter > fitting.liner.pins_above)
    fitting.warnings.push_back(
        fmt::format("over {} the liner needs mechanical fasteners: marks on the patterns show where ({})",
                    format_quantity(Quantity::length, fitting.liner.pins_above, fitting.units), k_usual));
}

Frame frame_along(Vec3 origin, Vec3 z, Vec3 x) {
  Frame frame;
  frame.origin = origin;
  frame.z = normalised(z);
  frame.x = normalised(x - dot(x, frame.z) * frame.z);
  frame.y = cross(frame.z, frame.x);
  return frame;
}

std::string degrees_in_words(double angle) {
  const double turn = angle - k_two_pi * std::floor(angle / k_two_pi);
  return trimmed(turn * 180.0 / k_pi, 1);
}

int add_wall(Fitting& fitting, const Sheet& sheet, double face_start) {
  fitting.walls.push_back({sheet, {}, {}, {}, face_start});
  return static_cast<int>(fitting.walls.size()) - 1;
}

std::vector<double> flat_lines_and_bends() {
  std::vector<double> rulings;
  for (int quarter = 0; quarter < 4; ++quarter)
    for (const double eighths : {0.0, 0.5, 1.5}) rulings.push_back(k_part_span * (2 * quarter + eighths));
  return rulings;
}

void add_open_end(Fitting& fitting, int wall, End end, double z) {
  Wall& of = fitting.wall(wall);
  const Frame& frame = of.sheet.frame();
  std::vector<double> splits{of.face_start < 0.0 ? of.face_start + k_two_pi : of.face_start};
  // faces of an oblique taper are ruled between their two ends, half a turn each
  if (!of.sheet.is_cylinder() && !of.sheet.is_right_cone()) splits = {0.0, k_pi};
  // of a square-to-round as its parts and the middle lines of its flats
  if (of.sheet.is_square_to_round()) splits = flat_lines_and_bends();
  fitting.joints.push_back(
      {of.sheet, {}, PlaneTarget{frame.point({0.0, 0.0, z}), frame.z}, JointStyle::mitre, splits});
  of.use(end) = {static_cast<int>(fitting.joints.size()) - 1, Side::lead};
}

void add_joint(Fitting& fitting, int lower, int upper, Side lower_is, const Target& target,
               std::vector<double> splits) {
  Wall& below = fitting.wall(lower);
  Wall& above = fitting.wall(upper);
  const bool lower_leads = lower_is == Side::lead;
  const Sheet& lead = lower_leads ? below.sheet : above.sheet;
  const Sheet& follow = lower_leads ? above.sheet : below.sheet;
  fitting.joints.push_back({lead, {follow}, target, JointStyle::mitre, std::move(splits)});
  const int joint = static_cast<int>(fitting.joints.size()) - 1;
  below.high = {joint, lower_is};
  above.low = {joint, lower_leads ? Side::follow : Side::lead};
}

Station round_station(double distance, double bare_diameter, double lined_diameter, Vec3 point, Vec3 along,
                      std::string place) {
  return {distance,       bare_diameter,   lined_diameter, 0.25 * k_pi * lined_diameter * lined_diameter,
          {point, along}, std::move(place)};
}

}  // namespace linerwright
