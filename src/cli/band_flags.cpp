#include "band_flags.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

#include "linerwright/units/error.hpp"

namespace linerwright {

std::vector<CLI::Option*> BandFlags::add_to(CLI::App& command) {
  return {command.add_option(flag("sheet"), sheet_, "thickness of the bands' sheet [0.8mm]"),
          command.add_option(flag("width"), width_, "width of a band where it is narrowest [60mm]"),
          command.add_option(flag("lap"), lap_, "lap of its ends, where it is clamped [40mm]"),
          command.add_option(flag("bolt"), bolt_, "diameter of the bolt holes in the lap [7mm]")};
}

double BandFlags::length(const char* name, const std::string& text, Units units, double least,
                         double most) const {
  const auto shown = [&](double mm) { return format_quantity(Quantity::length, mm, units); };
  const std::string allowed = fmt::format("{} to {}", shown(least), shown(most));
  double value = 0.0;
  try {
    value = parse_quantity(Quantity::length, text, units);
  } catch (const std::invalid_argument& error) {
    throw InputError({Problem{{}, 0, {}, flag(name), text, allowed, error.what()}});
  }
  if (!(value >= least && value <= most))
    throw InputError(
        {Problem{{}, 0, {}, flag(name), text, allowed, "lies outside what a band can be made with"}});
  return value;
}

BandSheet BandFlags::sheet(Units units) const {
  BandSheet sheet;
  sheet.thickness = length("sheet", sheet_, units, 0.2, 5.0);
  sheet.width = length("width", width_, units, 20.0, 500.0);
  sheet.lap = length("lap", lap_, units, 15.0, 300.0);
  sheet.bolt = length("bolt", bolt_, units, 2.0, 20.0);
  if (2.0 * sheet.bolt > std::min(sheet.lap, 0.5 * sheet.width))
    throw InputError({Problem{{},
                              0,
                              {},
                              flag("bolt"),
                              bolt_,
                              "at most half of the lap and a quarter of the width",
                              "two holes have to find room in the lap"}});
  return sheet;
}

}  // namespace linerwright
