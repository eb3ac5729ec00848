#include "linerwright/airway.hpp"
#include "linerwright/figures.hpp"
#include "require.hpp"

namespace linerwright {

using namespace airway;

namespace {

std::string both_units(double velocity) {
  return fmt::format("{} m/s ({} fpm)", significant(velocity), significant(velocity / k_foot_per_minute));
}

}  // namespace

// 6000 fpm or the product's own listed rating: preface of the NAIMA Fibrous Glass Duct Liner Standard, 3rd
// ed. 2002. Metal nosing wherever lining is preceded by bare metal, and on every leading edge above 4000 fpm:
// SMACNA HVAC Duct Construction Standards - Metal and Flexible, 3rd ed., figure 7-11 (drawn for rectangular
// duct).
VelocityCheck check_velocity(double velocity, double limit, bool after_bare_metal) {
  require_positive(velocity, "velocity (m/s)");
  require_positive(limit, "velocity limit (m/s)");
  // A velocity set equal to a limit may differ from it by its rounding.
  constexpr double k_slack = 1.0 + 1e-9;
  VelocityCheck out;
  out.over_limit = velocity > limit * k_slack;
  out.nosing_on_all_edges = velocity > k_nosing_on_all_edges_above * k_slack;
  out.nosing_after_metal = after_bare_metal;
  if (out.over_limit) {
    out.warnings.push_back(fmt::format(
        "air at {} is over the lining's limit of {}: its surface may erode into the air stream; choose a "
        "larger size or a lining rated for it",
        both_units(velocity), both_units(limit)));
  }
  if (out.nosing_on_all_edges) {
    out.notes.push_back(
        fmt::format("air at {} is over {}: fit metal nosing on every leading edge of the lining",
                    both_units(velocity), both_units(k_nosing_on_all_edges_above)));
  } else if (out.nosing_after_metal) {
    out.notes.push_back("bare metal comes before this lining: fit metal nosing on its leading edge");
  }
  return out;
}

}  // namespace linerwright
