// Insertion loss of straight lined round duct: a published regression, labelled an estimate.
#include <algorithm>

#include "linerwright/airway/airway.hpp"
#include "linerwright/units/units.hpp"
#include "require.hpp"

namespace linerwright {

using namespace airway;

namespace {

// D. D. Reynolds, J. M. Bledsoe, Algorithms for HVAC Acoustics, ASHRAE 1991, equation 5.18 with table 5.6:
//   IL = A + B t + C t^2 + D d + E d^2 + F d^3   dB per foot, t = lining thickness, d = inside diameter, both
//   in inches.
// Numbers, coefficients, ranges and cap as a public reprint of the algorithms has them, but for F at
// 125 and 250 Hz: it prints 10^-4 for 10^-6, which would give -54 dB per foot at 60 in. These reproduce the
// published 1 in and 2 in tables to the rounding of two decimals.
struct Band {
  double frequency, a, b, c, d, e, f;
};
constexpr std::array<Band, 8> k_bands = {{
    {63, 0.2825, 0.3447, -5.251e-2, -3.837e-2, 9.132e-4, -8.294e-6},
    {125, 0.5237, 0.2234, -4.936e-3, -2.724e-2, 3.377e-4, -2.490e-6},
    {250, 0.3652, 0.7900, -0.1157, -1.834e-2, -1.211e-4, 2.681e-6},
    {500, 0.1333, 1.8450, -0.3735, -1.293e-2, 8.624e-5, -4.986e-6},
    {1000, 1.9330, 0, 0, 6.135e-2, -3.891e-3, 3.934e-5},
    {2000, 2.7300, 0, 0, -7.341e-2, 4.428e-4, 1.006e-6},
    {4000, 2.8000, 0, 0, -0.1467, 3.404e-3, -2.851e-5},
    {8000, 1.5450, 0, 0, -5.452e-2, 1.290e-3, -1.318e-5},
}};

constexpr double k_inch = 25.4;
constexpr double k_metres_per_foot = 0.3048;
constexpr double k_cap = 40.0;  // dB: sound then runs along the metal (flanking)

// Range of the regression: t 1 to 3 in, d 6 to 60 in inside the lining. The metric sizes that
// stand for 1 in and 6 in, 25 mm and 150 mm, are let in at their true size.
constexpr double k_thinnest = 25.0;
constexpr double k_thickest = 3.0 * k_inch;
constexpr double k_narrowest = 150.0;
constexpr double k_widest = 60.0 * k_inch;
constexpr double k_rounding = 1e-9;

std::string both_units(double length) {
  return fmt::format("{} mm ({} in)", trimmed(length, 1), trimmed(length / k_inch, 3));
}

bool inside(double value, double low, double high) {
  return value >= low * (1.0 - k_rounding) && value <= high * (1.0 + k_rounding);
}

}  // namespace

InsertionLoss insertion_loss(double diameter, double thickness, double length) {
  require_positive(thickness, "lining thickness (mm)");
  require_positive(length, "length (mm)");
  const double bore = lined_diameter(diameter, thickness);
  InsertionLoss out;
  if (!inside(thickness, k_thinnest, k_thickest)) {
    out.out_of_range.push_back(
        fmt::format("the lining is {} thick; the regression holds for 25 mm (1 in) to {}",
                    both_units(thickness), both_units(k_thickest)));
  }
  if (!inside(bore, k_narrowest, k_widest)) {
    out.out_of_range.push_back(fmt::format("the bore is {}; the regression holds for 150 mm (6 in) to {}",
                                           both_units(bore), both_units(k_widest)));
  }
  if (!out.out_of_range.empty()) return out;

  const double t = thickness / k_inch;
  const double d = bore / k_inch;
  const double feet = length * 1e-3 / k_metres_per_foot;
  std::array<BandLoss, 8> bands;
  for (std::size_t i = 0; i < k_bands.size(); ++i) {
    const Band& k = k_bands[i];
    const double fitted = k.a + t * (k.b + t * k.c) + d * (k.d + d * (k.e + d * k.f));
    const double per_foot =
        std::max(0.0, fitted);  // the fit dips under 0 at large diameters, where the loss is nil
    bands[i].frequency = k.frequency;
    bands[i].per_metre = per_foot / k_metres_per_foot;
    bands[i].capped = per_foot * feet > k_cap;
    bands[i].total = std::min(per_foot * feet, k_cap);
  }
  out.bands = bands;
  out.notes = {
      "a 1991 regression (Reynolds and Bledsoe, Algorithms for HVAC Acoustics, equation 5.18, table 5.6) for "
      "straight "
      "duct, an estimate and not a guarantee; elbows and branches are not counted",
      "its sample was dual-wall spiral duct with glass fibre of 12 kg/m3 (0.75 pcf) behind a perforated "
      "inner wall of 25 % "
      "open area, not board whose face is the air's",
      "later tests found that the loss does not grow in plain proportion to the length",
  };
  const bool capped =
      std::any_of(bands.begin(), bands.end(), [](const BandLoss& band) { return band.capped; });
  if (capped) out.notes.push_back("capped at 40 dB in all: beyond it sound runs along the metal");
  return out;
}

}  // namespace linerwright
