#include <fmt/format.h>

#include <algorithm>
#include <unordered_map>

#include "bore_parts.hpp"
#include "bore_runs.hpp"
#include "linerwright/report/bore.hpp"
#include "text_table.hpp"

namespace linerwright {

std::string passage_word(const BoreReport& report, const BoreRow& row) {
  const BoreRow* first = report.rows.data();
  const BoreRow* last = first + report.rows.size() - 1;
  const bool several =
      (&row != first && (&row)[-1].tag == row.tag) || (&row != last && (&row)[1].tag == row.tag);
  return several ? row.passage : std::string();
}

std::string row_name(const BoreReport& report, const BoreRow& row) {
  const std::string passage = passage_word(report, row);
  return row.tag + (passage.empty() ? "" : " " + passage);
}

std::vector<std::string> grouped(const std::vector<NamedText>& named) {
  constexpr std::size_t k_most_names = 12;
  std::vector<std::pair<std::string, std::vector<std::string>>> texts;  // each with its names, in order
  std::unordered_map<std::string, std::size_t> places;
  for (const NamedText& each : named) {
    const auto [found, added] = places.emplace(each.text, texts.size());
    if (added) texts.push_back({each.text, {}});
    texts[found->second].second.push_back(each.name);
  }
  std::vector<std::string> lines;
  for (const auto& [text, names] : texts) {
    std::string all;
    for (std::size_t i = 0; i < names.size() && i < k_most_names; ++i)
      all += (all.empty() ? "" : ", ") + names[i];
    if (names.size() > k_most_names) all += fmt::format(" and {} more", names.size() - k_most_names);
    lines.push_back(all + ": " + text);
  }
  return lines;
}

std::vector<std::string> notes_by_row(const BoreReport& report) {
  const auto of_limit = [](const BoreRow& row, const std::string& note) {
    return row.over_limit && note.find("is over the lining's limit") != std::string::npos;
  };
  std::vector<NamedText> named;
  for (const bool limits : {true, false})
    for (const BoreRow& row : report.rows)
      for (const std::string& note : row.notes)
        if (of_limit(row, note) == limits) named.push_back({row_name(report, row), note});
  return grouped(named);
}

std::string table_head(const char* name, Figure figure, Units units) {
  return fmt::format("{} {}", name, unit_of(figure, units));
}

namespace {

using Rows = TableRows;
constexpr auto head = table_head;

std::string percent(double share) {
  return fixed(100.0 * share, 1) + " %";
}

std::string bore_part(const BoreReport& report) {
  const Units units = report.units;
  Rows rows;
  for (const BoreRow& row : report.rows) {
    const BorePlace& at = row.narrowest_place();
    rows.push_back({row.tag, passage_word(report, row), std::to_string(row.count),
                    shown(Figure::length, row.length, units), shown(Figure::length, at.bare_diameter, units),
                    shown(Figure::length, at.lined_diameter, units), shown(Figure::area, at.free_area, units),
                    percent(at.share), fixed(row.velocity_factor, 3),
                    row.even ? "" : shown(Figure::length, at.distance, units),
                    row.even ? "all along" : at.place});
  }
  std::string text = text_table({{"tag", true},
                                 {"passage", true},
                                 {"count"},
                                 {head("length", Figure::length, units)},
                                 {head("bare", Figure::length, units)},
                                 {head("lined", Figure::length, units)},
                                 {head("free", Figure::area, units)},
                                 {"share"},
                                 {"vel. x"},
                                 {head("at", Figure::length, units)},
                                 {"narrowest", true}},
                                rows);
  for (const BoreRow& row : report.rows)
    if (!row.as_written.empty())
      text += wrapped("  ", fmt::format("{}, as written: {}", row.tag, row.as_written));
  return text;
}

std::string along_part(const BoreReport& report) {
  const Units units = report.units;
  Rows rows;
  for (const BoreRow& row : report.rows) {
    if (row.even) continue;
    for (std::size_t i = 0; i < row.places.size(); ++i) {
      const BorePlace& at = row.places[i];
      rows.push_back(
          {row.tag, passage_word(report, row), shown(Figure::length, at.distance, units),
           shown(Figure::length, at.bare_diameter, units), shown(Figure::length, at.lined_diameter, units),
           shown(Figure::area, at.free_area, units), percent(at.share),
           at.place + (i == row.narrowest ? (at.place.empty() ? "narrowest" : ", narrowest") : "")});
    }
  }
  if (rows.empty()) return {};
  return "\nalong the path, where the bore changes\n" + text_table({{"tag", true},
                                                                    {"passage", true},
                                                                    {head("distance", Figure::length, units)},
                                                                    {head("bare", Figure::length, units)},
                                                                    {head("lined", Figure::length, units)},
                                                                    {head("free", Figure::area, units)},
                                                                    {"share"},
                                                                    {"place", true}},
                                                                   rows);
}

std::string openings_part(const BoreReport& report) {
  const Units units = report.units;
  Rows rows;
  for (const BoreOpening& opening : report.openings)
    rows.push_back({opening.tag, opening.name, shown(Figure::area, opening.bare_area, units),
                    shown(Figure::area, opening.free_area, units), percent(opening.share)});
  if (rows.empty()) return {};
  return "\nopenings, on the curved walls\n" + text_table({{"tag", true},
                                                           {"opening", true},
                                                           {head("bare", Figure::area, units)},
                                                           {head("lined", Figure::area, units)},
                                                           {"share"}},
                                                          rows);
}

std::string step_part(const BoreReport& report) {
  if (!report.step_up) return {};
  const Units units = report.units;
  Rows rows;
  for (const BoreRow& row : report.rows)
    for (std::size_t i = 0; i < row.steps.size(); ++i) {
      const BoreStep& step = row.steps[i];
      const auto& size = step.found.size;
      const bool last = i + 1 == row.steps.size();  // the sheet is for the whole passage
      rows.push_back({row.tag, passage_word(report, row), step.place,
                      shown(Figure::length, step.asked.diameter, units),
                      size ? shown(Figure::length, size->diameter, units) : "none",
                      size ? shown(Figure::length, size->bore, units) : "", size ? percent(size->share) : "",
                      size && size->air ? shown(Figure::velocity, size->air->velocity, units) : "",
                      size && size->air ? shown(Figure::friction, size->air->friction, units) : "",
                      last && row.added_metal ? shown(Figure::area, *row.added_metal, units) : "",
                      last && row.added_mass ? shown(Figure::mass, *row.added_mass, units) : ""});
    }
  if (rows.empty()) return {};
  std::string text =
      fmt::format("\nstep up by {}, {}: diameters ({}), velocity ({}), friction ({})\n",
                  words_of(*report.step_up), words_of(report.series), unit_of(Figure::length, units),
                  unit_of(Figure::velocity, units), unit_of(Figure::friction, units)) +
      text_table({{"tag", true},
                  {"passage", true},
                  {"end", true},
                  {"now"},
                  {"next"},
                  {"bore"},
                  {"of bare"},
                  {"velocity"},
                  {"friction"},
                  {head("metal", Figure::area, units)},
                  {std::string(unit_of(Figure::mass, units))}},
                 rows) +
      fmt::format("metal added by the whole job: {} {}, {} {}\n",
                  shown(Figure::area, report.added_metal, units), unit_of(Figure::area, units),
                  shown(Figure::mass, report.added_mass, units), unit_of(Figure::mass, units));
  if (report.without_size > 0)
    text += fmt::format("not in it: {} for which no size of the series is large enough\n",
                        report.without_size == 1 ? std::string("1 passage")
                                                 : fmt::format("{} passages", report.without_size));
  return text;
}

std::string notes_part(const BoreReport& report) {
  std::string text;
  for (const std::string& note : notes_by_row(report)) text += wrapped("  ", note);
  return text.empty() ? text : "\nnotes\n" + text;
}

}  // namespace

std::string bore_table(const BoreReport& report) {
  if (report.rows.empty()) return "no fittings\n";
  return bore_part(report) + (report.along ? along_part(report) : std::string()) + openings_part(report) +
         air_part(report) + loss_part(report) + runs_part(report) + step_part(report) + heat_part(report) +
         sound_part(report) + notes_part(report) + basis_part(report) +
         "\nlinerwright bore --explain tells the formula, source and doubts of every figure.\n"
         "The licensed designer and local codes decide.\n";
}

}  // namespace linerwright
