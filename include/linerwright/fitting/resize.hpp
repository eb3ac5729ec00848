// A fitting asked for again with other diameters.
#pragma once

#include <string>
#include <vector>

#include "linerwright/fitting/fitting.hpp"

namespace linerwright {

// A diameter of the metal that a request states, and the end of a passage that has it.
struct EndDiameter {
  std::string key;        // "diameter", "branch_diameter"
  std::size_t index = 0;  // among the key's values, where it holds several
  bool last = false;      // the passage's last end; where one key sets both ends, its first
  double value = 0.0;     // as it stands, mm
};

// The diameters that may grow when a passage (by its index) is to be wider: one, or one for each end where
// the two have keys of their own. Empty where no single key says how wide an end is.
std::vector<EndDiameter> end_diameters(const Fitting& fitting, std::size_t passage);

// The request with these diameters (mm) instead; all else stays as it was asked for.
FittingRequest resized(const FittingRequest& request, const std::vector<EndDiameter>& ends,
                       const std::vector<double>& diameters);

}  // namespace linerwright
