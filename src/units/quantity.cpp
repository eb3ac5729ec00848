#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <stdexcept>
#include <system_error>

#include "linerwright/units/read_double.hpp"
#include "linerwright/units/units.hpp"
#include "plain_text.hpp"
#include "unit_table.hpp"

namespace linerwright {

namespace {

using unit_table::Printed;
using unit_table::Spelling;

[[noreturn]] void refuse(const std::string& reason) {
  throw std::invalid_argument(reason);
}

const Printed& printed(Quantity quantity) {
  for (const Printed& row : unit_table::k_printed) {
    if (row.quantity == quantity) return row;
  }
  refuse("unknown quantity");
}

// Walks over plain text (plain_text.hpp).
struct Scanner {
  std::string_view text;
  std::size_t at = 0;

  bool end() const { return at >= text.size(); }
  char peek(std::size_t ahead = 0) const { return at + ahead < text.size() ? text[at + ahead] : '\0'; }
  std::string_view rest() const { return text.substr(at); }
  void skip_spaces() {
    while (peek() == ' ') ++at;
  }
  std::string_view take_digits() {
    const std::size_t start = at;
    while (is_digit(peek())) ++at;
    return text.substr(start, at - start);
  }
};

// `text` holds digits with an optional point and exponent only.
double decimal_value(std::string_view text) {
  double value = 0.0;
  const auto result = read_double(text.data(), text.data() + text.size(), value);
  if (result.ec == std::errc::result_out_of_range || !std::isfinite(value)) {
    refuse("the number is too large or too small to be used");
  }
  if (result.ec != std::errc() || result.ptr != text.data() + text.size()) {
    refuse(quoted(text) + " is not a number");
  }
  return value;
}

// numerator/denominator at the scanner, or nothing (and the scanner stays).
std::optional<double> read_fraction(Scanner& scan) {
  const std::size_t start = scan.at;
  const std::string_view above = scan.take_digits();
  if (above.empty() || scan.peek() != '/' || !is_digit(scan.peek(1))) {
    scan.at = start;
    return std::nullopt;
  }
  ++scan.at;
  const double below = decimal_value(scan.take_digits());
  const std::string_view written = scan.text.substr(start, scan.at - start);
  if (below == 0.0) refuse("the fraction " + quoted(written) + " divides by zero");
  if (scan.peek() == '/' || scan.peek() == '.')
    refuse(quoted(scan.text.substr(start)) + " is not a fraction");
  return decimal_value(above) / below;
}

struct Number {
  double value = 0.0;
  bool whole = false;  // digits only
};

// 24, 1.5, 1e3, 3/4, 1 1/2, 1-1/2: no sign.
Number read_number(Scanner& scan) {
  if (const auto fraction = read_fraction(scan)) return {*fraction, false};
  const std::size_t start = scan.at;
  const std::string_view digits = scan.take_digits();
  bool whole = !digits.empty();
  if (scan.peek() == '.' && (whole || is_digit(scan.peek(1)))) {
    ++scan.at;
    scan.take_digits();
    whole = false;
  }
  if (scan.at == start) refuse(quoted(scan.rest()) + " is not a number");
  if (digits == "0" && (scan.peek() == 'x' || scan.peek() == 'X')) {
    refuse("hexadecimal numbers are not taken; write a decimal number");
  }
  if (scan.peek() == 'e' || scan.peek() == 'E') {
    const std::size_t sign = scan.peek(1) == '+' || scan.peek(1) == '-' ? 1 : 0;
    if (is_digit(scan.peek(1 + sign))) {
      scan.at += 1 + sign;
      scan.take_digits();
      whole = false;
    }
  }
  const double value = decimal_value(scan.text.substr(start, scan.at - start));
  if (!whole) return {value, false};
  // A mixed number: the whole, spaces or one hyphen, a fraction.
  const std::size_t after = scan.at;
  if (scan.peek() == '-') {
    ++scan.at;
  } else {
    scan.skip_spaces();
  }
  if (scan.at > after) {
    if (const auto fraction = read_fraction(scan)) {
      if (*fraction >= 1.0) {
        refuse("the fraction in " + quoted(scan.text.substr(start, scan.at - start)) + " must be under 1");
      }
      return {value + *fraction, false};
    }
  }
  scan.at = after;
  return {value, true};
}

// The unit's text reduced to the table's spelling.
std::string folded(const Printed& row, std::string_view unit) {
  constexpr std::string_view k_filler = " .-()*^";
  const auto filler = [&](char c) {
    return (row.compound ? k_filler : k_filler.substr(0, 3)).find(c) != std::string_view::npos;
  };
  std::string out;
  for (const char c : unit) out += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  if (row.compound) {
    out.erase(std::remove_if(out.begin(), out.end(), filler), out.end());
    if (const auto degree = out.find("\xC2\xB0"); degree != std::string::npos) out.erase(degree, 2);
    return out;
  }
  while (!out.empty() && filler(out.back())) out.pop_back();
  out.erase(0, out.find_first_not_of(k_filler.substr(0, 3)));
  return out;
}

double unit_factor(const Printed& row, std::string_view unit) {
  const std::string spelling = folded(row, unit);
  for (const Spelling& candidate : unit_table::k_spellings) {
    if (candidate.quantity == row.quantity && candidate.text == spelling) return candidate.factor;
  }
  while (!unit.empty() && unit.front() == ' ') unit.remove_prefix(1);
  while (!unit.empty() && unit.back() == ' ') unit.remove_suffix(1);
  if (row.quantity == Quantity::number) refuse("write the number alone, without " + quoted(unit));
  if (unit.find_first_of("0123456789") == (unit.substr(0, 1) == "." ? 1 : 0)) {
    refuse(quoted(unit) + " is left over after the number; write it as in " + std::string(row.example));
  }
  refuse("unknown unit " + quoted(unit) + "; use " + std::string(row.choices));
}

// What the library's unit shows where this one shows zero.
double unit_offset(const Printed& row, std::string_view unit) {
  if (row.quantity != Quantity::temperature) return 0.0;
  const std::string spelling = folded(row, unit);
  if (spelling.back() == 'f') return unit_table::k_celsius_of_zero_fahrenheit;
  return spelling.back() == 'k' ? unit_table::k_celsius_of_zero_kelvin : 0.0;
}

// Feet followed by inches and degrees followed by minutes: the larger unit, how many of the smaller make one.
struct Pair {
  Quantity quantity;
  std::string_view large;
  std::string_view small;
  double ratio;
  const char* rule;
};
constexpr Pair k_pairs[] = {
    {Quantity::length, "ft", "in", 12.0, "after whole feet, write inches under 12, as in 2' 6 1/2\""},
    {Quantity::angle, "deg", "'", 60.0, "after whole degrees, write minutes under 60, as in 22\xC2\xB0 30'"},
};

// Where the unit at the scanner ends: at the end or, for the pairs above, at the next number.
std::string_view take_unit(Scanner& scan, bool pairs) {
  const std::size_t start = scan.at;
  while (!scan.end()) {
    if (pairs && (is_digit(scan.peek()) || (scan.peek() == '.' && is_digit(scan.peek(1))))) break;
    ++scan.at;
  }
  return scan.text.substr(start, scan.at - start);
}

bool blank(std::string_view text) {
  return text.find_first_not_of(' ') == std::string_view::npos;
}

// The number and unit at the scanner in the library's unit, without sign; `offset` is what the unit's zero
// adds.
double read_value(Scanner& scan, const Printed& row, std::string_view bare_unit, double& offset) {
  const auto* pair = std::find_if(std::begin(k_pairs), std::end(k_pairs),
                                  [&](const Pair& candidate) { return candidate.quantity == row.quantity; });
  const bool pairs = pair != std::end(k_pairs);
  const Number first = read_number(scan);
  const std::string_view unit = take_unit(scan, pairs);
  if (blank(unit) && scan.end()) {
    const double of_bare = unit_factor(row, bare_unit);
    offset = unit_offset(row, bare_unit);
    return first.value * of_bare;
  }
  if (blank(unit) || folded(row, unit).empty()) unit_factor(row, scan.text.substr(scan.at - unit.size()));
  const double factor = unit_factor(row, unit);
  offset = unit_offset(row, unit);
  if (scan.end()) return first.value * factor;
  // A second number: only inches after whole feet, or minutes after whole degrees.
  const double small = unit_factor(row, pair->small);
  if (factor != unit_factor(row, pair->large)) {
    refuse(quoted(scan.rest()) + " is left over after the unit; write it as in " + std::string(row.example));
  }
  const Number second = read_number(scan);
  const std::string_view second_unit = take_unit(scan, true);
  const bool right_unit =
      blank(second_unit) || (!folded(row, second_unit).empty() && unit_factor(row, second_unit) == small);
  if (!scan.end() || !first.whole || !right_unit || second.value >= pair->ratio) refuse(pair->rule);
  return (first.value * pair->ratio + second.value) * small;
}

}  // namespace

double parse_quantity(Quantity quantity, std::string_view text, std::string_view bare_unit) {
  constexpr std::size_t k_longest = 100;
  const Printed& row = printed(quantity);
  if (text.size() > k_longest) {
    refuse(
        fmt::format("{} characters are too many for a number; write it as in {}", text.size(), row.example));
  }
  const std::string plain = plain_text(text);
  if (blank(plain)) refuse("nothing is written; write it as in " + std::string(row.example));
  if (plain.find(',') != std::string::npos) {
    refuse("a comma is not taken: write a decimal point and no thousands mark, as in 1.5 or 1000");
  }
  Scanner scan{plain};
  scan.skip_spaces();
  double sign = 1.0;
  if (scan.peek() == '-' || scan.peek() == '+') {
    if (scan.peek() == '-') sign = -1.0;
    ++scan.at;
    scan.skip_spaces();
  }
  double offset = 0.0;
  const double size = read_value(scan, row, bare_unit, offset);
  const double value = sign * size + offset;
  if (!std::isfinite(value)) refuse("the number is too large or too small to be used");
  return value;
}

double parse_quantity(Quantity quantity, std::string_view text, Units units) {
  return parse_quantity(quantity, text, unit_name(quantity, units));
}

std::string_view unit_name(Quantity quantity, Units units) {
  const Printed& row = printed(quantity);
  return units == Units::metric ? row.metric : row.inch;
}

double from_units(Quantity quantity, double value, Units units) {
  const std::string_view unit = unit_name(quantity, units);
  return value * unit_factor(printed(quantity), unit) + unit_offset(printed(quantity), unit);
}

double to_units(Quantity quantity, double value, Units units) {
  const std::string_view unit = unit_name(quantity, units);
  return (value - unit_offset(printed(quantity), unit)) / unit_factor(printed(quantity), unit);
}

std::string format_quantity(Quantity quantity, double value, Units units, int decimals) {
  std::string text = trimmed(to_units(quantity, value, units), decimals);
  const std::string_view unit = unit_name(quantity, units);
  if (!unit.empty()) text += fmt::format(" {}", unit);
  return text;
}

}  // namespace linerwright
