// The next size of a series that gives back what the lining takes.
#include <algorithm>
#include <numeric>

#include "linerwright/airway/airway.hpp"
#include "linerwright/units/units.hpp"
#include "linerwright/units/vector.hpp"
#include "require.hpp"

namespace linerwright {

using namespace airway;

namespace {

// A bore that misses the one needed by no more than rounding is the one needed (14 in - 2 x 1 in against 12
// in).
constexpr double k_rounding = 1e-9;

// Two ends have the product of their sizes to choose from. One that serves is found among the first few; no
// longer than this is looked for it.
constexpr std::size_t k_most_tried = 300;

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

// What one end asks for.
struct Need {
  double limit;
  double bore;
};

Need need_of(const StepUpRequest& request) {
  lined_diameter(request.diameter, request.lining_thickness);  // rejects a lining that closes the duct
  if (request.flow) require_positive(*request.flow, "flow (m3/s)");
  if (request.gauge) require_positive(*request.gauge, "metal thickness (mm)");
  require_positive(request.steel_density, "density of the metal (kg/m3)");
  const double limit = limit_to_hold(request);
  return {limit, bore_to_hold(request, limit)};
}

bool enough(double bore, double needed) {
  return bore >= needed * (1.0 - k_rounding);
}

bool all_enough(const SizedBores& bores, const std::vector<Need>& needs) {
  double least = needs.front().bore;
  for (std::size_t i = 0; i < needs.size(); ++i) {
    if (!enough(bores.at_ends.at(i), needs[i].bore)) return false;
    least = std::min(least, needs[i].bore);
  }
  return enough(bores.narrowest, least);
}

// Sheet added per metre: pi (D' - D), in m2/m when the diameters are in m; mass: times gauge and density.
// Seams, laps and connections are not counted.
LinedSize lined_size(const StepUpRequest& request, double diameter, double bore) {
  LinedSize size;
  size.diameter = diameter;
  size.bore = bore;
  size.free_area = circle_area(size.bore);
  size.share = size.free_area / circle_area(request.diameter);
  if (request.flow) size.air = bore_flow(size.bore, *request.flow, request.lined_roughness, request.air);
  size.added_metal = k_pi * (diameter - request.diameter) * 1e-3;
  if (request.gauge) size.added_mass = size.added_metal * (*request.gauge * 1e-3) * request.steel_density;
  return size;
}

// The present diameter and the larger ones of the series, as far as their metal is wide enough.
std::vector<double> worth_trying(const StepUpRequest& request, const Need& need,
                                 const std::vector<double>& series) {
  std::vector<double> all{request.diameter};
  for (const double diameter : series)
    if (diameter > request.diameter) all.push_back(diameter);
  std::sort(all.begin(), all.end());
  all.erase(std::unique(all.begin(), all.end()), all.end());
  all.erase(std::remove_if(all.begin(), all.end(),
                           [&](double diameter) {
                             return !enough(diameter - 2.0 * request.lining_thickness, need.bore);
                           }),
            all.end());
  return all;
}

// Every choice of one diameter for each end, least sum first; of equals the smaller first diameter.
std::vector<std::vector<double>> combinations(const std::vector<std::vector<double>>& sizes) {
  std::vector<std::vector<double>> all{{}};
  for (const std::vector<double>& of_end : sizes) {
    std::vector<std::vector<double>> longer;
    for (const std::vector<double>& begun : all)
      for (const double diameter : of_end) {
        longer.push_back(begun);
        longer.back().push_back(diameter);
      }
    all = std::move(longer);
  }
  const auto sum = [](const std::vector<double>& of) { return std::accumulate(of.begin(), of.end(), 0.0); };
  std::stable_sort(all.begin(), all.end(), [&](const auto& a, const auto& b) { return sum(a) < sum(b); });
  return all;
}

std::string text_of(const StepUpRequest& request, const StepUp& step, const std::vector<double>& series) {
  if (step.outcome == StepUpOutcome::enough_already)
    return fmt::format("{} lined is enough as it is: it leaves a bore of {} and {} is needed",
                       both_units(request.diameter), both_units(step.size->bore),
                       both_units(step.bore_needed));
  if (step.size)
    return fmt::format("step up from {} to {}: it leaves a bore of {} and {} is needed",
                       both_units(request.diameter), both_units(step.size->diameter),
                       both_units(step.size->bore), both_units(step.bore_needed));
  const double metal = step.bore_needed + 2.0 * request.lining_thickness;
  if (!enough(series.back(), metal))
    return fmt::format(
        "no size in the series is large enough: a bore of {} is needed, so {} inside the metal, and the "
        "largest size is {}",
        both_units(step.bore_needed), both_units(metal), both_units(series.back()));
  return fmt::format("no size that was tried leaves the bore of {} that is needed",
                     both_units(step.bore_needed));
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

std::vector<StepUp> step_up(const std::vector<StepUpRequest>& ends, const std::vector<double>& series,
                            const BoresOfSizes& bores) {
  if (ends.empty()) throw std::invalid_argument("no end was named whose diameter may grow");
  if (series.empty()) throw std::invalid_argument("the series of diameters is empty");
  for (const double diameter : series) require_positive(diameter, "diameter of the series (mm)");
  std::vector<Need> needs;
  std::vector<std::vector<double>> sizes;
  for (const StepUpRequest& end : ends) {
    needs.push_back(need_of(end));
    sizes.push_back(worth_trying(end, needs.back(), series));
  }
  std::vector<double> found;
  SizedBores left;
  std::size_t tried = 0;
  for (const std::vector<double>& diameters : combinations(sizes)) {
    if (tried++ == k_most_tried) break;
    const std::optional<SizedBores> these = bores(diameters);
    if (!these || !all_enough(*these, needs)) continue;
    found = diameters;
    left = *these;
    break;
  }
  std::vector<double> rising = series;
  std::sort(rising.begin(), rising.end());
  std::vector<StepUp> out;
  for (std::size_t i = 0; i < ends.size(); ++i) {
    StepUp step;
    step.limit = needs[i].limit;
    step.bore_needed = needs[i].bore;
    if (!found.empty()) {
      step.outcome = found[i] == ends[i].diameter ? StepUpOutcome::enough_already : StepUpOutcome::stepped_up;
      step.size = lined_size(ends[i], found[i], left.at_ends[i]);
    }
    step.text = text_of(ends[i], step, rising);
    out.push_back(std::move(step));
  }
  return out;
}

StepUp step_up(const StepUpRequest& request, const std::vector<double>& series) {
  return step_up(std::vector<StepUpRequest>{request}, series,
                 [&](const std::vector<double>& diameters) {
                   const double bore = diameters.front() - 2.0 * request.lining_thickness;
                   return std::optional<SizedBores>({{bore}, bore});
                 })
      .front();
}

}  // namespace linerwright
