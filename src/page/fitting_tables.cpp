#include "fitting_tables.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "html.hpp"
#include "linerwright/fitting/shop_words.hpp"
#include "linerwright/report/shop_sheet.hpp"
#include "linerwright/units/figures.hpp"
#include "words.hpp"

namespace linerwright {

int insertion_rank(const Fitting& fitting, int piece) {
  const auto found = std::find(fitting.insertion.begin(), fitting.insertion.end(), piece);
  return found == fitting.insertion.end() ? 0 : static_cast<int>(found - fitting.insertion.begin()) + 1;
}

double free_share(const Station& station) {
  return station.lined_area / (0.25 * k_pi * station.bare_diameter * station.bare_diameter);
}

const Station& narrowest(const Passage& passage) {
  return *std::min_element(passage.stations.begin(), passage.stations.end(),
                           [](const Station& a, const Station& b) { return a.lined_area < b.lined_area; });
}

const Pattern* pattern_of(const std::vector<Pattern>& patterns, int piece) {
  const auto found = std::find_if(patterns.begin(), patterns.end(), [&](const Pattern& pattern) {
    return !pattern.is_blank &&
           std::find(pattern.pieces.begin(), pattern.pieces.end(), piece) != pattern.pieces.end();
  });
  return found == patterns.end() ? nullptr : &*found;
}

std::string ends_text(const Fitting& fitting, const Passage& passage) {
  const auto rectangle = rectangle_of(fitting, 0.0);
  const std::string first = rectangle ? shop_rectangle(fitting, *rectangle)
                                      : length_text(fitting, passage.stations.front().bare_diameter);
  const std::string last = length_text(fitting, passage.stations.back().bare_diameter);
  return first == last ? first : first + " to " + last;
}

namespace {

std::string joined(const std::vector<std::string>& texts) {
  std::string out;
  for (const std::string& text : texts) out += (out.empty() ? "" : ", ") + text;
  return out;
}

}  // namespace

std::string pieces_table(const FittingPage& page) {
  const Fitting& fitting = page.fitting;
  const std::string unit = unit_text(fitting);
  HtmlTable table{{},
                  {"goes in", "piece", "id", "seam", "meets", "around, " + unit, "along, " + unit,
                   "largest tilt", "weight"},
                  5,
                  {}};
  std::vector<const Pattern*> told;
  for (const int index : fitting.insertion) {
    const Piece& piece = fitting.piece(index);
    const Pattern* pattern = pattern_of(page.patterns, index);
    if (pattern == nullptr || std::find(told.begin(), told.end(), pattern) != told.end()) continue;
    told.push_back(pattern);
    table.rows.push_back({std::to_string(told.size()),
                          "<strong>" + html_text(pattern_name(fitting, *pattern)) + "</strong>",
                          html_text(pattern->id), html_text(piece.seam_place), html_text(joined(piece.next)),
                          length_cell(fitting, pattern->board.x), length_cell(fitting, pattern->board.y),
                          degrees_text(pattern->max_tilt),
                          shown_quantity(Quantity::mass, cut_mass(fitting, *pattern), fitting.units)});
  }
  return html_of(table);
}

std::string ordinate_tables(const FittingPage& page) {
  const Fitting& fitting = page.fitting;
  const std::string unit = unit_text(fitting);
  const auto cell = [&](double mm) { return length_cell(fitting, mm, 1); };
  std::string out;
  for (const Pattern& pattern : page.patterns) {
    const LinerSpec& liner = liner_of(fitting, pattern);
    const std::string outer = std::string(face_word(liner, Face::duct)) + " face";
    const std::string inner = std::string(face_word(liner, Face::air)) + " face";
    if (!pattern.ordinates.empty()) {
      HtmlTable table{"Piece " + html_text(pattern.id) + ": edges, " + unit,
                      {"station", "angle", "from the seam", outer + ", low edge", outer + ", high edge",
                       inner + ", low edge", inner + ", high edge"},
                      1,
                      {}};
      for (const Ordinate& o : pattern.ordinates)
        table.rows.push_back({std::to_string(table.rows.size()), degrees_text(o.theta, 2), cell(o.at.x),
                              cell(o.duct_low), cell(o.duct_high), cell(o.air_low), cell(o.air_high)});
      out += html_of(table);
    }
    if (!pattern.notch_ordinates.empty()) {
      HtmlTable table{"Piece " + html_text(pattern.id) + ": notches, " + unit,
                      {"notch", "angle", "point x", "point y", "left corner x", "duct face y", "air face y",
                       "right corner x", "duct face y", "air face y"},
                      1,
                      {}};
      for (const NotchOrdinate& o : pattern.notch_ordinates)
        table.rows.push_back({std::to_string(table.rows.size() + 1), degrees_text(o.theta, 2), cell(o.tip.x),
                              cell(o.tip.y), cell(o.duct[0].x), cell(o.duct[0].y), cell(o.air[0].y),
                              cell(o.duct[1].x), cell(o.duct[1].y), cell(o.air[1].y)});
      out += html_of(table);
    }
    if (!pattern.hole_ordinates.empty()) {
      HtmlTable table{"Piece " + html_text(pattern.id) + ": holes, " + unit,
                      {"hole", fitting.openings.empty() ? "angle on the branch" : "angle on branch or edge",
                       outer + " x", outer + " y", inner + " x", inner + " y"},
                      1,
                      {}};
      for (const HoleOrdinate& o : pattern.hole_ordinates)
        table.rows.push_back({std::to_string(o.hole + 1), degrees_text(o.s, 2), cell(o.duct.x),
                              cell(o.duct.y), cell(o.air.x), cell(o.air.y)});
      out += html_of(table);
    }
  }
  for (const Pattern& pattern : site_templates(fitting)) {
    HtmlTable table{"Template " + html_text(pattern.id) + ": the hole's edge, " + unit,
                    {"station", "angle on the branch", "x", "y"},
                    1,
                    {}};
    for (const HoleOrdinate& o : pattern.hole_ordinates)
      table.rows.push_back(
          {std::to_string(table.rows.size()), degrees_text(o.s, 2), cell(o.duct.x), cell(o.duct.y)});
    out += html_of(table);
  }
  return out;
}

std::string bore_table_of(const Fitting& fitting) {
  const std::string unit = unit_text(fitting);
  HtmlTable table{
      {},
      {"way", "place", "along, " + unit, "bare, " + unit, "clear, " + unit,
       "free area, " + std::string(unit_name(Quantity::area, fitting.units)), "share", "velocity"},
      2,
      {}};
  for (const Passage& passage : fitting.passages)
    for (const Station& station : passage.stations) {
      const double share = free_share(station);
      table.rows.push_back(
          {html_text(passage.name), html_text(station.place), length_cell(fitting, station.distance),
           length_cell(fitting, station.bare_diameter), length_cell(fitting, station.lined_diameter),
           shown_number(Quantity::area, station.lined_area, fitting.units), fixed(100.0 * share, 1) + " %",
           "\u00d7 " + fixed(1.0 / share, 3)});
    }
  return html_of(table);
}

std::string checks_table(const FittingPage& page) {
  if (page.checks.empty()) return "<p>Not run: patterns alone were made.</p>\n";
  HtmlTable table{{}, {"check", "what is compared", "result", "value", "limit"}, 3, {}};
  const auto shown = [](double value, const std::string& unit) {
    const std::string digits =
        value != 0.0 && value < 1e-4 ? fmt::format("{:.1e}", value) : trimmed(value, 5);
    return digits + (unit.empty() ? "" : " " + html_text(unit));
  };
  for (const CheckResult& check : page.checks)
    table.rows.push_back(
        {html_text(check.name), html_text(check.detail),
         check.pass ? "<span class=\"pass\">pass</span>" : "<span class=\"fail\">FAIL</span>",
         shown(check.value, check.unit), shown(check.limit, check.unit)});
  return html_of(table);
}

std::string facts_table(const Fitting& fitting) {
  HtmlTable table{{}, {"figure", "value"}, 1, {}};
  for (const Fact& fact : fitting.facts)
    table.rows.push_back(
        {html_text(fact.label), html_text(shown_quantity(fact.quantity, fact.value, fitting.units))});
  return table.rows.empty() ? "" : html_of(table);
}

std::string asked_table(const Fitting& fitting) {
  HtmlTable table{{}, {"asked for", "as written"}, 2, {}};
  for (const auto& [key, value] : fitting.request.values.all()) {
    if (!value.given) continue;
    std::string name = key;
    std::replace(name.begin(), name.end(), '_', ' ');
    table.rows.push_back({html_text(name), html_text(value.written)});
  }
  return table.rows.empty() ? "" : html_of(table);
}

}  // namespace linerwright
