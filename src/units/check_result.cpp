#include "linerwright/units/check_result.hpp"

#include <fmt/format.h>

#include <cmath>

#include "linerwright/units/units.hpp"

namespace linerwright {

std::string one_line(const CheckResult& result) {
  if (result.note) return fmt::format("note  {:<24} {}", result.name, result.detail);
  const auto shown = [](double value) {
    return value != 0.0 && std::fabs(value) < 1e-4 ? fmt::format("{:.1e}", value) : trimmed(value, 5);
  };
  const std::string unit = result.unit.empty() ? "" : " " + result.unit;
  std::string line = fmt::format("{}  {:<24} {}{}  (limit {}{})", result.pass ? "pass" : "FAIL", result.name,
                                 shown(result.value), unit, shown(result.limit), unit);
  if (!result.detail.empty()) line += "  " + result.detail;
  return line;
}

CheckResult within(std::string name, double value, double limit, std::string unit, std::string detail) {
  return {std::move(name), value, limit, value <= limit, std::move(unit), std::move(detail)};
}

CheckResult undone(std::string name, std::string why) {
  return {std::move(name), 1.0, 0.0, false, "", std::move(why)};
}

CheckResult noted(std::string name, std::string what) {
  return {std::move(name), 0.0, 0.0, true, "", std::move(what), true};
}

}  // namespace linerwright
