#include <algorithm>
#include <stdexcept>

#include "linerwright/paper/paper.hpp"

namespace linerwright {

namespace {

// ISO 216 for A sizes; ASME Y14.1 for A (letter) and B (tabloid): 8.5 x 11 and 11 x 17 in.
const Paper k_sheets[] = {{"a4", "A4", {210.0, 297.0}, false},
                          {"a3", "A3", {297.0, 420.0}, false},
                          {"letter", "Letter", {8.5 * 25.4, 11.0 * 25.4}, false},
                          {"tabloid", "Tabloid", {11.0 * 25.4, 17.0 * 25.4}, false}};
constexpr double k_narrowest_roll = 200.0;
constexpr double k_widest_roll = 2000.0;

}  // namespace

Paper paper_named(const std::string& name) {
  for (const Paper& paper : k_sheets)
    if (paper.name == name) return paper;
  const std::string roll = "roll=";
  if (name.compare(0, roll.size(), roll) == 0) {
    const std::string width = name.substr(roll.size());
    if (width.find_first_not_of("0123456789.,/- ") == std::string::npos)
      throw std::invalid_argument("a roll's width needs its unit, as in roll=36in or roll=914mm");
    const double mm = parse_quantity(Quantity::length, width, Units::metric);
    if (!(mm >= k_narrowest_roll && mm <= k_widest_roll))
      throw std::invalid_argument("a roll is 200 mm to 2000 mm wide");
    return {name, "a roll " + width + " wide", {mm, 0.0}, true};
  }
  throw std::invalid_argument("no paper of that name");
}

}  // namespace linerwright
