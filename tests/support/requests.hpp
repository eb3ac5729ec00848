// Fittings for tests, from flags as a person would write them; millimetres and degrees.
#pragma once

#include <map>
#include <string>

#include "linerwright/fitting.hpp"

namespace linerwright::support {

using Flags = std::map<std::string, std::string>;

// The fitting of these flags. Throws as request_from_flags and make_fitting do.
inline Fitting fitting_from(const std::string& kind, const Flags& flags) {
  return make_fitting(request_from_flags(kind, flags, Units::metric, job_schema()));
}

// The flags with some of them changed or added.
inline Flags with(Flags flags, const Flags& changes) {
  for (const auto& [key, value] : changes) flags[key] = value;
  return flags;
}

// "--diameter 300 --thickness 25": to find a failing case again.
inline std::string written(const std::string& kind, const Flags& flags) {
  std::string line = kind;
  for (const auto& [key, value] : flags) line += " --" + key + (value.empty() ? "" : " " + value);
  return line;
}

}  // namespace linerwright::support
