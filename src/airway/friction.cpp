// Friction in a round bore: Darcy-Weisbach with Colebrook.
#include <algorithm>

#include "linerwright/airway/airway.hpp"
#include "linerwright/units/units.hpp"
#include "require.hpp"

namespace linerwright {

using namespace airway;

namespace {

constexpr double k_rough_limit = 0.5;           // a wall as rough as the bore's radius is no bore
constexpr double k_chart_roughest = 0.05;       // the end of Moody's chart (1944)
constexpr double k_colebrook_highest_re = 1e8;  // the end of Moody's chart (1944)

void require_relative_roughness(double value) {
  require_not_negative(value, "roughness divided by the bore");
  if (value >= k_rough_limit) {
    throw std::invalid_argument(
        fmt::format("roughness is {} of the bore: it must be under half of it", trimmed(value, 4)));
  }
}

// Colebrook, J. Inst. Civil Eng. 11 (1939) 133, in the constants of the Moody diagram and of Clamond, Ind.
// Eng. Chem. Res. 48 (2009) 3665: with x = 1/sqrt(f), x + 2 log10(eps/(3.7 D) + 2.51 x/Re) = 0. The left side
// rises and is concave in x, and it is negative at x = 1 for every Re >= 4000 and eps/D < 0.5, so Newton from
// x = 1 climbs to the root without overshooting; it stops when the next step is below the rounding of x.
double colebrook(double re, double relative_roughness) {
  const double rough = relative_roughness / 3.7;
  const double smooth = 2.51 / re;
  const double log10_factor = 2.0 / std::log(10.0);
  double x = 1.0;
  for (int i = 0; i < 30; ++i) {
    const double inside = rough + smooth * x;
    const double step = (x + 2.0 * std::log10(inside)) / (1.0 + log10_factor * smooth / inside);
    x -= step;
    if (std::abs(step) <= 1e-16 * x) break;
  }
  return 1.0 / (x * x);
}

// Between the two laws no formula holds: flow there is unsteady. A straight line in Re joins 64/2300 to
// Colebrook at 4000, so that friction is continuous and rises with the flow (our own choice, no source).
double transition(double re, double relative_roughness) {
  const double low = 64.0 / k_laminar_below;
  const double high = colebrook(k_turbulent_above, relative_roughness);
  return low + (high - low) * (re - k_laminar_below) / (k_turbulent_above - k_laminar_below);
}

double factor(double re, double relative_roughness) {
  if (re < k_laminar_below) return 64.0 / re;  // Hagen-Poiseuille
  if (re < k_turbulent_above) return transition(re, relative_roughness);
  return colebrook(re, relative_roughness);
}

}  // namespace

FlowRegime flow_regime(double reynolds) {
  require_positive(reynolds, "Reynolds number");
  if (reynolds < k_laminar_below) return FlowRegime::laminar;
  return reynolds < k_turbulent_above ? FlowRegime::transition : FlowRegime::turbulent;
}

double friction_factor(double reynolds, double relative_roughness) {
  require_positive(reynolds, "Reynolds number");
  require_relative_roughness(relative_roughness);
  return in_range(factor(reynolds, relative_roughness), "friction factor");
}

// Darcy-Weisbach: dp/L = f (rho V^2 / 2) / D.
BoreFlow bore_flow(double diameter, double flow, double roughness, const Air& air) {
  require_not_negative(roughness, "roughness (mm)");
  BoreFlow out;
  out.velocity = velocity(flow, circle_area(diameter));
  out.velocity_pressure = velocity_pressure(out.velocity, air);
  out.reynolds = reynolds(out.velocity, diameter, air);
  out.relative_roughness = roughness / diameter;
  out.regime = flow_regime(out.reynolds);
  out.friction_factor = friction_factor(out.reynolds, out.relative_roughness);
  out.friction =
      in_range(out.friction_factor * out.velocity_pressure / (diameter * 1e-3), "friction per length");
  if (out.regime == FlowRegime::transition) {
    out.doubts.push_back(fmt::format(
        "Reynolds number {} lies between laminar (2300) and turbulent (4000), where no formula holds; the "
        "friction is read off a straight line between the two",
        trimmed(out.reynolds, 0)));
  }
  if (out.regime == FlowRegime::turbulent && out.relative_roughness > k_chart_roughest) {
    out.doubts.push_back(
        fmt::format("roughness is {} of the bore, rougher than the 0.05 that Colebrook's law was charted for",
                    trimmed(out.relative_roughness, 3)));
  }
  if (out.reynolds > k_colebrook_highest_re) {
    out.doubts.push_back("Reynolds number is above the 100 000 000 that Colebrook's law was charted for");
  }
  return out;
}

double flow_for_velocity(double diameter, double velocity) {
  require_positive(velocity, "velocity (m/s)");
  return in_range(velocity * circle_area(diameter) * 1e-6, "flow");
}

// With K = Re sqrt(f) = (D/nu) sqrt(2 D (dp/L) / rho), which does not hold the velocity, each law turns
// round: laminar Re = K^2/64; Colebrook Re = -2 K log10(eps/(3.7 D) + 2.51/K); the line in between by
// halving.
double flow_for_friction(double diameter, double friction, double roughness, const Air& air) {
  require_positive(diameter, "diameter (mm)");
  require_positive(friction, "friction (Pa/m)");
  require_not_negative(roughness, "roughness (mm)");
  require_positive(air.density, "air density (kg/m3)");
  require_positive(air.viscosity, "air viscosity (m2/s)");
  const double relative = roughness / diameter;
  require_relative_roughness(relative);
  const double bore = diameter * 1e-3;
  const double k =
      in_range(bore * std::sqrt(2.0 * bore * friction / air.density) / air.viscosity, "Re sqrt(f)");
  const double laminar_end = std::sqrt(64.0 * k_laminar_below);
  const double turbulent_start = k_turbulent_above * std::sqrt(colebrook(k_turbulent_above, relative));
  double re = 0.0;
  if (k < laminar_end) {
    re = k * k / 64.0;
  } else if (k >= turbulent_start) {
    re = -2.0 * k * std::log10(relative / 3.7 + 2.51 / k);
  } else {
    double low = k_laminar_below;
    double high = k_turbulent_above;
    for (int i = 0; i < 60; ++i) {
      re = 0.5 * (low + high);
      (re * std::sqrt(transition(re, relative)) < k ? low : high) = re;
    }
  }
  return in_range(re * air.viscosity / bore * circle_area(diameter) * 1e-6, "flow");
}

double bore_for_velocity(double flow, double velocity) {
  require_positive(flow, "flow (m3/s)");
  require_positive(velocity, "velocity (m/s)");
  return equivalent_diameter(in_range(flow / velocity * 1e6, "area"));
}

// Friction falls as the bore widens (at a fixed flow it goes about with 1/D^5), so halving finds the one
// bore.
double bore_for_friction(double flow, double friction, double roughness, const Air& air) {
  require_positive(friction, "friction (Pa/m)");
  const auto loss = [&](double diameter) { return bore_flow(diameter, flow, roughness, air).friction; };
  const double narrowest_bore = 2.0 * roughness * (1.0 + 1e-9);
  double high = std::max(bore_for_velocity(flow, 5.0), 2.0 * narrowest_bore);
  while (loss(high) > friction) high *= 2.0;
  double low = high;
  while (loss(low) <= friction) {
    if (low == narrowest_bore) {
      throw std::invalid_argument(
          fmt::format("{} Pa/m is met even by a bore of {} mm, twice the roughness: no such duct exists",
                      friction, trimmed(low, 3)));
    }
    low = std::max(0.5 * low, narrowest_bore);
  }
  for (int i = 0; i < 200; ++i) {
    const double middle = 0.5 * (low + high);
    if (middle <= low || middle >= high) break;
    (loss(middle) > friction ? low : high) = middle;
  }
  return high;
}

}  // namespace linerwright
