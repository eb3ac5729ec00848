// Tables of heat and sound.
#include <fmt/format.h>

#include <algorithm>

#include "bore_parts.hpp"
#include "linerwright/units/figures.hpp"
#include "text_table.hpp"

namespace linerwright {

namespace {

std::string resistance_part(const BoreReport& report) {
  const Units units = report.units;
  TableRows rows;
  for (const BoreRow& row : report.rows)
    if (row.heat)
      rows.push_back({row.tag, passage_word(report, row),
                      shown(Figure::length_resistance, row.heat->per_length, units),
                      shown(Figure::resistance, row.heat->on_duct_face, units),
                      shown(Figure::resistance, row.heat->on_air_face, units),
                      shown(Figure::resistance, row.heat->flat, units)});
  if (rows.empty()) return {};
  return fmt::format("\nheat: resistance of the lining alone, of duct length ({}), on each face ({})\n",
                     unit_of(Figure::length_resistance, units), unit_of(Figure::resistance, units)) +
         text_table(
             {{"tag", true}, {"passage", true}, {"of length"}, {"duct face"}, {"air face"}, {"laid flat"}},
             rows);
}

}  // namespace

// What the ducts gain from the room they hang in, or lose to it.
SheetTable gain_table(const BoreReport& report) {
  const Units units = report.units;
  SheetTable table{
      fmt::format("Heat that the air gains ({}; in all {}), outside of the metal ({}), dry from what liner",
                  unit_of(Figure::heat_per_length, units), unit_of(Figure::heat, units),
                  unit_of(Figure::temperature, units)),
      {"tag", "passage", "bare", "lined", "in all", "metal bare", "metal lined",
       table_head("dry from", Figure::length, units)},
      2,
      {},
      {}};
  if (!report.room) return table;
  double bare = 0.0;
  double lined = 0.0;
  for (const BoreRow& row : report.rows) {
    if (!row.lined_gain) continue;
    const double metres = row.length * 1e-3 * static_cast<double>(row.count);
    bare += metres * row.bare_gain->per_metre;
    lined += metres * row.lined_gain->per_metre;
    table.rows.push_back({row.tag, passage_word(report, row),
                          shown(Figure::heat_per_length, row.bare_gain->per_metre, units),
                          shown(Figure::heat_per_length, row.lined_gain->per_metre, units),
                          shown(Figure::heat, metres * row.lined_gain->per_metre, units),
                          shown(Figure::temperature, row.bare_gain->surface_temperature, units),
                          shown(Figure::temperature, row.lined_gain->surface_temperature, units),
                          row.least_dry   ? shown(Figure::length, *row.least_dry, units)
                          : row.never_dry ? "none"
                                          : ""});
  }
  const BoreRoom& room = *report.room;
  const std::string heat(unit_of(Figure::heat, units));
  table.notes = {
      fmt::format("the whole job: bare {} {}, lined {} {}", shown(Figure::heat, bare, units), heat,
                  shown(Figure::heat, lined, units), heat),
      fmt::format("air in the ducts {}, room {}{}, emissivity {}; each passage at the place where its air "
                  "is fastest, metal's own resistance, flanges and hangers not counted",
                  shown_quantity(Quantity::temperature, room.air_temperature, units, 1),
                  shown_quantity(Quantity::temperature, room.temperature, units, 1),
                  room.dew_point
                      ? ", dew point " + shown_quantity(Quantity::temperature, *room.dew_point, units, 1)
                      : std::string(),
                  trimmed(room.emissivity, 3))};
  return table;
}

SheetTable sound_table(const BoreReport& report) {
  SheetTable table{
      "Sound: what straight lengths take, and noise of the air itself, dB per octave band (Hz), an estimate",
      {"tag", "what", table_head("length", Figure::length, report.units), "63", "125", "250", "500", "1k",
       "2k", "4k", "8k"},
      2,
      {},
      {}};
  std::vector<NamedText> outside;
  bool noisy = false;
  bool bends = false;
  bool any = false;
  for (const BoreRow& row : report.rows) {
    bends = bends || !row.sound;
    if (!row.sound) continue;
    any = true;
    noisy = noisy || row.air_noise;
    if (!row.sound->bands) {
      for (const std::string& reason : row.sound->out_of_range)
        outside.push_back({row.tag, "no estimate: " + reason});
      continue;
    }
    const auto add = [&](const char* what, const auto& bands, const auto& text) {
      table.rows.push_back({row.tag, what, shown(Figure::length, row.length, report.units)});
      for (const auto& band : bands) table.rows.back().push_back(text(band));
    };
    const auto plain = [](double value) { return fixed(value, 1); };
    add("lined", *row.sound->bands,
        [](const BandLoss& band) { return fixed(band.total, 1) + (band.capped ? "*" : ""); });
    if (row.bare_sound) add("bare", *row.bare_sound, plain);
    if (row.air_noise) add("air noise", *row.air_noise, plain);
    for (const std::string& note : row.sound->notes)
      if (std::find(table.notes.begin(), table.notes.end(), note) == table.notes.end())
        table.notes.push_back(note);
  }
  if (!any) return table;
  if (!table.rows.empty())
    table.notes.emplace_back(
        "bare: the same authors' table 5.5, ends at 4000 Hz; at 8000 Hz the same is taken");
  if (noisy)
    table.notes.emplace_back(
        "air noise: L_W = 7 + 50 lg v + 10 lg S, octaves less 2 + 26 lg(1.14 + 0.02 f/v) (VDI 2081, from "
        "memory; 2 to "
        "20 m/s), of straight duct, re 1e-12 W; bends and branches make more");
  if (bends)
    table.notes.emplace_back(
        "no estimate for bends, tapers and branches: the regression was made on straight lengths only");
  for (std::string& line : grouped(outside)) table.notes.push_back(std::move(line));
  return table;
}

namespace {

// A document's table for a terminal: its title with a small letter, the notes below.
std::string as_text(const SheetTable& table) {
  if (table.rows.empty() && table.notes.empty()) return {};
  std::string title = table.title;
  title.front() = static_cast<char>(title.front() - 'A' + 'a');
  std::vector<Column> columns;
  for (std::size_t c = 0; c < table.heads.size(); ++c) columns.push_back({table.heads[c], c < table.words});
  std::string text = "\n" + title + "\n";
  if (!table.rows.empty()) text += text_table(columns, table.rows);
  for (const std::string& note : table.notes) text += wrapped("  ", note);
  return text;
}

}  // namespace

std::string heat_part(const BoreReport& report) {
  const SheetTable gain = gain_table(report);
  return resistance_part(report) + (gain.rows.empty() ? std::string() : as_text(gain));
}

std::string sound_part(const BoreReport& report) {
  return as_text(sound_table(report));
}

}  // namespace linerwright
