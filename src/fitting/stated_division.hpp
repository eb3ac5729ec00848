// The division that a request states itself, piece by piece, as a nest of a whole job writes it.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "common.hpp"

namespace linerwright {

// One ring of a stated division: its height along the wall, mm, and how many equal panels it comes in.
struct StatedRing {
  double height = 0.0;
  int panels = 1;
};

// The key `division`: "1: 44in + 4in / 2; 3: 20in + 10in", by piece. Empty where nothing is stated. What
// cannot be read lands in `reasons`.
std::map<std::string, std::vector<StatedRing>> stated_divisions(const FittingRequest& request,
                                                                Reasons& reasons);

// The same as text, millimetres.
std::string division_text(const std::map<std::string, std::vector<StatedRing>>& divisions);

}  // namespace linerwright
