#include "bore_runs.hpp"
#include "bore_units.hpp"
#include "linerwright/report/bore.hpp"
#include "linerwright/units/error.hpp"
#include "linerwright/units/json.hpp"

namespace linerwright {

namespace {

constexpr int k_fine = 9;  // decimals of shares and factors

void write_place(JsonWriter& json, const BorePlace& place) {
  json.begin_object();
  json.key("distance").number(place.distance);
  json.key("place").text(place.place);
  json.key("bare_diameter").number(place.bare_diameter);
  json.key("lined_diameter").number(place.lined_diameter);
  json.key("free_area").number(place.free_area);
  json.key("share").number(place.share, k_fine);
  json.key("velocity_factor").number(1.0 / place.share, k_fine);
  if (place.flow) json.key("flow").number(*place.flow, k_fine);
  json.end_object();
}

void write_flow(JsonWriter& json, const BoreFlow& air) {
  json.begin_object();
  json.key("velocity").number(air.velocity);
  json.key("velocity_pressure").number(air.velocity_pressure);
  json.key("reynolds").number(air.reynolds);
  json.key("relative_roughness").number(air.relative_roughness, k_fine);
  json.key("friction_factor").number(air.friction_factor, k_fine);
  json.key("friction").number(air.friction, k_fine);
  json.end_object();
}

void write_loss(JsonWriter& json, const BoreLoss& loss) {
  json.begin_object();
  json.key("friction").number(loss.friction);
  json.key("parts").begin_array();
  for (const LossPart& part : loss.parts) {
    json.begin_object();
    json.key("what").text(part.what);
    json.key("coefficient").number(part.coefficient, k_fine);
    json.key("pressure").number(part.pressure);
    json.key("given").boolean(part.given);
    json.key("source").text(part.source);
    json.end_object();
  }
  json.end_array();
  json.key("total").number(loss.total);
  json.key("power").number(loss.power);
  json.key("left_out").begin_array();
  for (const std::string& what : loss.left_out) json.text(what);
  json.end_array().end_object();
}

void write_sums(JsonWriter& json, const BoreReport& report) {
  json.key("sums").begin_array();
  for (const BoreSum& sum : bore_sums(report)) {
    json.begin_object();
    json.key("kind").text(sum.kind);
    json.key("fittings").integer(sum.fittings);
    json.key("length").number(sum.length);
    json.key("loss_bare").number(sum.bare_loss);
    json.key("loss").number(sum.lined_loss);
    if (sum.lined_power) {
      json.key("fan_power_bare").number(*sum.bare_power);
      json.key("fan_power").number(*sum.lined_power);
    }
    json.key("without_loss").integer(static_cast<long>(sum.without));
    json.key("incomplete").integer(static_cast<long>(sum.incomplete));
    json.key("by_default").integer(static_cast<long>(sum.by_default));
    json.end_object();
  }
  json.end_array();
}

void write_air(JsonWriter& json, const BoreRow& row) {
  if (!row.lined_air) return;
  json.key("flow").number(*row.flow, k_fine);
  json.key("bare_air");
  write_flow(json, *row.bare_air);
  json.key("lined_air");
  write_flow(json, *row.lined_air);
  json.key("velocity_limit").number(*row.velocity_limit);
  json.key("over_limit").boolean(row.over_limit);
  if (!row.lined_loss) return;
  json.key("loss_bare").number(row.bare_loss->total);
  json.key("loss").number(row.lined_loss->total);
  json.key("losses").begin_object();
  json.key("bare");
  write_loss(json, *row.bare_loss);
  json.key("lined");
  write_loss(json, *row.lined_loss);
  json.end_object();
}

std::string_view outcome_of(const StepUp& step) {
  switch (step.outcome) {
    case StepUpOutcome::enough_already:
      return "enough already";
    case StepUpOutcome::stepped_up:
      return "stepped up";
    case StepUpOutcome::none_large_enough:
      break;
  }
  return "none large enough";
}

void write_steps(JsonWriter& json, const BoreRow& row) {
  if (row.steps.empty()) return;
  json.key("steps").begin_array();
  for (const BoreStep& step : row.steps) {
    json.begin_object();
    json.key("place").text(step.place);
    json.key("bare_diameter").number(step.asked.diameter);
    json.key("outcome").text(outcome_of(step.found));
    json.key("text").text(step.found.text);
    json.key("limit").number(step.found.limit, k_fine);
    json.key("bore_needed").number(step.found.bore_needed);
    if (const auto& size = step.found.size) {
      json.key("diameter").number(size->diameter);
      json.key("bore").number(size->bore);
      json.key("free_area").number(size->free_area);
      json.key("share").number(size->share, k_fine);
      if (size->air) {
        json.key("air");
        write_flow(json, *size->air);
      }
    }
    json.end_object();
  }
  json.end_array();
  json.key("passed_over").begin_array();
  for (const BorePassedOver& each : row.passed_over) {
    json.begin_object();
    json.key("diameters").begin_array();
    for (const double diameter : each.diameters) json.number(diameter);
    json.end_array();
    json.key("reason").text(each.reason);
    json.end_object();
  }
  json.end_array();
  if (row.added_metal) json.key("added_metal").number(*row.added_metal);
  if (row.added_mass) json.key("added_mass").number(*row.added_mass);
}

void write_heat_and_sound(JsonWriter& json, const BoreRow& row) {
  if (row.heat) {
    json.key("thermal_resistance").begin_object();
    json.key("per_length").number(row.heat->per_length, k_fine);
    json.key("on_duct_face").number(row.heat->on_duct_face, k_fine);
    json.key("on_air_face").number(row.heat->on_air_face, k_fine);
    json.key("flat").number(row.heat->flat, k_fine);
    json.end_object();
  }
  if (row.lined_gain) {
    json.key("heat").begin_object();
    json.key("gain_bare").number(row.bare_gain->per_metre);
    json.key("gain").number(row.lined_gain->per_metre);
    json.key("metal_temperature_bare").number(row.bare_gain->surface_temperature);
    json.key("metal_temperature").number(row.lined_gain->surface_temperature);
    if (row.lined_gain->inside_film) json.key("inside_film").number(*row.lined_gain->inside_film);
    json.key("outside_film").number(row.lined_gain->outside_film);
    if (row.least_dry) json.key("least_dry_thickness").number(*row.least_dry);
    json.end_object();
  }
  if (row.bare_sound) {
    json.key("bare_attenuation").begin_array();
    for (const double taken : *row.bare_sound) json.number(taken);
    json.end_array();
  }
  if (row.air_noise) {
    json.key("air_noise").begin_array();
    for (const double level : *row.air_noise) json.number(level);
    json.end_array();
  }
  if (!row.sound) return;
  json.key("insertion_loss").begin_object();
  json.key("label").text(row.sound->label);
  if (row.sound->bands) {
    json.key("bands").begin_array();
    for (const BandLoss& band : *row.sound->bands) {
      json.begin_object();
      json.key("frequency").number(band.frequency);
      json.key("per_metre").number(band.per_metre);
      json.key("total").number(band.total);
      json.key("capped").boolean(band.capped);
      json.end_object();
    }
    json.end_array();
  }
  json.key("notes").begin_array();
  for (const std::string& reason : row.sound->out_of_range) json.text(reason);
  for (const std::string& note : row.sound->notes) json.text(note);
  json.end_array().end_object();
}

void write_row(JsonWriter& json, const BoreRow& row) {
  const BorePlace& at = row.narrowest_place();
  json.begin_object();
  json.key("tag").text(row.tag);
  json.key("kind").text(row.kind);
  json.key("passage").text(row.passage);
  json.key("count").integer(row.count);
  json.key("length").number(row.length);
  json.key("thickness").number(row.thickness);
  json.key("conductivity").number(row.conductivity);
  json.key("metal_roughness").number(row.metal_roughness);
  json.key("roughness").number(row.roughness);
  json.key("surface").text(row.surface);
  if (!row.as_written.empty()) json.key("as_written").text(row.as_written);
  json.key("bare_diameter").number(at.bare_diameter);
  json.key("lined_diameter").number(at.lined_diameter);
  json.key("free_area").number(at.free_area);
  json.key("share").number(at.share, k_fine);
  json.key("velocity_factor").number(row.velocity_factor, k_fine);
  json.key("narrowest_distance").number(at.distance);
  json.key("narrowest_place").text(at.place);
  json.key("even").boolean(row.even);
  if (row.exposed_step) json.key("exposed_step").number(*row.exposed_step);
  json.key("stations").begin_array();
  for (const BorePlace& place : row.places) write_place(json, place);
  json.end_array();
  json.key("nosing").text(row.nosing);
  write_air(json, row);
  write_steps(json, row);
  write_heat_and_sound(json, row);
  json.key("notes").begin_array();
  for (const std::string& note : row.notes) json.text(note);
  json.end_array().end_object();
}

}  // namespace

std::string bore_json(const BoreReport& report) {
  JsonWriter json;
  json.begin_object();
  json.key("format").integer(k_json_format);
  json.key("units").text(
      "mm, mm2, m3/s, m/s, Pa, Pa/m, W, kg, kg/m3, m2/s, W/(m K), m K/W, m2 K/W, W/m, W/(m2 K), C, Hz, dB");
  json.key("air").begin_object();
  json.key("density").number(report.air.density);
  json.key("viscosity").number(report.air.viscosity, 12);
  json.key("basis").text(report.air_basis);
  json.end_object();
  if (report.room) {
    json.key("room").begin_object();
    json.key("air_temperature").number(report.room->air_temperature);
    json.key("temperature").number(report.room->temperature);
    json.key("emissivity").number(report.room->emissivity);
    if (report.room->dew_point) json.key("dew_point").number(*report.room->dew_point);
    json.end_object();
  }
  if (report.fan_efficiency) json.key("fan_efficiency").number(*report.fan_efficiency);
  json.key("rows").begin_array();
  for (const BoreRow& row : report.rows) write_row(json, row);
  json.end_array();
  json.key("openings").begin_array();
  for (const BoreOpening& opening : report.openings) {
    json.begin_object();
    json.key("tag").text(opening.tag);
    json.key("name").text(opening.name);
    json.key("count").integer(opening.count);
    json.key("bare_area").number(opening.bare_area);
    json.key("free_area").number(opening.free_area);
    json.key("share").number(opening.share, k_fine);
    json.end_object();
  }
  json.end_array();
  if (report.least_share) json.key("least_share").number(*report.least_share, k_fine);
  write_sums(json, report);
  if (!report.runs.empty()) write_runs(json, report);
  if (report.step_up) {
    json.key("step_up").begin_object();
    json.key("criterion").text(words_of(*report.step_up));
    json.key("series").text(words_of(report.series));
    if (report.step_limit) json.key("limit").number(*report.step_limit, k_fine);
    json.key("added_metal").number(report.added_metal);
    json.key("added_mass").number(report.added_mass);
    json.key("without_size").integer(static_cast<long>(report.without_size));
    json.end_object();
  }
  json.key("over_limit").boolean(report.over_limit());
  json.key("problems").begin_array();
  for (const Problem& problem : report.problems) json.text(one_line(problem));
  json.end_array().end_object();
  return json.str();
}

}  // namespace linerwright
