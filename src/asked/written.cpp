// Factors: the inch is 25.4 mm and the pound 0.45359237 kg, exactly (international yard and pound agreement,
// 1959); the international British thermal unit is 1055.05585262 J. All others follow from these.
#include "written.hpp"

#include <cctype>
#include <map>
#include <string_view>

#include "plain_number.hpp"
#include "space.hpp"

namespace linerwright::asked {

namespace {

constexpr double k_inch = 25.4;
constexpr double k_foot = 12.0 * k_inch;
constexpr double k_pound = 0.45359237;

const std::map<std::string, double>& factors(What what) {
  static const double foot = k_foot / 1000.0;
  static const std::map<What, std::map<std::string, double>> all{
      {What::length,
       {{"mm", 1.0},
        {"cm", 10.0},
        {"m", 1000.0},
        {"in", k_inch},
        {"\"", k_inch},
        {"ft", k_foot},
        {"'", k_foot}}},
      {What::angle, {{"deg", k_pi / 180.0}, {"\xC2\xB0", k_pi / 180.0}, {"'", k_pi / 10800.0}, {"rad", 1.0}}},
      {What::density, {{"kg/m3", 1.0}, {"lb/ft3", k_pound / (foot * foot * foot)}}},
      {What::area_mass, {{"kg/m2", 1.0}, {"lb/ft2", k_pound / (foot * foot)}}},
      {What::conductivity,
       {{"W/(mK)", 1.0}, {"Btuin/(hft2F)", 1055.05585262 * 0.0254 / (3600.0 * foot * foot * (5.0 / 9.0))}}},
      {What::velocity, {{"m/s", 1.0}, {"fpm", foot / 60.0}}},
      {What::flow,
       {{"m3/s", 1.0},
        {"m3/h", 1.0 / 3600.0},
        {"l/s", 0.001},
        {"L/s", 0.001},
        {"cfm", foot * foot * foot / 60.0}}}};
  static const std::map<std::string, double> none;
  const auto found = all.find(what);
  return found == all.end() ? none : found->second;
}

std::string bare_unit(What what, bool inches) {
  switch (what) {
    case What::length:
      return inches ? "in" : "mm";
    case What::angle:
      return "deg";
    case What::density:
      return inches ? "lb/ft3" : "kg/m3";
    case What::area_mass:
      return inches ? "lb/ft2" : "kg/m2";
    case What::conductivity:
      return inches ? "Btuin/(hft2F)" : "W/(mK)";
    case What::velocity:
      return inches ? "fpm" : "m/s";
    case What::flow:
      return inches ? "cfm" : "m3/s";
    default:
      return "";
  }
}

bool digit_at(const std::string& text, std::size_t at) {
  return at < text.size() && std::isdigit(static_cast<unsigned char>(text[at])) != 0;
}

// A number without sign from `at` on; moves `at` past it.
double plain_number(const std::string& text, std::size_t& at) {
  double value = 0.0;
  if (!digit_at(text, at) && !(at < text.size() && text[at] == '.'))
    throw Unreadable("no number in '" + text + "'");
  const std::size_t taken = read_plain_number(std::string_view(text).substr(at), value);
  if (taken == 0) throw Unreadable("no number in '" + text + "'");
  at += taken;
  return value;
}

// One number, "12", "3/4", "1-1/2" or "6 1/2", from `at` on; moves `at` past it.
double number_at(const std::string& text, std::size_t& at) {
  while (at < text.size() && text[at] == ' ') ++at;
  double value = plain_number(text, at);
  if (at < text.size() && text[at] == '/') return value / plain_number(text, ++at);
  // A fraction may follow whole units.
  std::size_t ahead = at;
  while (ahead < text.size() && (text[ahead] == ' ' || text[ahead] == '-')) ++ahead;
  std::size_t digits = ahead;
  while (digit_at(text, digits)) ++digits;
  if (ahead > at && digits > ahead && digits < text.size() && text[digits] == '/') {
    at = ahead;
    const double over = plain_number(text, at);
    value += over / plain_number(text, ++at);
  }
  return value;
}

// The unit after a number, spaces left out; digits belong to it where the unit may hold some.
std::string unit_at(const std::string& text, std::size_t& at, What what) {
  const bool stops = what == What::length || what == What::angle || what == What::number;
  std::string unit;
  for (; at < text.size() && !(digit_at(text, at) && (stops || unit.empty())); ++at)
    if (text[at] != ' ') unit += text[at];
  return unit;
}

}  // namespace

double value_of(const std::string& text, What what, bool inches) {
  std::size_t at = 0;
  double sign = 1.0;
  while (at < text.size() && text[at] == ' ') ++at;
  if (at < text.size() && (text[at] == '-' || text[at] == '+')) sign = text[at++] == '-' ? -1.0 : 1.0;
  const std::map<std::string, double>& units = factors(what);
  double sum = 0.0;
  std::string last;
  if (at == text.size()) throw Unreadable("nothing is written");
  while (at < text.size()) {
    const double number = number_at(text, at);
    std::string unit = unit_at(text, at, what);
    if (unit.empty()) unit = last == "ft" || last == "'" ? "in" : bare_unit(what, inches);
    if (what == What::number) {
      if (!unit.empty()) throw Unreadable("'" + text + "' is no number");
      sum += number;
      continue;
    }
    const auto factor = units.find(unit);
    if (factor == units.end()) throw Unreadable("unknown unit in '" + text + "'");
    sum += number * factor->second;
    last = unit;
  }
  return sign * sum;
}

}  // namespace linerwright::asked
