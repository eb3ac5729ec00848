// How many random cases a test tries.
#pragma once

#include <cmath>
#include <cstdlib>
#include <stdexcept>

namespace linerwright::support {

// The usual number times the environment's LINERWRIGHT_CASES: 20 for a night, 0.1 under a sanitizer; at least
// one. Throws std::runtime_error where that is no number above 0.
inline int cases(int usual) {
  const char* asked = std::getenv("LINERWRIGHT_CASES");
  if (asked == nullptr || *asked == '\0') return usual;
  char* end = nullptr;
  const double factor = std::strtod(asked, &end);
  if (*end != '\0' || !(factor > 0.0) || factor > 1e4)
    throw std::runtime_error("LINERWRIGHT_CASES is a number above 0 and up to 10000");
  return static_cast<int>(std::ceil(usual * factor));
}

}  // namespace linerwright::support
