#include <fmt/format.h>

#include <algorithm>

#include "linerwright/bore.hpp"
#include "linerwright/error.hpp"
#include "linerwright/json.hpp"
#include "text_table.hpp"

namespace linerwright {

namespace {

class Shown {
 public:
  explicit Shown(Units units) : units_(units) {}

  std::string unit(Quantity quantity) const { return std::string(unit_name(quantity, units_)); }
  std::string number(Quantity quantity, double value, int decimals) const {
    return fixed(to_units(quantity, value, units_), decimals);
  }
  std::string length(double value) const {
    return number(Quantity::length, value, units_ == Units::inch ? 2 : 1);
  }
  std::string area(double value) const {
    return number(Quantity::area, value, units_ == Units::inch ? 3 : 4);
  }
  std::string velocity(double value) const {
    return number(Quantity::velocity, value, units_ == Units::inch ? 0 : 2);
  }
  std::string pressure(double value) const {
    return number(Quantity::pressure, value, units_ == Units::inch ? 4 : 2);
  }
  // friction as designers read it: Pa per metre, or inches of water per 100 ft
  std::string friction_unit() const { return units_ == Units::inch ? "in wg/100ft" : "Pa/m"; }
  std::string friction(double pascal_per_metre) const {
    if (units_ == Units::metric) return fixed(pascal_per_metre, 3);
    return fixed(to_units(Quantity::pressure, pascal_per_metre * 30.48, units_), 4);
  }
  std::string mass(double value) const { return number(Quantity::mass, value, 1); }

 private:
  Units units_;
};

std::string name_of(const BoreRow& row, const BoreReport& report) {
  const auto same = std::count_if(report.rows.begin(), report.rows.end(),
                                  [&](const BoreRow& r) { return r.tag == row.tag; });
  return same > 1 ? row.tag + " " + row.passage : row.tag;
}

std::string bore_part(const BoreReport& report, const Shown& shown) {
  std::vector<std::vector<std::string>> cells;
  for (const BoreRow& row : report.rows)
    cells.push_back({name_of(row, report), shown.length(row.bare_diameter), shown.length(row.lined_diameter),
                     shown.area(row.free_area), fixed(100.0 * row.share, 1) + " %",
                     fixed(row.velocity_factor, 3), row.narrowest_place});
  const std::string length = shown.unit(Quantity::length);
  return text_table({"tag", "bare " + length, "lined " + length, "free " + shown.unit(Quantity::area),
                     "share", "velocity x", "narrowest at"},
                    cells);
}

std::string air_part(const BoreReport& report, const Shown& shown) {
  std::vector<std::vector<std::string>> cells;
  for (const BoreRow& row : report.rows)
    if (row.lined_air)
      cells.push_back({name_of(row, report), shown.velocity(row.bare_air->velocity),
                       shown.velocity(row.lined_air->velocity),
                       shown.pressure(row.lined_air->velocity_pressure), fixed(row.lined_air->reynolds, 0),
                       shown.friction(row.bare_air->friction), shown.friction(row.lined_air->friction),
                       row.loss ? shown.pressure(*row.loss) : "-", row.over_limit ? "over limit" : ""});
  if (cells.empty()) return {};
  const std::string speed = shown.unit(Quantity::velocity);
  return fmt::format("\nair (friction in {})\n", shown.friction_unit()) +
         text_table({"tag", "bare " + speed, "lined " + speed, "pv " + shown.unit(Quantity::pressure),
                     "Reynolds", "f bare", "f lined", "loss " + shown.unit(Quantity::pressure), ""},
                    cells);
}

std::string step_part(const BoreReport& report, const Shown& shown) {
  std::vector<std::vector<std::string>> cells;
  for (const BoreRow& row : report.rows) {
    if (!row.step) continue;
    const auto& size = row.step->size;
    cells.push_back({name_of(row, report), shown.length(row.bare_diameter),
                     size ? shown.length(size->diameter) : "none in series",
                     size ? shown.length(size->bore) : "-", size ? fixed(100.0 * size->share, 1) + " %" : "-",
                     size && size->added_mass ? shown.mass(*size->added_mass * row.length / 1000.0 *
                                                           static_cast<double>(row.count))
                                              : "-"});
  }
  if (cells.empty()) return {};
  const std::string length = shown.unit(Quantity::length);
  return "\nstep up\n" +
         text_table({"tag", "now " + length, "next " + length, "its bore " + length, "of the bare area",
                     "added metal " + shown.unit(Quantity::mass)},
                    cells) +
         fmt::format("added metal for the job: {} m2, {} {}\n", fixed(report.added_metal, 2),
                     shown.mass(report.added_mass), shown.unit(Quantity::mass));
}

std::string heat_part(const BoreReport& report) {
  std::vector<std::vector<std::string>> heat;
  std::vector<std::vector<std::string>> sound;
  std::vector<std::string> notes;
  for (const BoreRow& row : report.rows) {
    if (row.heat)
      heat.push_back({name_of(row, report), fixed(row.heat->per_length, 4), fixed(row.heat->on_duct_face, 3),
                      fixed(row.heat->on_air_face, 3)});
    if (!row.sound) continue;
    std::vector<std::string> line{name_of(row, report)};
    if (row.sound->bands)
      for (const BandLoss& band : *row.sound->bands) line.push_back(fixed(band.total, 1));
    else
      line.push_back("outside the estimate's range");
    line.resize(9);
    sound.push_back(line);
    if (notes.empty()) notes = row.sound->notes;
  }
  std::string text;
  if (!heat.empty())
    text += "\nthermal resistance of the lining alone\n" +
            text_table({"tag", "m K/W", "m2 K/W duct face", "m2 K/W air face"}, heat);
  if (!sound.empty()) {
    text += "\ninsertion loss of straight lengths, dB per octave band: an estimate\n" +
            text_table({"tag", "63", "125", "250", "500", "1k", "2k", "4k", "8k"}, sound, 1, 28);
    for (const std::string& note : notes) text += "  " + note + '\n';
  }
  return text;
}

void air_json(JsonWriter& json, const BoreFlow& air) {
  json.begin_object()
      .key("velocity")
      .number(air.velocity)
      .key("velocity_pressure")
      .number(air.velocity_pressure)
      .key("reynolds")
      .number(air.reynolds, 1)
      .key("friction_factor")
      .number(air.friction_factor, 9)
      .key("friction")
      .number(air.friction, 9)
      .end_object();
}

}  // namespace

std::string bore_table(const BoreReport& report) {
  const Shown shown(report.units);
  std::string text =
      bore_part(report, shown) + air_part(report, shown) + step_part(report, shown) + heat_part(report);
  for (const BoreRow& row : report.rows)
    for (const std::string& note : row.notes) text += fmt::format("{}: {}\n", name_of(row, report), note);
  return text;
}

std::string bore_csv(const BoreReport& report) {
  const Shown shown(report.units);
  const std::string length = shown.unit(Quantity::length);
  std::string text = fmt::format(
      "tag,passage,count,bare_diameter_{0},lined_diameter_{0},free_area_{1},share,velocity_factor,narrowest_"
      "at_{0},narrowest_place,"
      "bare_velocity_{2},lined_velocity_{2},velocity_pressure_{3},reynolds,bare_friction_Pa/"
      "m,lined_friction_Pa/m,loss_{3},"
      "next_diameter_{0}\n",
      length, shown.unit(Quantity::area), shown.unit(Quantity::velocity), shown.unit(Quantity::pressure));
  for (const BoreRow& row : report.rows) {
    const auto maybe = [](bool there, const std::string& value) { return there ? value : std::string(); };
    const bool air = row.lined_air.has_value();
    const auto number = [&](Quantity quantity, double value) { return shown.number(quantity, value, 6); };
    text += csv_cell(row.tag) + "," + row.passage + "," + std::to_string(row.count) + "," +
            number(Quantity::length, row.bare_diameter) + "," + number(Quantity::length, row.lined_diameter) +
            "," + number(Quantity::area, row.free_area) + "," + fixed(row.share, 6) + "," +
            fixed(row.velocity_factor, 6) + "," + number(Quantity::length, row.narrowest_at) + "," +
            csv_cell(row.narrowest_place) + "," +
            maybe(air, air ? number(Quantity::velocity, row.bare_air->velocity) : "") + "," +
            maybe(air, air ? number(Quantity::velocity, row.lined_air->velocity) : "") + "," +
            maybe(air, air ? number(Quantity::pressure, row.lined_air->velocity_pressure) : "") + "," +
            maybe(air, air ? fixed(row.lined_air->reynolds, 1) : "") + "," +
            maybe(air, air ? fixed(row.bare_air->friction, 6) : "") + "," +
            maybe(air, air ? fixed(row.lined_air->friction, 6) : "") + "," +
            (row.loss ? number(Quantity::pressure, *row.loss) : "") + "," +
            (row.step && row.step->size ? number(Quantity::length, row.step->size->diameter) : "") + "\n";
  }
  return text;
}

std::string bore_json(const BoreReport& report) {
  JsonWriter json;
  json.begin_object().key("units").text("mm, mm2, m/s, Pa, Pa/m, m K/W, dB").key("rows").begin_array();
  for (const BoreRow& row : report.rows) {
    json.begin_object()
        .key("tag")
        .text(row.tag)
        .key("passage")
        .text(row.passage)
        .key("count")
        .integer(row.count)
        .key("bare_diameter")
        .number(row.bare_diameter)
        .key("lined_diameter")
        .number(row.lined_diameter)
        .key("free_area")
        .number(row.free_area)
        .key("share")
        .number(row.share, 9)
        .key("velocity_factor")
        .number(row.velocity_factor, 9)
        .key("narrowest_at")
        .number(row.narrowest_at)
        .key("narrowest_place")
        .text(row.narrowest_place)
        .key("length")
        .number(row.length);
    if (row.lined_air) {
      json.key("bare_air");
      air_json(json, *row.bare_air);
      json.key("lined_air");
      air_json(json, *row.lined_air);
      json.key("over_limit").boolean(row.over_limit);
    }
    if (row.loss) json.key("loss").number(*row.loss);
    if (row.step) {
      json.key("step_up")
          .begin_object()
          .key("text")
          .text(row.step->text)
          .key("bore_needed")
          .number(row.step->bore_needed);
      if (row.step->size)
        json.key("diameter")
            .number(row.step->size->diameter)
            .key("bore")
            .number(row.step->size->bore)
            .key("free_area")
            .number(row.step->size->free_area)
            .key("added_metal_per_metre")
            .number(row.step->size->added_metal)
            .key("added_mass_per_metre")
            .number(row.step->size->added_mass.value_or(0.0));
      json.end_object();
    }
    if (row.heat)
      json.key("thermal_resistance")
          .begin_object()
          .key("per_length")
          .number(row.heat->per_length, 9)
          .key("on_duct_face")
          .number(row.heat->on_duct_face, 9)
          .key("on_air_face")
          .number(row.heat->on_air_face, 9)
          .end_object();
    if (row.sound) {
      json.key("insertion_loss_estimate").begin_array();
      if (row.sound->bands)
        for (const BandLoss& band : *row.sound->bands)
          json.begin_object()
              .key("frequency")
              .number(band.frequency)
              .key("total")
              .number(band.total)
              .key("per_metre")
              .number(band.per_metre)
              .end_object();
      json.end_array();
    }
    json.key("notes").begin_array();
    for (const std::string& note : row.notes) json.text(note);
    json.end_array().end_object();
  }
  json.end_array()
      .key("added_metal")
      .number(report.added_metal)
      .key("added_mass")
      .number(report.added_mass)
      .end_object();
  return json.str();
}

std::string explain_text(const std::string& figure) {
  std::string text;
  const auto add = [&](const Explanation& entry) {
    text += fmt::format("{}\n  formula: {}\n  source:  {}\n", entry.figure, entry.formula, entry.source);
    if (!entry.doubts.empty()) text += fmt::format("  doubts:  {}\n", entry.doubts);
  };
  if (figure.empty() || figure == "all") {
    for (const Explanation& entry : explanations()) add(entry);
    return text;
  }
  const Explanation* entry = explain(figure);
  if (entry == nullptr) {
    std::string known;
    for (const Explanation& each : explanations())
      known += (known.empty() ? "" : ", ") + std::string(each.figure);
    throw InputError({Problem{{}, 0, {}, "--explain", figure, known, "no figure has this name"}});
  }
  add(*entry);
  return text;
}

}  // namespace linerwright
