#include "units_said.hpp"

#include <stdexcept>

#include "written.hpp"

namespace linerwright {

// Where no units are stated, a number that
// reads alike in both systems is a length with its unit, or has none to speak of.
bool all_in_inches(const Job& job) {
  bool inches = false;
  bool others = false;
  const auto look = [&](const Values& values) {
    for (const auto& [key, value] : values.all()) {
      if (!value.given || value.file.empty()) continue;
      for (const std::string& part : parts_of(value.written)) {
        try {
          if (parse_quantity(Quantity::length, part, Units::metric) !=
              parse_quantity(Quantity::length, part, Units::inch))
            continue;
          if (part.find_first_not_of("0. ") == std::string::npos) continue;
        } catch (const std::invalid_argument&) {
          continue;
        }
        (part.find('m') == std::string::npos ? inches : others) = true;  // mm, cm, m
      }
    }
  };
  for (const FittingRequest& fitting : job.fittings) look(fitting.values);
  for (const auto& [name, values] : job.tables) look(values);
  for (const auto& [name, list] : job.lists)
    for (const Values& values : list) look(values);
  return inches && !others;
}

}  // namespace linerwright
