#include "bore_air.hpp"

#include <fmt/format.h>

#include <stdexcept>

#include "linerwright/fitting/choices.hpp"
#include "linerwright/units/error.hpp"
#include "linerwright/units/figures.hpp"

namespace linerwright {

namespace {

Problem problem_at(const Values& table, const std::string& key, std::string allowed, std::string reason) {
  const Value* value = table.find(key);
  return {value != nullptr ? value->file : std::string(),
          value != nullptr ? value->line : 0,
          {},
          "air." + key,
          value != nullptr ? value->written : std::string(),
          std::move(allowed),
          std::move(reason)};
}

// What stands beside it and says the same thing; empty: nothing does.
std::string rival(const Values& table, const std::string& key) {
  if (key == "altitude" && table.given("pressure")) return "pressure";
  if (key == "density" || key == "viscosity")
    for (const char* other : {"temperature", "altitude", "pressure", "humidity"})
      if (table.given(other)) return other;
  return {};
}

// Temperature, pressure and humidity to density and viscosity; what is not written is 20 C, sea level, dry.
Air air_of_state(const Values& table, Units units, std::string& basis) {
  const double temperature = table.maybe("temperature").value_or(20.0);
  double pressure = k_standard_pressure;
  std::string where = "sea level";
  if (const auto altitude = table.maybe("altitude")) {
    pressure = pressure_at(*altitude * 1e-3);
    where = format_quantity(Quantity::length, *altitude, units, 1) + " above the sea";
    if (table.given("altitude")) where = table.find("altitude")->written + " above the sea";
  } else if (const auto stated = table.maybe("pressure")) {
    pressure = *stated;
    where = "stated";
  }
  const double humidity = table.maybe("humidity").value_or(0.0);
  basis = fmt::format("air at {}, {} Pa ({}), {}",
                      shown_quantity(Quantity::temperature, temperature, units, 1), fixed(pressure, 0), where,
                      humidity > 0.0 ? trimmed(humidity, 1) + " % relative humidity" : std::string("dry"));
  return moist_air_at(pressure, temperature, humidity);
}

}  // namespace

namespace {

// The room, where its temperature and the air's are stated.
void read_room(const Values& table, JobAir& made) {
  const auto room = table.maybe("room_temperature");
  for (const char* key : {"room_humidity", "emissivity"})
    if (!room && table.given(key))
      made.problems.push_back(problem_at(table, key, "beside room_temperature", "says nothing without it"));
  if (!room) return;
  const auto air = table.maybe("temperature");
  if (!air) {
    made.problems.push_back(problem_at(table, "room_temperature", "beside temperature",
                                       "heat runs between two temperatures, and the air's is not stated"));
    return;
  }
  made.basis.room = BoreRoom{*air, *room, table.maybe("emissivity").value_or(k_galvanised_emissivity), {}};
  const auto humidity = table.maybe("room_humidity");
  if (!humidity || *humidity == 0.0) return;
  try {
    made.basis.room->dew_point = dew_point(*room, *humidity);
  } catch (const std::invalid_argument& error) {
    made.problems.push_back(problem_at(table, "room_temperature", {}, error.what()));
  }
}

}  // namespace

JobAir read_air(const Values* table, Units units) {
  JobAir made;
  BoreBasis& basis = made.basis;
  basis.air_basis = "standard air";
  if (table == nullptr) return made;
  basis.flow = table->maybe("flow");
  basis.fan_efficiency = table->maybe("fan_efficiency");
  if (const auto least = table->maybe("least_share")) basis.least_share = *least / 100.0;
  for (const char* key : {"altitude", "density", "viscosity"}) {
    const std::string other = table->given(key) ? rival(*table, key) : std::string();
    if (!other.empty())
      made.problems.push_back(
          problem_at(*table, key, "one of the two", other + " says the same thing; give only one"));
  }
  read_room(*table, made);
  bool by_state = false;
  for (const char* key : {"temperature", "altitude", "pressure", "humidity"})
    by_state = by_state || table->has(key);
  made.known = made.problems.empty();
  if (!made.known) return made;
  if (by_state) {
    try {
      basis.air = air_of_state(*table, units, basis.air_basis);
    } catch (const std::invalid_argument& error) {
      made.known = false;
      const char* key = table->has("humidity") ? "humidity" : "temperature";
      made.problems.push_back(problem_at(*table, key, {}, error.what()));
    }
  } else {
    basis.air.density = table->maybe("density").value_or(basis.air.density);
    basis.air.viscosity = table->maybe("viscosity").value_or(basis.air.viscosity);
    if (table->given("density") || table->given("viscosity")) basis.air_basis = "air as stated";
  }
  return made;
}

namespace {

// Whether the fitting's own table says it, not [liner]: its keys stand behind its own first line.
bool own(const Fitting& fitting, const std::string& key) {
  const Value* value = fitting.request.values.find(key);
  return value != nullptr && value->given && value->file == fitting.request.file &&
         value->line >= fitting.request.line;
}

}  // namespace

// W. B. Swim, Flow losses in rectangular ducts lined with fiberglass, ASHRAE Trans. 84 (1978), as the rows of
// the ASHRAE Handbook's table of duct roughness quote him: 0.005 ft for faced, 0.015 ft for spray coated
// liner (from memory).
LinedRoughness lined_roughness(const Fitting& fitting, std::vector<Problem>& problems) {
  const Values& values = fitting.request.values;
  const double roughness = values.quantity("roughness");
  const bool stated = values.given("roughness");
  if (values.has("surface") && stated && own(fitting, "surface") == own(fitting, "roughness"))
    problems.push_back(problem_of(fitting.request, "surface", "one of the two",
                                  "roughness says the same thing; give only one"));
  const bool by_surface = values.has("surface") && (!stated || !own(fitting, "roughness"));
  if (!by_surface)
    return {roughness,
            stated ? "as stated" : "default: a table's group for fibrous lining, not a product's figure"};
  constexpr double k_thousandth_of_a_foot = 0.3048;
  if (chosen(values, "surface", k_surface_choices) == AirSurface::coated)
    return {15.0 * k_thousandth_of_a_foot, "coated (Swim 1978)"};
  return {5.0 * k_thousandth_of_a_foot, "faced (Swim 1978)"};
}

std::string written_otherwise(const Fitting& fitting) {
  constexpr std::pair<const char*, Quantity> k_keys[] = {{"diameter", Quantity::length},
                                                         {"to_diameter", Quantity::length},
                                                         {"branch_diameter", Quantity::length},
                                                         {"length", Quantity::length},
                                                         {"thickness", Quantity::length},
                                                         {"roughness", Quantity::length},
                                                         {"flow", Quantity::flow},
                                                         {"branch_flow", Quantity::flow},
                                                         {"max_velocity", Quantity::velocity}};
  const Units other = fitting.units == Units::inch ? Units::metric : Units::inch;
  std::string text;
  for (const auto& [key, quantity] : k_keys) {
    const Value* value = fitting.request.values.find(key);
    if (value == nullptr || !value->given) continue;
    const std::string first = value->written.substr(0, value->written.find('&'));
    try {
      const double own = parse_quantity(quantity, first, fitting.units);
      if (own != parse_quantity(quantity, first, other)) continue;  // a bare number
    } catch (const std::invalid_argument&) {
      continue;
    }
    const std::string own_unit(unit_name(quantity, fitting.units));
    if (first.find(own_unit) != std::string::npos ||
        (own_unit == "in" && first.find_first_of("\"'f") != std::string::npos))
      continue;
    text += fmt::format("{}{} {}", text.empty() ? "" : ", ", key, value->written);
  }
  return text;
}

}  // namespace linerwright
