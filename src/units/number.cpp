#include <fmt/format.h>

#include <array>
#include <charconv>
#include <cmath>
#include <system_error>

#include "linerwright/units/units.hpp"

namespace linerwright {

namespace {

// The same text from either: to_chars is faster, and some standard libraries have none for doubles.
std::string digits_of(double value, int decimals) {
#ifdef __cpp_lib_to_chars
  std::array<char, 400> digits;  // the largest double has 309 before the point
  const auto [end, error] =
      std::to_chars(digits.data(), digits.data() + digits.size(), value, std::chars_format::fixed, decimals);
  if (error == std::errc()) return std::string(digits.data(), end);
#endif
  return fmt::format("{:.{}f}", value, decimals);
}

}  // namespace

std::string fixed(double value, int decimals) {
  std::string text = digits_of(value, decimals);
  // a rounded zero must not keep its sign
  if (text.front() == '-' && text.find_first_not_of("-0.") == std::string::npos) text.erase(0, 1);
  return text;
}

std::string trimmed(double value, int decimals) {
  std::string text = fixed(value, decimals);
  if (text.find('.') == std::string::npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

}  // namespace linerwright
