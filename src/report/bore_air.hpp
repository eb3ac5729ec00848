// What the air of a job and the walls of a fitting are, from what was written.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "linerwright/report/bore.hpp"

namespace linerwright {

// The air of an [air] table.
struct JobAir {
  BoreBasis basis;
  bool known = true;  // else what was written contradicts itself, and `problems` says how
  std::vector<Problem> problems;
};
JobAir read_air(const Values* table, Units units);

// Roughness of the lined bore in mm, and what it is from.
struct LinedRoughness {
  double value = 0.0;
  std::string basis;
};
// Adds a problem where both a roughness and a surface are stated in one place.
LinedRoughness lined_roughness(const Fitting& fitting, std::vector<Problem>& problems);

// "diameter 315mm, thickness 25mm": what a person wrote with a unit of the other system.
std::string written_otherwise(const Fitting& fitting);

}  // namespace linerwright
