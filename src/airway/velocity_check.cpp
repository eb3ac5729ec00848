#include "linerwright/airway/airway.hpp"
#include "linerwright/units/figures.hpp"
#include "require.hpp"

namespace linerwright {

using namespace airway;

namespace {

// A velocity set equal to a limit may differ from it by its rounding.
constexpr double k_slack = 1.0 + 1e-9;

std::string both_units(double velocity, Units units) {
  const std::string metric = significant(velocity) + " m/s";
  const std::string inch = significant(velocity / k_foot_per_minute) + " fpm";
  return units == Units::inch ? fmt::format("{} ({})", inch, metric) : fmt::format("{} ({})", metric, inch);
}

}  // namespace

// Metal nosing wherever lining is preceded by bare metal, and on every leading edge above 4000 fpm: SMACNA
// HVAC Duct Construction Standards - Metal and Flexible, 3rd ed., figure 7-11 (drawn for rectangular duct).
std::string nosing_note(Before before, std::optional<double> velocity, Units units) {
  if (velocity) require_positive(*velocity, "velocity (m/s)");
  if (velocity && *velocity > k_nosing_on_all_edges_above * k_slack)
    return fmt::format("air at {} is over {}: fit metal nosing on every leading edge of the lining",
                       both_units(*velocity, units), both_units(k_nosing_on_all_edges_above, units));
  switch (before) {
    case Before::lined:
      return {};
    case Before::metal:
      return "bare metal comes before this lining: fit metal nosing on its leading edge";
    case Before::unknown:
      return "first edge: fit metal nosing where bare metal comes before it (upstream does not say)";
  }
  throw std::logic_error("unknown neighbour");
}

// 6000 fpm or the product's own listed rating: preface of the NAIMA Fibrous Glass Duct Liner Standard, 3rd
// ed. 2002.
VelocityCheck check_velocity(double velocity, double limit, Before before, Units units) {
  require_positive(velocity, "velocity (m/s)");
  require_positive(limit, "velocity limit (m/s)");
  VelocityCheck out;
  out.over_limit = velocity > limit * k_slack;
  out.nosing_on_all_edges = velocity > k_nosing_on_all_edges_above * k_slack;
  out.nosing_after_metal = before == Before::metal;
  if (out.over_limit)
    out.warnings.push_back(fmt::format(
        "air at {} is over the lining's limit of {}: its surface may erode into the air stream; choose a "
        "larger size or a lining rated for it",
        both_units(velocity, units), both_units(limit, units)));
  const std::string nosing = nosing_note(before, velocity, units);
  if (!nosing.empty()) out.notes.push_back(nosing);
  return out;
}

}  // namespace linerwright
