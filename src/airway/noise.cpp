#include "linerwright/airway/noise.hpp"

#include "linerwright/units/units.hpp"
#include "require.hpp"

namespace linerwright {

using namespace airway;

// D. D. Reynolds, J. M. Bledsoe, Algorithms for HVAC Acoustics, ASHRAE 1991, table 5.5, unlined straight
// round ducts, dB per foot from 63 to 4000 Hz, by diameters to 7, 15, 30 and 60 in (as a public reprint
// has it).
std::array<double, 8> bare_attenuation(double diameter, double length) {
  require_positive(diameter, "diameter (mm)");
  require_not_negative(length, "length (mm)");
  struct Row {
    double widest;  // in
    std::array<double, 8> per_foot;
  };
  constexpr std::array<Row, 4> k_rows = {{
      {7.0, {0.03, 0.03, 0.05, 0.05, 0.10, 0.10, 0.10, 0.10}},
      {15.0, {0.03, 0.03, 0.03, 0.05, 0.07, 0.07, 0.07, 0.07}},
      {30.0, {0.02, 0.02, 0.02, 0.03, 0.05, 0.05, 0.05, 0.05}},
      {60.0, {0.01, 0.01, 0.01, 0.02, 0.02, 0.02, 0.02, 0.02}},
  }};
  for (const Row& row : k_rows) {
    if (diameter > row.widest * 25.4 * (1.0 + 1e-9)) continue;
    std::array<double, 8> taken{};
    for (std::size_t i = 0; i < taken.size(); ++i) taken[i] = row.per_foot[i] * length / 304.8;
    return taken;
  }
  throw std::invalid_argument("the table of bare duct ends at 60 in");
}

// VDI 2081 part 1, noise of the flow in straight ducts (from memory): L_W = 7 + 50 lg v + 10 lg S in all, v
// in m/s and S in m2, and in an octave band at f L_W - 2 - 26 lg(1.14 + 0.02 f / v). Charted from 2 to 20 m/s
// (from memory).
std::array<double, 8> flow_noise(double velocity, double area) {
  require_positive(velocity, "velocity (m/s)");
  require_positive(area, "area (mm2)");
  if (velocity < k_least_noise_velocity || velocity > k_most_noise_velocity)
    throw std::invalid_argument(
        fmt::format("noise of air at {} m/s: the formula is charted from 2 to 20 m/s", trimmed(velocity, 2)));
  const double all = 7.0 + 50.0 * std::log10(velocity) + 10.0 * std::log10(area * 1e-6);
  std::array<double, 8> levels{};
  for (std::size_t i = 0; i < levels.size(); ++i)
    levels[i] = all - 2.0 - 26.0 * std::log10(1.14 + 0.02 * k_octaves[i] / velocity);
  return levels;
}

}  // namespace linerwright
