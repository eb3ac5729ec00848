// Sheets of fittings and their parts by name, for the tests of what stands on them.
#pragma once

#include <string>
#include <vector>

#include "linerwright/pattern/tilt_table.hpp"
#include "linerwright/report/shop_sheet.hpp"
#include "support/requests.hpp"

namespace linerwright::sheets {

using support::fitting_from;
using support::Flags;
using support::with;

inline ShopSheet sheet_of(const std::string& kind, const Flags& flags) {
  const Fitting fitting = fitting_from(kind, flags);
  const std::vector<Pattern> patterns = make_patterns(fitting);
  std::vector<std::string> warnings = fitting.warnings;
  for (std::string& warning : tilt_warnings(fitting, patterns)) warnings.push_back(std::move(warning));
  return shop_sheet(fitting, patterns, warnings, {"Job", "2026-11-29", "1", {}});
}

inline std::string joined(const std::vector<std::string>& lines) {
  std::string all;
  for (const std::string& line : lines) all += line + '\n';
  return all;
}

inline std::string words_of(const ShopDrawing& drawing) {
  std::string all = drawing.title + '\n' + drawing.note + '\n';
  for (const ShopText& text : drawing.texts) all += text.text + '\n';
  return all;
}

// A part of the sheet by its name: a heading, a question, "view", "knife" or "patterns".
inline std::string part(const ShopSheet& sheet, const std::string& name) {
  std::string all;
  for (const auto& [question, answer] : sheet.answers)
    if (question == name) return answer;
  for (const auto& [figure, value] : sheet.figures)
    if (figure == name) return value;
  if (name == "sizes") return sheet.sizes;
  if (name == "steps") return joined(sheet.fitting);
  if (name == "cutting") return joined(sheet.cutting);
  if (name == "warnings") return joined(sheet.warnings);
  if (name == "view") return words_of(sheet.view);
  if (name == "table")
    for (const auto& row : sheet.pieces.rows) all += joined(row);
  if (name == "knife")
    for (const ShopDrawing& drawing : sheet.sections) all += words_of(drawing);
  if (name == "patterns")
    for (const ShopDrawing& drawing : sheet.patterns) all += words_of(drawing);
  return all;
}

inline const Flags k_elbow{{"diameter", "600"}, {"angle", "90"}, {"pieces", "5"}, {"thickness", "25"}};
inline const Flags k_tee{{"diameter", "600"},      {"length", "1500"}, {"branch_diameter", "300"},
                         {"branch_length", "800"}, {"angle", "60"},    {"thickness", "25"}};
inline const Flags k_reducer{{"diameter", "600"}, {"to_diameter", "500"}, {"length", "450"},
                             {"collar", "100"},   {"to_collar", "80"},    {"thickness", "25"}};
inline const Flags k_notched = with(k_reducer, {{"pattern", "notched"}, {"notches", "8"}, {"trim", "50"}});
inline const Flags k_straight{{"diameter", "600"}, {"length", "900"}, {"thickness", "25"}};
inline const Flags k_wye{{"diameter", "600"},   {"inlet_length", "500"}, {"leg_diameter", "450"},
                         {"leg_length", "900"}, {"angle", "40"},         {"thickness", "25"}};

}  // namespace linerwright::sheets
