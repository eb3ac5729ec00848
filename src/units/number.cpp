#include <fmt/format.h>

#include <cmath>

#include "linerwright/units.hpp"

namespace linerwright {

std::string fixed(double value, int decimals) {
  // fmt formats without the locale unless asked ("L"); a rounded zero must not keep its sign.
  std::string text = fmt::format("{:.{}f}", value, decimals);
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
