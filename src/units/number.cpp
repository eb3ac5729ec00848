#include <fmt/format.h>

#include <array>
#include <charconv>
#include <cmath>
#include <optional>
#include <system_error>

#include "linerwright/units/units.hpp"

namespace linerwright {

namespace {

// The usual numbers of a drawing: few decimals, and 10^decimals times the value a whole number that a double
// counts. Nothing where the product's rounding leaves open to which side a half goes; it is at most 2^-53 of
// the product.
std::optional<std::string> few_digits_of(double value, int decimals) {
  constexpr std::array<double, 7> k_powers{1.0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6};
  constexpr double k_counted = 1e15;
  if (decimals < 0 || decimals >= static_cast<int>(k_powers.size())) return std::nullopt;
  const double scaled = std::fabs(value) * k_powers[static_cast<std::size_t>(decimals)];
  if (!(scaled < k_counted)) return std::nullopt;
  const double whole = std::floor(scaled + 0.5);
  if (0.5 - std::fabs(scaled - whole) <= 1e-15 * scaled) return std::nullopt;
  std::array<char, 24> text;  // filled from its end on
  std::size_t at = text.size();
  auto rest = static_cast<unsigned long long>(whole);
  for (int written = 0; written <= decimals || rest > 0; ++written, rest /= 10) {
    if (written > 0 && written == decimals) text[--at] = '.';
    text[--at] = static_cast<char>('0' + rest % 10);
  }
  if (value < 0.0) text[--at] = '-';
  return std::string(&text[at], text.size() - at);
}

// The same text from either: to_chars is faster, and some standard libraries have none for doubles.
std::string digits_of(double value, int decimals) {
  if (auto few = few_digits_of(value, decimals)) return *std::move(few);
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
