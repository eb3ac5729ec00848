// The figures of fitting.json, read back by key and held against the fitting made again. Volumes are held
// against the integrals over the walls, not against solids.
#include <algorithm>
#include <cmath>

#include "beside.hpp"
#include "linerwright/pattern/tilt_table.hpp"
#include "tally.hpp"

namespace linerwright {

namespace {

constexpr double k_degree = 57.295779513082320877;  // 180 / pi
constexpr double k_millionth = 0.6e-6;              // half a unit of the sixth decimal, rounded up
constexpr double k_thousandth = 0.6e-3;
constexpr double k_billionth = 0.6e-9;

Quantity quantity_of(const std::string& kind, const std::string& key) {
  std::vector<const std::vector<KeySpec>*> lists;
  for (const KindSchema& schema : job_schema().kinds)
    if (schema.kind == kind) lists.push_back(&schema.keys);
  lists.push_back(&job_schema().liner_keys);
  for (const auto* list : lists)
    for (const KeySpec& spec : *list)
      if (spec.name == key) return spec.quantity;
  return Quantity::number;
}

double as_written(Quantity quantity, double value) {
  return quantity == Quantity::angle ? value * k_degree : value;
}

void parameter(Tally& tally, const std::string& where, const JsonValue& found, const Value& value,
               Quantity quantity) {
  if (const auto* number = std::get_if<double>(&value.data)) {
    tally.number(where, &found, as_written(quantity, *number), k_billionth);
  } else if (const auto* list = std::get_if<std::vector<double>>(&value.data)) {
    tally.require(found.is_array() && found.items.size() == list->size(), where + " has another length");
    for (std::size_t i = 0; i < std::min(found.items.size(), list->size()); ++i)
      tally.number(where, &found.items[i], as_written(quantity, (*list)[i]), k_billionth);
  } else if (const auto* integer = std::get_if<long>(&value.data)) {
    tally.number(where, &found, static_cast<double>(*integer), 0.0);
  } else if (const auto* flag = std::get_if<bool>(&value.data)) {
    tally.require(found.kind == JsonValue::Kind::boolean && found.flag == *flag,
                  where + " is not " + (*flag ? "true" : "false"));
  } else {
    tally.text(where, &found, std::get<std::string>(value.data));
  }
}

CheckResult parameters(const Fitting& fitting, const JsonValue& json) {
  Tally tally("figures asked for");
  const JsonValue* stated = json.find("parameters");
  tally.text("tag", json.find("tag"), fitting.tag);
  tally.text("kind", json.find("kind"), fitting.kind);
  tally.number("count", json.find("count"), static_cast<double>(fitting.count), 0.0);
  for (const auto& [key, value] : fitting.request.values.all()) {
    const JsonValue* found = stated == nullptr ? nullptr : stated->find(key);
    tally.require(found != nullptr, "parameters." + key + " is missing");
    if (found != nullptr)
      parameter(tally, "parameters." + key, *found, value, quantity_of(fitting.kind, key));
  }
  if (stated != nullptr)
    for (const std::string& key : stated->keys)
      tally.require(fitting.request.values.has(key), "parameters." + key + " is no key of this kind");
  return tally.result("parameters");
}

void piece_ordinates(Tally& tally, const std::string& where, const JsonValue& piece, const Pattern& pattern) {
  const auto list = [&](const char* key, std::size_t expected) -> const std::vector<JsonValue>* {
    const JsonValue* found = piece.find(key);
    const std::size_t have = found == nullptr ? 0 : found->items.size();
    tally.require(have == expected, fmt::format("{}.{} has {} entries, not {}", where, key, have, expected));
    return have == expected && have > 0 ? &found->items : nullptr;
  };
  if (const auto* rows = list("ordinates", pattern.ordinates.size()))
    for (std::size_t i = 0; i < rows->size(); ++i) {
      const Ordinate& o = pattern.ordinates[i];
      const std::string at = fmt::format("{}.ordinates[{}].", where, i);
      const auto figure = [&](const char* key, double expected) {
        tally.number(at + key, (*rows)[i].find(key), expected, k_millionth);
      };
      figure("angle", o.theta * k_degree);
      figure("x", o.at.x);
      figure("y", o.at.y);
      figure("duct_low", o.duct_low);
      figure("duct_high", o.duct_high);
      figure("air_low", o.air_low);
      figure("air_high", o.air_high);
    }
  const auto point = [&](const std::string& at, const JsonValue& row, const char* key, Vec2 expected) {
    const JsonValue* pair = row.find(key);
    tally.require(pair != nullptr && pair->items.size() == 2, at + key + " is no point");
    if (pair == nullptr || pair->items.size() != 2) return;
    tally.number(at + key, &pair->items[0], expected.x, k_millionth);
    tally.number(at + key, &pair->items[1], expected.y, k_millionth);
  };
  if (const auto* rows = list("notch_ordinates", pattern.notch_ordinates.size()))
    for (std::size_t i = 0; i < rows->size(); ++i) {
      const NotchOrdinate& o = pattern.notch_ordinates[i];
      const JsonValue& row = (*rows)[i];
      const std::string at = fmt::format("{}.notch_ordinates[{}].", where, i);
      tally.number(at + "angle", row.find("angle"), o.theta * k_degree, k_millionth);
      point(at, row, "point", o.tip);
      point(at, row, "duct_left", o.duct[0]);
      point(at, row, "duct_right", o.duct[1]);
      point(at, row, "air_left", o.air[0]);
      point(at, row, "air_right", o.air[1]);
    }
  if (const auto* rows = list("hole_ordinates", pattern.hole_ordinates.size()))
    for (std::size_t i = 0; i < rows->size(); ++i) {
      const HoleOrdinate& o = pattern.hole_ordinates[i];
      const JsonValue& row = (*rows)[i];
      const std::string at = fmt::format("{}.hole_ordinates[{}].", where, i);
      tally.number(at + "hole", row.find("hole"), static_cast<double>(o.hole) + 1.0, 0.0);
      tally.number(at + "branch_angle", row.find("branch_angle"), o.s * k_degree, k_millionth);
      point(at, row, "duct", o.duct);
      point(at, row, "air", o.air);
    }
}

void piece_figures(Tally& tally, const std::string& where, const JsonValue& found, const Fitting& fitting,
                   const Pattern& pattern) {
  const auto ids = [&](const std::vector<int>& pieces) {
    std::vector<std::string> all;
    for (const int index : pieces) all.push_back(fitting.piece(index).id);
    return all;
  };
  const bool several = pattern.pieces.size() > 1;
  const Piece& piece = fitting.piece(pattern.pieces.back());
  tally.text(where + ".id", found.find("id"), pattern.id);
  tally.number(where + ".count", found.find("count"), static_cast<double>(fitting.count), 0.0);
  if (several) {
    tally.texts(where + ".holds", found.find("holds"), ids(pattern.pieces));
  } else {
    tally.text(where + ".role", found.find("role"), piece.role);
    tally.text(where + ".seam", found.find("seam"), piece.seam_place);
  }
  tally.number(where + ".stretch_out", found.find("stretch_out"), pattern.stretch_out, k_millionth);
  const JsonValue* board = found.find("board");
  tally.require(board != nullptr && board->is_object(), where + ".board is missing");
  if (board != nullptr) {
    tally.number(where + ".board.around", board->find("around"), pattern.board.x, k_millionth);
    tally.number(where + ".board.along", board->find("along"), pattern.board.y, k_millionth);
  }
  tally.number(where + ".area", found.find("area"), pattern.board_area, k_thousandth);
  tally.number(where + ".max_tilt", found.find("max_tilt"), pattern.max_tilt * k_degree, k_millionth);
  tally.number(where + ".not_cut", found.find("not_cut"), pattern.not_cut, k_millionth);
  tally.number(where + ".gap_square", found.find("gap_square"), pattern.gap_square, k_millionth);
  tally.number(where + ".overlap_square", found.find("overlap_square"), pattern.overlap_square, k_millionth);
  piece_ordinates(tally, where, found, pattern);
}

CheckResult pieces(const Fitting& fitting, const std::vector<Pattern>& patterns, const JsonValue& json) {
  Tally tally("figures of pieces");
  const JsonValue* list = json.find("pieces");
  const std::size_t have = list == nullptr ? 0 : list->items.size();
  tally.require(have == patterns.size(), fmt::format("{} pieces, not {}", have, patterns.size()));
  for (std::size_t i = 0; i < std::min(have, patterns.size()); ++i)
    piece_figures(tally, fmt::format("pieces[{}]", i), list->items[i], fitting, patterns[i]);
  std::vector<std::string> order;
  for (const int index : fitting.insertion) order.push_back(fitting.piece(index).id);
  tally.texts("insertion_order", json.find("insertion_order"), order);
  return tally.result("figures, as made again");
}

// Of solids that agree with the integrals to 1e-7 of their own volume, as the gate holds them.
CheckResult volumes(const Fitting& fitting, const JsonValue& json) {
  Tally tally("figures of volume");
  const JsonValue* stated = json.find("volumes");
  if (stated == nullptr || !stated->is_object()) {
    tally.wrong("volumes are missing");
  } else if (!stated->keys.empty()) {
    const double cavity = shell_volume(fitting, 0.0);
    const double bore = shell_volume(fitting, fitting.liner.bore_depth());
    const double metal = metal_volume(fitting);
    const auto figure = [&](const char* key, double expected, double off) {
      tally.number(std::string("volumes.") + key, stated->find(key), expected, 1e-7 * off + k_thousandth);
    };
    figure("liner", cavity - bore - plug_volume(fitting), cavity + bore);
    figure("metal", metal, metal);
    figure("bore", bore, bore);
    figure("cavity", cavity, cavity);
  }
  return tally.result("volumes against the integrals over the walls");
}

CheckResult bore(const Fitting& fitting, const JsonValue& json) {
  Tally tally("figures of the bore");
  const JsonValue* stated = json.find("bore");
  for (const Passage& passage : fitting.passages) {
    const JsonValue* list = stated == nullptr ? nullptr : stated->find(passage.name);
    const std::size_t have = list == nullptr ? 0 : list->items.size();
    tally.require(have == passage.stations.size(),
                  fmt::format("bore.{} has {} places, not {}", passage.name, have, passage.stations.size()));
    for (std::size_t i = 0; i < std::min(have, passage.stations.size()); ++i) {
      const Station& station = passage.stations[i];
      const std::string where = fmt::format("bore.{}[{}].", passage.name, i);
      const auto figure = [&](const char* key, double expected, double tolerance) {
        tally.number(where + key, list->items[i].find(key), expected, tolerance);
      };
      const double bare = 0.25 * 3.14159265358979323846 * station.bare_diameter * station.bare_diameter;
      tally.text(where + "place", list->items[i].find("place"), station.place);
      figure("distance", station.distance, k_millionth);
      figure("bare_diameter", station.bare_diameter, k_millionth);
      figure("lined_diameter", station.lined_diameter, k_millionth);
      figure("free_area", station.lined_area, k_thousandth);
      figure("share", station.lined_area / bare, k_billionth);
      figure("velocity_factor", bare / station.lined_area, k_billionth);
    }
  }
  tally.require(stated != nullptr && stated->keys.size() == fitting.passages.size(),
                "bore has other passages than the fitting");
  return tally.result("figures, as made again");
}

CheckResult facts(const Fitting& fitting, const std::vector<Pattern>& patterns, const JsonValue& json) {
  Tally tally("figures and words");
  const JsonValue* list = json.find("facts");
  const std::size_t have = list == nullptr ? 0 : list->items.size();
  tally.require(have == fitting.facts.size(), fmt::format("{} facts, not {}", have, fitting.facts.size()));
  for (std::size_t i = 0; i < std::min(have, fitting.facts.size()); ++i) {
    const Fact& fact = fitting.facts[i];
    const std::string where = fmt::format("facts[{}].", i);
    tally.text(where + "key", list->items[i].find("key"), fact.key);
    tally.text(where + "label", list->items[i].find("label"), fact.label);
    tally.number(where + fact.key, list->items[i].find("value"), as_written(fact.quantity, fact.value),
                 k_billionth);
  }
  tally.texts("steps", json.find("steps"), fitting.steps);
  std::vector<std::string> warnings = fitting.warnings;
  for (std::string& warning : tilt_warnings(fitting, patterns))
    if (std::find(warnings.begin(), warnings.end(), warning) == warnings.end())
      warnings.push_back(std::move(warning));
  tally.texts("warnings", json.find("warnings"), warnings);
  return tally.result("facts, steps and warnings");
}

// What make found when it checked: all passed, and by limits that are no looser than any that it has.
CheckResult recorded(const JsonValue& json) {
  constexpr double k_loosest = 0.05;  // mm, of the patterns' areas
  Tally tally("figures of checks");
  const JsonValue* list = json.find("checks");
  const JsonValue* volume = json.find("volumes");
  const bool solids = volume != nullptr && !volume->keys.empty();
  std::vector<std::string> names;
  if (list != nullptr)
    for (const JsonValue& check : list->items) {
      const JsonValue* name = check.find("name");
      const JsonValue* pass = check.find("pass");
      const JsonValue* value = check.find("value");
      const JsonValue* limit = check.find("limit");
      names.push_back(name != nullptr ? name->text : "");
      const bool figures = value != nullptr && limit != nullptr && value->is_number() && limit->is_number();
      tally.require(pass != nullptr && pass->flag && figures && value->number <= limit->number &&
                        limit->number <= k_loosest,
                    "the recorded check '" + names.back() + "' did not pass");
    }
  if (solids)
    for (const char* needed : {"fill", "volumes", "joint curves"})
      tally.require(std::find(names.begin(), names.end(), needed) != names.end(),
                    std::string("the recorded check '") + needed + "' is missing");
  return tally.result("recorded checks");
}

}  // namespace

std::vector<CheckResult> prove_figures(const Fitting& fitting, const std::vector<Pattern>& patterns,
                                       const JsonValue& json) {
  return {parameters(fitting, json), pieces(fitting, patterns, json), volumes(fitting, json),
          bore(fitting, json),       facts(fitting, patterns, json),  recorded(json)};
}

}  // namespace linerwright
