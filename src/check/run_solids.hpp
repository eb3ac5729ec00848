// The solids of runs, read back from their STEP.
#pragma once

#include <filesystem>
#include <string>
#include <utility>
#include <vector>

#include "linerwright/check/check.hpp"
#include "linerwright/fitting/fitting.hpp"

namespace linerwright {

// A fitting in the order of the file.
struct SolidsOf {
  std::string name;  // "S-2#2"
  const Fitting* fitting;
};

// Volumes against the fittings' integrals, no two metals in one place, and bores of fittings that are joined
// (`met`, by index) one solid. `what` the file is called in the results.
std::vector<CheckResult> prove_run_solids(const std::filesystem::path& step, const std::string& what,
                                          const std::vector<SolidsOf>& fittings,
                                          const std::vector<std::pair<std::size_t, std::size_t>>& met);

}  // namespace linerwright
