// Fittings that have to pass the full proof from their files.
#pragma once

#include <ostream>
#include <string>
#include <vector>

#include "support/requests.hpp"

namespace linerwright {

struct PassCase {
  std::string name;
  std::string kind;
  support::Flags flags;
};

void PrintTo(const PassCase& each, std::ostream* out);

const std::vector<PassCase>& pass_cases();

}  // namespace linerwright
