#include "linerwright/airway/airway.hpp"
#include "linerwright/units/units.hpp"
#include "linerwright/units/vector.hpp"
#include "require.hpp"

namespace linerwright {

using namespace airway;

// A = pi D^2 / 4 (elementary geometry).
double circle_area(double diameter) {
  require_positive(diameter, "diameter (mm)");
  return in_range(0.25 * k_pi * diameter * diameter, "area");
}

// D = sqrt(4 A / pi): the round bore of equal area, hence of equal velocity.
double equivalent_diameter(double area) {
  require_positive(area, "area (mm2)");
  return in_range(std::sqrt(area * (4.0 / k_pi)), "equivalent diameter");
}

// D - 2 t. Dimensions on plans are finished inside dimensions, so the metal is sized up for the lining (NAIMA
// AH121; UFGS-15810N).
double lined_diameter(double diameter, double thickness) {
  require_positive(diameter, "diameter (mm)");
  require_not_negative(thickness, "lining thickness (mm)");
  const double bore = diameter - 2.0 * thickness;
  if (bore <= 0.0) {
    throw std::invalid_argument(
        fmt::format("a lining of {} mm closes a duct of {} mm: it must be under {} mm", trimmed(thickness, 3),
                    trimmed(diameter, 3), trimmed(0.5 * diameter, 3)));
  }
  return bore;
}

double share_of_bare(double free_area, double bare_area) {
  require_positive(free_area, "free area (mm2)");
  require_positive(bare_area, "bare area (mm2)");
  if (free_area > bare_area * (1.0 + 1e-9)) {
    throw std::invalid_argument(fmt::format("a free area of {} mm2 is larger than the bare area of {} mm2",
                                            trimmed(free_area, 1), trimmed(bare_area, 1)));
  }
  return in_range(free_area / bare_area, "share of the bare area");
}

// Continuity: V A is the same bare and lined.
double velocity_factor(double free_area, double bare_area) {
  return in_range(1.0 / share_of_bare(free_area, bare_area), "velocity factor");
}

std::size_t narrowest(const std::vector<BoreSection>& sections) {
  if (sections.empty()) throw std::invalid_argument("no section of the bore was given");
  std::size_t best = 0;
  for (std::size_t i = 0; i < sections.size(); ++i) {
    require_finite(sections[i].along, "place along the path (mm)");
    share_of_bare(sections[i].free_area, sections[i].bare_area);
    // Equal within the rounding of the areas counts as equal, so a straight duct is narrowest where it
    // begins.
    if (sections[i].free_area < sections[best].free_area * (1.0 - 1e-9)) best = i;
  }
  return best;
}

double velocity(double flow, double area) {
  require_positive(flow, "flow (m3/s)");
  require_positive(area, "area (mm2)");
  return in_range(flow / (area * 1e-6), "velocity");
}

// p_v = rho V^2 / 2 (Bernoulli).
double velocity_pressure(double velocity, const Air& air) {
  require_positive(velocity, "velocity (m/s)");
  require_positive(air.density, "air density (kg/m3)");
  return in_range(0.5 * air.density * velocity * velocity, "velocity pressure");
}

// Re = V D / nu (Reynolds 1883).
double reynolds(double velocity, double diameter, const Air& air) {
  require_positive(velocity, "velocity (m/s)");
  require_positive(diameter, "diameter (mm)");
  require_positive(air.viscosity, "air viscosity (m2/s)");
  return in_range(velocity * (diameter * 1e-3) / air.viscosity, "Reynolds number");
}

double fitting_loss(double coefficient, double lined_velocity_pressure) {
  require_finite(coefficient, "loss coefficient");
  require_positive(lined_velocity_pressure, "velocity pressure (Pa)");
  const double loss = coefficient * lined_velocity_pressure;
  require_finite(loss, "loss of the fitting (Pa)");
  return loss;
}

}  // namespace linerwright
