#include "bore_flows.hpp"

#include <fmt/format.h>

#include <cmath>

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

FittingFlows flows_of(const Fitting& fitting, std::optional<double> job_flow,
                      std::vector<Problem>& problems) {
  const Values& values = fitting.request.values;
  FittingFlows flows;
  const auto own = values.maybe("flow");
  flows.start = own ? own : job_flow;
  flows.against = fitting.liner.flow == Flow::against;
  if (!values.has("branch_flow")) return flows;
  flows.branches = values.list("branch_flow");
  const std::size_t branches = fitting.passages.front().branches.size();
  if (flows.branches.size() == branches) return flows;
  problems.push_back(problem_of(fitting.request, "branch_flow", fmt::format("{} values", branches),
                                fmt::format("{} values for {} {}", flows.branches.size(), branches,
                                            branches == 1 ? "branch" : "branches")));
  flows.branches.clear();
  return flows;
}

}  // namespace linerwright
