#include "bore_steps.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

#include "bore_units.hpp"
#include "linerwright/fitting/resize.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

StepUpRequest request_for(const BoreReport& report, const BoreRow& row, const Fitting& fitting,
                          const EndDiameter& end, const BoreOptions& options) {
  StepUpRequest request;
  request.diameter = end.value;
  request.lining_thickness = fitting.liner.bore_depth();
  request.criterion = *options.step_up;
  request.limit = options.limit;
  request.flow = row.flow;
  request.bare_roughness = row.metal_roughness;
  request.lined_roughness = row.roughness;
  request.air = report.air;
  request.gauge = fitting.liner.gauge;
  return request;
}

// Where a passage has one diameter it is wide enough only as far as its narrowest place is.
SizedBores bores_of(const Passage& passage, const std::vector<EndDiameter>& ends) {
  SizedBores bores;
  bores.narrowest = passage.stations.front().lined_diameter;
  for (const Station& station : passage.stations)
    bores.narrowest = std::min(bores.narrowest, station.lined_diameter);
  for (const EndDiameter& end : ends) {
    bores.at_ends.push_back(ends.size() == 1 ? bores.narrowest : lined_near(passage, end.last));
  }
  return bores;
}

std::string reason_of(const InputError& error) {
  std::string reasons;
  for (const Problem& problem : error.problems()) reasons += (reasons.empty() ? "" : "; ") + problem.reason;
  return reasons;
}

// The sizes that were passed over, in words: the first and the last of them, and why the first one was.
std::string passed_over_text(const BoreRow& row, Units units) {
  const auto size_of = [&](const BorePassedOver& each) {
    std::string size;
    for (const double diameter : each.diameters)
      size += (size.empty() ? "" : " to ") + shown(Figure::length, diameter, units);
    return size;
  };
  const std::size_t count = row.passed_over.size();
  std::string sizes = size_of(row.passed_over.front());
  if (count == 2) sizes += " and " + size_of(row.passed_over.back());
  if (count > 2) sizes = fmt::format("{} sizes from {} to {}", count, sizes, size_of(row.passed_over.back()));
  return fmt::format("step up: cannot be made with {} {} ({}{})", sizes, unit_of(Figure::length, units),
                     count > 1 ? "the first: " : "", row.passed_over.front().reason);
}

// The bores at other diameters; what cannot be made goes to the row.
BoresOfSizes remade(BoreRow& row, const Fitting& fitting, std::size_t passage,
                    const std::vector<EndDiameter>& ends) {
  return [&row, &fitting, passage, &ends](const std::vector<double>& diameters) -> std::optional<SizedBores> {
    const bool as_it_is =
        std::equal(ends.begin(), ends.end(), diameters.begin(),
                   [](const EndDiameter& end, double diameter) { return end.value == diameter; });
    if (as_it_is) return bores_of(fitting.passages[passage], ends);
    std::string reason;
    try {
      return bores_of(make_fitting(resized(fitting.request, ends, diameters)).passages.at(passage), ends);
    } catch (const InputError& error) {
      reason = reason_of(error);
    } catch (const GeometryError& error) {
      reason = error.what();
    }
    row.passed_over.push_back({diameters, reason});
    return std::nullopt;
  };
}

// Where the ends differ the metal added is the mean of both.
void add_metal(BoreReport& report, BoreRow& row) {
  const bool complete = std::all_of(row.steps.begin(), row.steps.end(),
                                    [](const BoreStep& step) { return step.found.size.has_value(); });
  if (!complete) {
    ++report.without_size;
    return;
  }
  double metal = 0.0;
  double mass = 0.0;
  for (const BoreStep& step : row.steps) {
    metal += step.found.size->added_metal / static_cast<double>(row.steps.size());
    mass += step.found.size->added_mass.value_or(0.0) / static_cast<double>(row.steps.size());
  }
  const double metres = row.length * 1e-3 * static_cast<double>(row.count);
  row.added_metal = metal * metres * 1e6;
  row.added_mass = mass * metres;
  report.added_metal += *row.added_metal;
  report.added_mass += *row.added_mass;
}

}  // namespace

double lined_near(const Passage& passage, bool last) {
  const auto is_lined = [](const Station& station) {
    return station.lined_diameter < (1.0 - 1e-9) * station.bare_diameter;
  };
  const std::vector<Station>& all = passage.stations;
  const auto first = std::find_if(all.begin(), all.end(), is_lined);
  const auto back = std::find_if(all.rbegin(), all.rend(), is_lined);
  if (first == all.end()) return (last ? all.back() : all.front()).lined_diameter;
  return last ? back->lined_diameter : first->lined_diameter;
}

void add_note(BoreRow& row, const std::string& note) {
  if (std::find(row.notes.begin(), row.notes.end(), note) == row.notes.end()) row.notes.push_back(note);
}

void add_steps(BoreReport& report, BoreRow& row, const Fitting& fitting, std::size_t passage,
               const BoreOptions& options) {
  if (*options.step_up != StepUpCriterion::area && !row.flow) {
    const std::string reason = fmt::format("no step up by {} without a flow", words_of(*options.step_up));
    add_note(row, reason);
    // how a branch shares the flow nobody said; that the fitting has none is for whoever asked to mend
    if (passage == 0)
      report.problems.push_back(
          problem_of(fitting.request, "flow", "a flow, of the fitting or in [air]", reason));
    return;
  }
  const std::vector<EndDiameter> ends = end_diameters(fitting, passage);
  if (ends.empty()) {
    add_note(row, "no step up: no single diameter says how wide it is");
    return;
  }
  std::vector<StepUpRequest> asked;
  for (const EndDiameter& end : ends) asked.push_back(request_for(report, row, fitting, end, options));
  std::vector<StepUp> found;
  try {
    found = step_up(asked, diameters(report.series), remade(row, fitting, passage, ends));
  } catch (const std::invalid_argument& error) {
    add_note(row, fmt::format("no step up: {}", error.what()));
    return;
  }
  const Passage& way = fitting.passages[passage];
  for (std::size_t i = 0; i < ends.size(); ++i) {
    const Station& at = ends[i].last ? way.stations.back() : way.stations.front();
    row.steps.push_back({ends.size() > 1 ? at.place : std::string(), asked[i], std::move(found[i])});
  }
  if (!row.passed_over.empty()) add_note(row, passed_over_text(row, report.units));
  add_metal(report, row);
}

}  // namespace linerwright
