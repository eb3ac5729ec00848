// The next size of a series that gives back what the lining takes.
#include <algorithm>

#include "linerwright/airway.hpp"
#include "linerwright/units.hpp"
#include "linerwright/vector.hpp"
#include "require.hpp"

namespace linerwright {

using namespace airway;

namespace {

// A bore that misses the one needed by no more than rounding is the one needed (14 in - 2 x 1 in against 12
// in).
constexpr double k_rounding = 1e-9;

std::string both_units(double length) {
  return fmt::format("{} mm ({} in)", trimmed(length, 1), trimmed(length / 25.4, 2));
}

double required_flow(const StepUpRequest& request) {
  if (!request.flow) throw std::invalid_argument("stepping up by velocity or friction needs a flow");
  require_positive(*request.flow, "flow (m3/s)");
  return *request.flow;
}

// The limit to hold: given, or what the bare duct has.
double limit_to_hold(const StepUpRequest& request) {
  if (request.limit) {
    require_positive(*request.limit, "limit");
    return *request.limit;
  }
  switch (request.criterion) {
    case StepUpCriterion::area:
      return circle_area(request.diameter);
    case StepUpCriterion::velocity:
      return velocity(required_flow(request), circle_area(request.diameter));
    case StepUpCriterion::friction:
      return bore_flow(request.diameter, required_flow(request), request.bare_roughness, request.air)
          .friction;
  }
  throw std::invalid_argument("unknown criterion for stepping up");
}

double bore_to_hold(const StepUpRequest& request, double limit) {
  switch (request.criterion) {
    case StepUpCriterion::area:
      return equivalent_diameter(limit);
    case StepUpCriterion::velocity:
      return bore_for_velocity(required_flow(request), limit);
    case StepUpCriterion::friction:
      return bore_for_friction(required_flow(request), limit, request.lined_roughness, request.air);
  }
  throw std::invalid_argument("unknown criterion for stepping up");
}

// Sheet added per metre: pi (D' - D), in m2/m when the diameters are in m; mass: times gauge and density.
// Seams, laps and connections are not counted.
LinedSize lined_size(const StepUpRequest& request, double diameter) {
  LinedSize size;
  size.diameter = diameter;
  size.bore = lined_diameter(diameter, request.lining_thickness);
  size.free_area = circle_area(size.bore);
  size.share = size.free_area / circle_area(request.diameter);
  if (request.flow) size.air = bore_flow(size.bore, *request.flow, request.lined_roughness, request.air);
  size.added_metal = k_pi * (diameter - request.diameter) * 1e-3;
  if (request.gauge) size.added_mass = size.added_metal * (*request.gauge * 1e-3) * request.steel_density;
  return size;
}

}  // namespace

std::vector<double> diameters(DiameterSeries series) {
  // EN 1506:2007 as quoted by two duct makers' quality papers (the standard itself was not seen): standard
  // diameters, and the additional ones, which the two papers give in part each.
  const std::vector<double> standard = {63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250};
  const std::vector<double> additional = {150, 300, 355, 450, 560, 710, 900, 1120};
  std::vector<double> out;
  if (series == DiameterSeries::inch) {
    // Common practice in inch shops, from memory, no source: every inch to 24 in, every second inch above.
    for (int inches = 3; inches <= 84; inches += inches < 24 ? 1 : 2) out.push_back(25.4 * inches);
    return out;
  }
  out = standard;
  if (series == DiameterSeries::en1506_all) {
    out.insert(out.end(), additional.begin(), additional.end());
    std::sort(out.begin(), out.end());
  }
  return out;
}

StepUp step_up(const StepUpRequest& request, const std::vector<double>& series) {
  lined_diameter(request.diameter, request.lining_thickness);  // rejects a lining that closes the duct
  if (request.flow) require_positive(*request.flow, "flow (m3/s)");
  if (request.gauge) require_positive(*request.gauge, "metal thickness (mm)");
  require_positive(request.steel_density, "density of the metal (kg/m3)");
  if (series.empty()) throw std::invalid_argument("the series of diameters is empty");
  for (const double diameter : series) require_positive(diameter, "diameter of the series (mm)");

  StepUp out;
  out.limit = limit_to_hold(request);
  out.bore_needed = bore_to_hold(request, out.limit);
  const auto enough = [&](double diameter) {
    return diameter - 2.0 * request.lining_thickness >= out.bore_needed * (1.0 - k_rounding);
  };
  if (enough(request.diameter)) {
    out.outcome = StepUpOutcome::enough_already;
    out.size = lined_size(request, request.diameter);
    out.text =
        fmt::format("{} lined is enough as it is: it leaves a bore of {} and {} is needed",
                    both_units(request.diameter), both_units(out.size->bore), both_units(out.bore_needed));
    return out;
  }
  std::vector<double> sizes = series;
  std::sort(sizes.begin(), sizes.end());
  const auto found = std::find_if(sizes.begin(), sizes.end(), enough);
  if (found == sizes.end()) {
    out.outcome = StepUpOutcome::none_large_enough;
    out.text = fmt::format(
        "no size in the series is large enough: a bore of {} is needed, so {} inside the metal, and the "
        "largest size is {}",
        both_units(out.bore_needed), both_units(out.bore_needed + 2.0 * request.lining_thickness),
        both_units(sizes.back()));
    return out;
  }
  out.outcome = StepUpOutcome::stepped_up;
  out.size = lined_size(request, *found);
  out.text = fmt::format("step up from {} to {}: it leaves a bore of {} and {} is needed",
                         both_units(request.diameter), both_units(*found), both_units(out.size->bore),
                         both_units(out.bore_needed));
  return out;
}

}  // namespace linerwright
