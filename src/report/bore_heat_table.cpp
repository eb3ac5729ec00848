// Tables of heat and sound.
#include <fmt/format.h>

#include <algorithm>

#include "bore_parts.hpp"
#include "linerwright/figures.hpp"
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

// What the ducts gain from the room they hang in, or lose to it.
std::string gain_part(const BoreReport& report) {
  if (!report.room) return {};
  const Units units = report.units;
  TableRows rows;
  double bare = 0.0;
  double lined = 0.0;
  for (const BoreRow& row : report.rows) {
    if (!row.lined_gain) continue;
    const double metres = row.length * 1e-3 * static_cast<double>(row.count);
    bare += metres * row.bare_gain->per_metre;
    lined += metres * row.lined_gain->per_metre;
    rows.push_back({row.tag, passage_word(report, row),
                    shown(Figure::heat_per_length, row.bare_gain->per_metre, units),
                    shown(Figure::heat_per_length, row.lined_gain->per_metre, units),
                    shown(Figure::heat, metres * row.lined_gain->per_metre, units),
                    shown(Figure::temperature, row.bare_gain->surface_temperature, units),
                    shown(Figure::temperature, row.lined_gain->surface_temperature, units),
                    row.least_dry   ? shown(Figure::length, *row.least_dry, units)
                    : row.never_dry ? "none"
                                    : ""});
  }
  if (rows.empty()) return {};
  const BoreRoom& room = *report.room;
  std::string text =
      fmt::format(
          "\nheat that the air gains ({}; in all {}), outside of the metal ({}), dry from what liner\n",
          unit_of(Figure::heat_per_length, units), unit_of(Figure::heat, units),
          unit_of(Figure::temperature, units)) +
      text_table({{"tag", true},
                  {"passage", true},
                  {"bare"},
                  {"lined"},
                  {"in all"},
                  {"metal bare"},
                  {"lined"},
                  {table_head("dry from", Figure::length, units)}},
                 rows) +
      fmt::format("  the whole job: bare {} {}, lined {} {}\n", shown(Figure::heat, bare, units),
                  unit_of(Figure::heat, units), shown(Figure::heat, lined, units),
                  unit_of(Figure::heat, units));
  text += wrapped(
      "  ",
      fmt::format("air in the ducts {}, room {}{}, emissivity {}; each passage at the place where its air "
                  "is fastest, metal's own resistance, flanges and hangers not counted",
                  shown_quantity(Quantity::temperature, room.air_temperature, units, 1),
                  shown_quantity(Quantity::temperature, room.temperature, units, 1),
                  room.dew_point
                      ? ", dew point " + shown_quantity(Quantity::temperature, *room.dew_point, units, 1)
                      : std::string(),
                  trimmed(room.emissivity, 3)));
  return text;
}

}  // namespace

std::string heat_part(const BoreReport& report) {
  return resistance_part(report) + gain_part(report);
}

std::string sound_part(const BoreReport& report) {
  TableRows rows;
  std::vector<std::string> notes;
  std::string outside;
  bool noisy = false;
  bool bends = false;
  for (const BoreRow& row : report.rows) {
    bends = bends || !row.sound;
    noisy = noisy || row.air_noise;
    if (!row.sound) continue;
    if (!row.sound->bands) {
      for (const std::string& reason : row.sound->out_of_range)
        outside += wrapped("  ", fmt::format("{}: no estimate: {}", row.tag, reason));
      continue;
    }
    const auto add = [&](const char* what, const auto& bands, const auto& text) {
      rows.push_back({row.tag, what, shown(Figure::length, row.length, report.units)});
      for (const auto& band : bands) rows.back().push_back(text(band));
    };
    const auto plain = [](double value) { return fixed(value, 1); };
    add("lined", *row.sound->bands,
        [](const BandLoss& band) { return fixed(band.total, 1) + (band.capped ? "*" : ""); });
    if (row.bare_sound) add("bare", *row.bare_sound, plain);
    if (row.air_noise) add("air noise", *row.air_noise, plain);
    for (const std::string& note : row.sound->notes)
      if (std::find(notes.begin(), notes.end(), note) == notes.end()) notes.push_back(note);
  }
  if (rows.empty() && outside.empty()) return {};
  std::string text =
      "\nsound: what straight lengths take, and noise of the air itself, dB per octave band (Hz), an "
      "estimate\n";
  if (!rows.empty())
    text += text_table({{"tag", true},
                        {"what", true},
                        {table_head("length", Figure::length, report.units)},
                        {"63"},
                        {"125"},
                        {"250"},
                        {"500"},
                        {"1k"},
                        {"2k"},
                        {"4k"},
                        {"8k"}},
                       rows);
  for (const std::string& note : notes) text += wrapped("  ", note);
  if (!rows.empty())
    text += wrapped("  ", "bare: the same authors' table 5.5, ends at 4000 Hz; at 8000 Hz the same is taken");
  if (noisy)
    text += wrapped(
        "  ",
        "air noise: L_W = 7 + 50 lg v + 10 lg S, octaves less 2 + 26 lg(1.14 + 0.02 f/v) (VDI 2081, from "
        "memory; 2 to 20 m/s), of straight duct, re 1e-12 W; bends and branches make more");
  if (bends)
    text += wrapped(
        "  ", "no estimate for bends, tapers and branches: the regression was made on straight lengths only");
  return text + outside;
}

}  // namespace linerwright
