// A run's losses as JSON and as tables.
#pragma once

#include <string>
#include <vector>

#include "linerwright/report/bore.hpp"
#include "linerwright/units/json.hpp"

namespace linerwright {

// The keys of a run's losses, into an open object.
void write_run_losses(JsonWriter& json, const BoreRun& run);

// A line for each fitting in the order of the path: what it takes, bare and lined, what all have taken from
// the first run's start on, and what is left out.
struct BoreRunTable {
  std::vector<std::string> heads;  // with their units
  std::vector<std::vector<std::string>> rows;
};
BoreRunTable run_loss_table(const BoreRun& run, Units units);
std::string run_loss_csv(const BoreRun& run, Units units);

}  // namespace linerwright
