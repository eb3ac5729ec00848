// What a run takes of the air's total pressure: the sum of its fittings' passages.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "linerwright/json.hpp"
#include "linerwright/run.hpp"

namespace linerwright {

// One fitting's passage on the way of the run.
struct RunLoss {
  std::string fitting, passage;
  std::optional<double> flow;         // m3/s
  std::optional<double> bare, lined;  // Pa; none: not known
  bool by_default = false;            // a published formula's coefficient is in it
  std::vector<std::string> left_out;  // what is not in it, and why
};

struct RunLosses {
  std::vector<RunLoss> each;       // in the order of the path
  double bare = 0.0, lined = 0.0;  // Pa, of those that are known
  std::size_t without = 0;         // fittings whose loss is not known
};

// `air` is the job's [air] table, or null.
RunLosses losses_of(const LaidRun& run, const Values* air);
void write_losses(JsonWriter& json, const RunLosses& losses);

}  // namespace linerwright
