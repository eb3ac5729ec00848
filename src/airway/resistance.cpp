#include "linerwright/airway/airway.hpp"
#include "linerwright/units/vector.hpp"
#include "require.hpp"

namespace linerwright {

using namespace airway;

// Steady radial conduction through a cylindrical shell (Fourier): R' = ln(r_out / r_in) / (2 pi k) per metre;
// on an area, times the perimeter of that face. A flat layer has t / k. Any heat transfer textbook, e.g. J.
// P. Holman, Heat Transfer, section 2-4.
LiningResistance lining_resistance(double diameter, double thickness, double conductivity) {
  require_positive(thickness, "lining thickness (mm)");
  require_positive(conductivity, "conductivity (W/(m K))");
  const double bore = lined_diameter(diameter, thickness);
  LiningResistance out;
  // log1p keeps its figures when the lining is thin against the duct.
  out.per_length =
      in_range(std::log1p(2.0 * thickness / bore) / (2.0 * k_pi * conductivity), "thermal resistance");
  out.on_duct_face = out.per_length * k_pi * (diameter * 1e-3);
  out.on_air_face = out.per_length * k_pi * (bore * 1e-3);
  out.flat = in_range(thickness * 1e-3 / conductivity, "thermal resistance");
  return out;
}

// The same heat flows through both, so resistances of one metre add up; each area is that of its own face.
LiningResistance in_series(const LiningResistance& outer, const LiningResistance& inner) {
  LiningResistance both;
  both.per_length = outer.per_length + inner.per_length;
  both.on_duct_face = outer.on_duct_face * both.per_length / outer.per_length;
  both.on_air_face = inner.on_air_face * both.per_length / inner.per_length;
  both.flat = outer.flat + inner.flat;
  return both;
}

}  // namespace linerwright
