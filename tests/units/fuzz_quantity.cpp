// Any bytes as any quantity: a finite number or a short reason, and what is printed reads back.
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <stdexcept>
#include <string>

#include "linerwright/units/units.hpp"

using linerwright::Quantity;
using linerwright::Units;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size == 0) return 0;
  const auto quantity = static_cast<Quantity>(data[0] % (static_cast<int>(Quantity::number) + 1));
  const Units units = (data[0] & 0x80) != 0 ? Units::inch : Units::metric;
  const std::string text(data + 1, data + size);
  try {
    const double value = linerwright::parse_quantity(quantity, text, units);
    if (!std::isfinite(value)) std::abort();
    const double shown = linerwright::to_units(quantity, value, units);
    if (std::abs(shown) < 1e12) {
      const std::string printed = linerwright::format_quantity(quantity, value, units, 6);
      const double back =
          linerwright::to_units(quantity, linerwright::parse_quantity(quantity, printed, units), units);
      if (std::abs(back - shown) > 0.51e-6 + 1e-12 * std::abs(shown)) std::abort();
    }
  } catch (const std::invalid_argument& error) {
    const std::string reason = error.what();
    if (reason.empty() || reason.size() > 200 || reason.find('\n') != std::string::npos) std::abort();
  }
  return 0;
}
