// Fittings for tests, from flags as a person would write them; millimetres and degrees.
#pragma once

#include <algorithm>
#include <map>
#include <string>
#include <vector>

#include "linerwright/fitting/fitting.hpp"

namespace linerwright::support {

using Flags = std::map<std::string, std::string>;

// The request of these flags; several values of a key, one a branch, are joined by "&". Throws as
// request_from_flags does.
inline FittingRequest request_from(const std::string& kind, const Flags& flags) {
  Flags first = flags;
  Flags several;
  for (auto& [key, value] : first)
    if (const std::size_t cut = value.find('&'); cut != std::string::npos) {
      several[key] = value;
      value.resize(cut);
    }
  FittingRequest request = request_from_flags(kind, first, Units::metric, job_schema());
  for (const auto& [key, written] : several)
    for (const Kind& each : fitting_kinds())
      for (const KeySpec& spec : each.schema.keys) {
        if (each.schema.kind != kind || spec.name != key) continue;
        std::vector<double> values;
        for (std::size_t at = 0; at <= written.size();) {
          const std::size_t end = std::min(written.find('&', at), written.size());
          values.push_back(parse_quantity(spec.quantity, written.substr(at, end - at), Units::metric));
          at = end + 1;
        }
        Value value = *request.values.find(key);
        value.data = values;
        value.written = written;
        request.values.set(key, value);
      }
  return request;
}

// The fitting of these flags. Throws as request_from_flags and make_fitting do.
inline Fitting fitting_from(const std::string& kind, const Flags& flags) {
  return make_fitting(request_from(kind, flags));
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
