#include "written.hpp"

#include <fmt/format.h>

#include <optional>
#include <stdexcept>

#include "names.hpp"

namespace linerwright {

namespace {

bool reads_as(Quantity quantity, const std::string& text, Units units, double value) {
  try {
    return parse_quantity(quantity, text, units) == value;
  } catch (const std::invalid_argument&) {
    return false;
  }
}

// The unit in which the library holds a quantity.
std::string_view library_unit(Quantity quantity) {
  if (quantity == Quantity::angle) return "rad";
  if (quantity == Quantity::area) return "mm2";
  return unit_name(quantity, Units::metric);
}

// The parts of `text`, each with the first unit, or none, that makes it the value at its place; nothing where
// there is no such unit.
std::optional<std::string> with_units(Quantity quantity, std::string_view text, std::string_view bare_unit,
                                      Units units, const std::vector<double>& values) {
  const std::vector<std::string> parts = parts_of(text);
  if (parts.size() != values.size()) return std::nullopt;
  std::string out;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    std::optional<std::string> found;
    for (const std::string_view unit : {std::string_view(), bare_unit, unit_name(quantity, Units::metric),
                                        unit_name(quantity, Units::inch)}) {
      const std::string candidate = unit.empty() ? parts[i] : fmt::format("{} {}", parts[i], unit);
      if (!found && reads_as(quantity, candidate, units, values[i])) found = candidate;
    }
    if (!found) return std::nullopt;
    out += (out.empty() ? "" : " & ") + *found;
  }
  return out;
}

// The values with all their digits.
std::string exact(Quantity quantity, const std::vector<double>& values) {
  std::string out;
  for (const double value : values)
    out += fmt::format("{}{} {}", out.empty() ? "" : " & ", value, library_unit(quantity));
  return std::string(without_ends(out));
}

}  // namespace

std::vector<std::string> parts_of(std::string_view text) {
  std::vector<std::string> parts;
  while (true) {
    const std::size_t end = text.find('&');
    parts.emplace_back(without_ends(text.substr(0, end)));
    if (end == std::string_view::npos) return parts;
    text.remove_prefix(end + 1);
  }
}

std::string readable_again(const KeySpec& spec, const Value& value, std::string_view text,
                           std::string_view bare_unit, Units units) {
  if (const auto* whole = std::get_if<long>(&value.data)) {
    const bool same = reads_as(Quantity::number, value.written, units, static_cast<double>(*whole));
    return same ? value.written : std::to_string(*whole);
  }
  std::vector<double> values;
  if (const auto* one = std::get_if<double>(&value.data)) values = {*one};
  if (const auto* several = std::get_if<std::vector<double>>(&value.data)) values = *several;
  if (values.empty()) return value.written;
  if (const auto found = with_units(spec.quantity, value.written, bare_unit, units, values)) {
    return parts_of(*found) == parts_of(value.written) ? value.written : *found;
  }
  if (const auto found = with_units(spec.quantity, text, bare_unit, units, values)) return *found;
  return exact(spec.quantity, values);
}

}  // namespace linerwright
