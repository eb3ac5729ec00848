// Fittings for the tests of patterns, from flags as a person would write them.
#pragma once

#include <map>
#include <sstream>
#include <string>

#include "linerwright/pattern/pattern.hpp"

namespace linerwright::testing {

using Flags = std::map<std::string, std::string>;

inline Fitting fitting_of(const std::string& kind, const Flags& flags) {
  return make_fitting(request_from_flags(kind, flags, Units::metric, job_schema()));
}

inline const Pattern& pattern_of(const std::vector<Pattern>& patterns, const std::string& id) {
  for (const Pattern& pattern : patterns)
    if (pattern.id == id) return pattern;
  throw std::out_of_range("no pattern " + id);
}

inline std::string shown(const std::string& kind, const Flags& flags) {
  std::string text = kind;
  for (const auto& [key, value] : flags) text += " --" + key + " " + value;
  return text;
}

// The pattern's DXF, written and read back, and what the audit says.
inline std::string audited(const Pattern& pattern, Units units, DxfVersion version = DxfVersion::r2000) {
  DxfOptions options;
  options.version = version;
  std::stringstream stream;
  write_dxf(stream, drawing_of(pattern, units), options);
  AuditExpectations promised;
  promised.version = version;
  promised.open_cuts = pattern.is_blank;
  promised.labels_inside = true;
  promised.faces_paired = pattern.faces_paired;
  std::string text;
  for (const Finding& finding : audit_dxf(read_dxf(stream, pattern.id), promised))
    text += one_line(finding, pattern.id) + "\n";
  return text;
}

}  // namespace linerwright::testing
