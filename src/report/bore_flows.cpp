#include "bore_flows.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "linerwright/units/figures.hpp"

namespace linerwright {

std::optional<double> FittingFlows::at(const Fitting& fitting, std::size_t passage, double distance) const {
  const std::vector<AirBranch>& out = fitting.passages.front().branches;
  if (passage > 0) {
    for (std::size_t i = 0; i < out.size() && i < branches.size(); ++i)
      if (out[i].passage == fitting.passages[passage].name) return branches[i];
    return std::nullopt;
  }
  if (!start) return std::nullopt;
  // Continuity: what leaves before this place does not pass it; run against, it has not left yet.
  double flow = *start;
  for (std::size_t i = 0; i < out.size() && i < branches.size(); ++i)
    if (out[i].distance <= distance) flow += against ? branches[i] : -branches[i];
  const double largest = std::fabs(*start) + 1e-12;
  return std::fabs(flow) < 1e-9 * largest ? 0.0 : flow;
}

bool runs_against(const Fitting& fitting) {
  return fitting.liner.flow == Flow::against || fitting.liner.flow == Flow::from_branch;
}

bool parts_into_legs(const Fitting& fitting) {
  const Passage& first = fitting.passages.front();
  return !first.branches.empty() && first.branches.front().distance > first.stations.back().distance;
}

namespace {

// What the legs' flows make of the inlet's (continuity).
void join_legs(const Fitting& fitting, FittingFlows& flows, std::vector<Problem>& problems) {
  double sum = 0.0;
  double largest = 1e-12;
  for (const double flow : flows.branches) {
    sum += flow;
    largest = std::max(largest, std::fabs(flow));
  }
  if (flows.against) sum = -sum;
  const Values& values = fitting.request.values;
  if (const auto own = values.maybe("flow"); own && std::fabs(*own - sum) > 1e-6 * largest) {
    const Value& legs = *values.find("branch_flow");
    problems.push_back(problem_of(
        fitting.request, "flow", shown_quantity(Quantity::flow, sum, fitting.units),
        fmt::format("is not what its legs add up to, {} (branch_flow, line {})", legs.written, legs.line)));
  }
  flows.start = std::fabs(sum) < 1e-9 * largest ? 0.0 : sum;
}

}  // namespace

FittingFlows flows_of(const Fitting& fitting, std::optional<double> job_flow,
                      std::vector<Problem>& problems) {
  const Values& values = fitting.request.values;
  FittingFlows flows;
  const auto own = values.maybe("flow");
  flows.start = own ? own : job_flow;
  flows.against = runs_against(fitting);
  if (!values.has("branch_flow")) return flows;
  flows.branches = values.list("branch_flow");
  const std::size_t branches = fitting.passages.front().branches.size();
  if (flows.branches.size() == branches) {
    if (parts_into_legs(fitting)) join_legs(fitting, flows, problems);
    return flows;
  }
  problems.push_back(problem_of(fitting.request, "branch_flow", fmt::format("{} values", branches),
                                fmt::format("{} values for {} {}", flows.branches.size(), branches,
                                            branches == 1 ? "branch" : "branches")));
  flows.branches.clear();
  return flows;
}

}  // namespace linerwright
