#include <fmt/format.h>

#include <array>
#include <charconv>
#include <cmath>
#include <system_error>

#include "linerwright/units.hpp"

namespace linerwright {

std::string fixed(double value, int decimals) {
  std::array<char, 400> digits;  // the largest double has 309 before the point
  const auto [end, error] =
      std::to_chars(digits.data(), digits.data() + digits.size(), value, std::chars_format::fixed, decimals);
  std::string text =
      error == std::errc() ? std::string(digits.data(), end) : fmt::format("{:.{}f}", value, decimals);
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
