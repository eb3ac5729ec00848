#include "linerwright/units/read_double.hpp"

#include <system_error>

#ifndef __cpp_lib_to_chars
#include <fast_float/fast_float.h>

#include <algorithm>
#include <cmath>
#endif

namespace linerwright {

#ifdef __cpp_lib_to_chars

std::from_chars_result read_double(const char* first, const char* last, double& value) {
  return std::from_chars(first, last, value);
}

#else

// libc++ reads only whole numbers before its version 20. fast_float gives 0 and infinity, with no error, for
// numbers that are too small and too large.
std::from_chars_result read_double(const char* first, const char* last, double& value) {
  double read = 0.0;
  const auto [end, error] = fast_float::from_chars(first, last, read);
  if (error != std::errc()) return {end, error};
  const bool digits = std::any_of(first, end, [](char c) { return c >= '0' && c <= '9'; });
  const char* const exponent = std::find_if(first, end, [](char c) { return c == 'e' || c == 'E'; });
  const bool nonzero = std::any_of(first, exponent, [](char c) { return c >= '1' && c <= '9'; });
  if (digits && (std::isinf(read) || (read == 0.0 && nonzero))) return {end, std::errc::result_out_of_range};
  value = read;
  return {end, error};
}

#endif

}  // namespace linerwright
