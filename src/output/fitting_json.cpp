#include <algorithm>

#include <fmt/format.h>

#include "contents.hpp"
#include "linerwright/fitting/shop_words.hpp"
#include "linerwright/output/output.hpp"
#include "linerwright/units/json.hpp"
#include "options.hpp"

namespace linerwright {

namespace {

double degrees(double radians) {
  return radians * 180.0 / k_pi;
}

// A figure as fitting.json holds it: degrees for angles, the library's unit for the rest.
double shown(Quantity quantity, double value) {
  return quantity == Quantity::angle ? degrees(value) : value;
}

const KeySpec* spec_of(const std::string& kind, const std::string& key) {
  const auto find = [&](const std::vector<KeySpec>& keys) -> const KeySpec* {
    const auto found =
        std::find_if(keys.begin(), keys.end(), [&](const KeySpec& spec) { return spec.name == key; });
    return found == keys.end() ? nullptr : &*found;
  };
  for (const KindSchema& schema : job_schema().kinds)
    if (schema.kind == kind)
      if (const KeySpec* spec = find(schema.keys)) return spec;
  return find(job_schema().liner_keys);
}

void write_value(JsonWriter& json, const Value& value, Quantity quantity) {
  if (const auto* number = std::get_if<double>(&value.data)) {
    json.number(shown(quantity, *number), 9);
  } else if (const auto* several = std::get_if<std::vector<double>>(&value.data)) {
    json.begin_array();
    for (const double each : *several) json.number(shown(quantity, each), 9);
    json.end_array();
  } else if (const auto* integer = std::get_if<long>(&value.data)) {
    json.integer(*integer);
  } else if (const auto* flag = std::get_if<bool>(&value.data)) {
    json.boolean(*flag);
  } else {
    json.text(std::get<std::string>(value.data));
  }
}

void write_parameters(JsonWriter& json, const Fitting& fitting) {
  json.key("parameters").begin_object();
  for (const auto& [key, value] : fitting.request.values.all()) {
    const KeySpec* spec = spec_of(fitting.kind, key);
    json.key(key);
    write_value(json, value, spec != nullptr ? spec->quantity : Quantity::number);
  }
  json.end_object();
  // enough to make the same fitting again
  json.key("written").begin_object();
  json.key("units").text(fitting.units == Units::inch ? "in" : "mm");
  // what has no default was written or follows from the job's stock
  for (const auto& [key, value] : fitting.request.values.all()) {
    const KeySpec* spec = spec_of(fitting.kind, key);
    if (value.given || (spec != nullptr && !spec->default_value)) json.key(key).text(value.written);
  }
  json.end_object();
}

// ", panel 1 of 2" of a piece that is divided.
std::string part_of(const Piece& piece) {
  const std::size_t comma = piece.role.find(',');
  return comma == std::string::npos ? std::string() : piece.role.substr(comma);
}

void write_notches(JsonWriter& json, const Pattern& pattern) {
  json.key("notch_ordinates").begin_array();
  for (const NotchOrdinate& o : pattern.notch_ordinates) {
    json.begin_object().key("angle").number(degrees(o.theta));
    const auto point = [&](const char* key, Vec2 at) {
      json.key(key).begin_array().number(at.x).number(at.y).end_array();
    };
    point("point", o.tip);
    point("duct_left", o.duct[0]);
    point("duct_right", o.duct[1]);
    point("air_left", o.air[0]);
    point("air_right", o.air[1]);
    json.end_object();
  }
  json.end_array();
}

void write_pieces(JsonWriter& json, const Fitting& fitting, const std::vector<Pattern>& patterns,
                  const std::vector<std::string>& files) {
  json.key("pieces").begin_array();
  for (const Pattern& pattern : patterns) {
    const bool group = pattern.pieces.size() > 1;
    const Piece& piece = fitting.piece(pattern.pieces.back());
    json.begin_object();
    json.key("id").text(pattern.id);
    json.key("role").text(pattern.is_blank ? held_words(fitting, pattern.pieces) + " in one blank"
                          : group          ? "taper and collar in one blank" + part_of(piece)
                                           : piece.role);
    json.key("count").integer(fitting.count);
    if (group) {
      json.key("holds").begin_array();
      for (const int index : pattern.pieces) json.text(fitting.piece(index).id);
      json.end_array();
    }
    json.key("stretch_out").number(pattern.stretch_out);
    json.key("board")
        .begin_object()
        .key("around")
        .number(pattern.board.x)
        .key("along")
        .number(pattern.board.y)
        .end_object();
    json.key("area").number(pattern.board_area, 3);
    json.key("files").begin_array();
    for (const char* kind : {".dxf", ".svg", ".png"}) {
      const std::string ending = "-" + pattern.id + kind;
      for (const std::string& file : files)
        if (file.size() > ending.size() &&
            file.compare(file.size() - ending.size(), ending.size(), ending) == 0)
          json.text(file);
    }
    json.end_array();
    json.key("seam").text(group ? "as each piece's own" : piece.seam_place);
    json.key("max_tilt").number(degrees(pattern.max_tilt));
    json.key("not_cut").number(pattern.not_cut);
    json.key("gap_square").number(pattern.gap_square);
    json.key("overlap_square").number(pattern.overlap_square);
    if (!pattern.ordinates.empty()) {
      json.key("ordinates").begin_array();
      for (const Ordinate& o : pattern.ordinates)
        json.begin_object()
            .key("angle")
            .number(degrees(o.theta))
            .key("x")
            .number(o.at.x)
            .key("y")
            .number(o.at.y)
            .key("duct_low")
            .number(o.duct_low)
            .key("duct_high")
            .number(o.duct_high)
            .key("air_low")
            .number(o.air_low)
            .key("air_high")
            .number(o.air_high)
            .end_object();
      json.end_array();
    }
    if (!pattern.notch_ordinates.empty()) write_notches(json, pattern);
    if (!pattern.hole_ordinates.empty()) {
      json.key("hole_ordinates").begin_array();
      for (const HoleOrdinate& o : pattern.hole_ordinates)
        json.begin_object()
            .key("hole")
            .integer(static_cast<long>(o.hole) + 1)
            .key("branch_angle")
            .number(degrees(o.s))
            .key("duct")
            .begin_array()
            .number(o.duct.x)
            .number(o.duct.y)
            .end_array()
            .key("air")
            .begin_array()
            .number(o.air.x)
            .number(o.air.y)
            .end_array()
            .end_object();
      json.end_array();
    }
    json.end_object();
  }
  json.end_array();
  json.key("insertion_order").begin_array();
  for (const int index : fitting.insertion) json.text(fitting.piece(index).id);
  json.end_array();
}

// Of a tap: the hole in its duct, as its templates show it.
void write_templates(JsonWriter& json, const Fitting& fitting) {
  const std::vector<Pattern> templates = site_templates(fitting);
  if (templates.empty()) return;
  json.key("holes").begin_array();
  for (const Pattern& pattern : templates) {
    json.begin_object();
    json.key("id").text(pattern.id);
    json.key("seen_from").text(pattern.placement.mirrored ? "inside" : "outside");
    json.key("width").number(pattern.board.x);
    json.key("height").number(pattern.board.y);
    json.key("hole").begin_array();
    for (const HoleOrdinate& o : pattern.hole_ordinates)
      json.begin_object()
          .key("branch_angle")
          .number(degrees(o.s))
          .key("x")
          .number(o.duct.x)
          .key("y")
          .number(o.duct.y)
          .end_object();
    json.end_array();
    json.end_object();
  }
  json.end_array();
}

void write_bore(JsonWriter& json, const Fitting& fitting) {
  json.key("bore").begin_object();
  for (const Passage& passage : fitting.passages) {
    json.key(passage.name).begin_array();
    for (const Station& station : passage.stations) {
      const double bare = 0.25 * k_pi * station.bare_diameter * station.bare_diameter;
      json.begin_object()
          .key("distance")
          .number(station.distance)
          .key("place")
          .text(station.place)
          .key("bare_diameter")
          .number(station.bare_diameter)
          .key("lined_diameter")
          .number(station.lined_diameter)
          .key("free_area")
          .number(station.lined_area, 3)
          .key("share")
          .number(station.lined_area / bare, 9)
          .key("velocity_factor")
          .number(bare / station.lined_area, 9)
          .end_object();
    }
    json.end_array();
  }
  json.end_object();
}

}  // namespace

std::string fitting_json(const Fitting& fitting, const Model* model, const std::vector<Pattern>& patterns,
                         const std::vector<std::string>& files, const Contents& digests,
                         const std::vector<CheckResult>& checks, const OutputOptions& options) {
  JsonWriter json;
  json.begin_object();
  json.key("format").integer(k_json_format);
  json.key("made_from").text(made_from(fitting.request, options, true));
  json.key("state").text(state_of(fitting.request));
  json.key("units").text("mm, mm2, mm3, degrees; air in m/s, m3/s, kg/m3, W/(m K)");
  json.key("tag").text(fitting.tag);
  json.key("kind").text(fitting.kind);
  json.key("count").integer(fitting.count);
  write_parameters(json, fitting);
  write_pieces(json, fitting, patterns, files);
  write_templates(json, fitting);
  write_contents(json, files, digests);
  json.key("volumes").begin_object();
  if (model != nullptr)
    json.key("liner")
        .number(model->liner_volume, 3)
        .key("metal")
        .number(model->metal_volume, 3)
        .key("bore")
        .number(model->bore_volume, 3)
        .key("cavity")
        .number(model->cavity_volume, 3);
  json.end_object();
  write_bore(json, fitting);
  json.key("facts").begin_array();
  for (const Fact& fact : fitting.facts)
    json.begin_object()
        .key("key")
        .text(fact.key)
        .key("label")
        .text(fact.label)
        .key("value")
        .number(shown(fact.quantity, fact.value), 9)
        .end_object();
  json.end_array();
  json.key("steps").begin_array();
  for (const std::string& step : fitting.steps) json.text(step);
  json.end_array();
  json.key("warnings").begin_array();
  for (const std::string& warning : fitting.warnings) json.text(warning);
  json.end_array();
  json.key("checks").begin_array();
  for (const CheckResult& check : checks)
    json.begin_object()
        .key("name")
        .text(check.name)
        .key("value")
        .number(check.value, 15)
        .key("limit")
        .number(check.limit, 15)
        .key("unit")
        .text(check.unit)
        .key("pass")
        .boolean(check.pass)
        .end_object();
  json.end_array();
  write_options(json, options);
  write_seal(json);
  json.end_object();
  return sealed(json.str());
}

}  // namespace linerwright
