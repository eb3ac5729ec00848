// Words that steps are made of.
#pragma once

#include <string>
#include <vector>

#include "linerwright/fitting/fitting.hpp"

namespace linerwright {

// "a, b and c".
std::string listed(const std::vector<std::string>& names, const char* last = " and ");
std::string upper_first(std::string text);
// "pieces 1, 3 and 5"; "body, branch (branch1) and branch (branch2)".
std::string titles_of(const Fitting& fitting, const std::vector<const Piece*>& pieces);

// What is done once all pieces are in: sealing, fastening, trimming, the second layer.
std::vector<std::string> finishing_steps(const Fitting& fitting);

// How a disc alone is laid on its metal: nothing is rolled, and there is no ring to slide it into.
std::string set_disc(const Fitting& fitting);

}  // namespace linerwright
