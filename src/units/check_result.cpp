#include "linerwright/check_result.hpp"

#include <fmt/format.h>

#include <cmath>

#include "linerwright/units.hpp"

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

}  // namespace linerwright
