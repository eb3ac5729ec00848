// Whether a board is of the right thickness for a liner: one rule for the division of pieces and for boards.
#pragma once

#include <optional>

namespace linerwright {

// True when stock of this thickness (mm; nothing said: of any) serves for a liner of this thickness, mm: they
// may differ by k_same_thickness, so that 25.4 and 25.43 are one board.
constexpr double k_same_thickness = 0.05;  // mm
constexpr bool stock_fits(std::optional<double> stock_thickness, double liner_thickness) {
  if (!stock_thickness) return true;
  const double more = *stock_thickness - liner_thickness;
  return more <= k_same_thickness && -more <= k_same_thickness;
}

}  // namespace linerwright
