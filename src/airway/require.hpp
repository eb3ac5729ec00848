// What every function of this folder asks of its numbers.
#pragma once

#include <fmt/format.h>

#include <cmath>
#include <stdexcept>
#include <string_view>

namespace linerwright::airway {

inline void require_finite(double value, std::string_view what) {
  if (!std::isfinite(value))
    throw std::invalid_argument(fmt::format("{} must be a finite number, not {}", what, value));
}

inline void require_positive(double value, std::string_view what) {
  require_finite(value, what);
  if (value <= 0.0) throw std::invalid_argument(fmt::format("{} must be over 0, not {}", what, value));
}

inline void require_not_negative(double value, std::string_view what) {
  require_finite(value, what);
  if (value < 0.0) throw std::invalid_argument(fmt::format("{} must not be under 0, not {}", what, value));
}

// A result that over- or underflowed came from numbers no duct has.
inline double in_range(double result, std::string_view what) {
  if (!std::isfinite(result) || result <= 0.0) {
    throw std::invalid_argument(
        fmt::format("{} comes out at {}: the numbers given are beyond any duct", what, result));
  }
  return result;
}

}  // namespace linerwright::airway
