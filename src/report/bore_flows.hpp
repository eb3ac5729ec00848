// How the air shares itself among the passages of a fitting.
#pragma once

#include <optional>
#include <vector>

#include "linerwright/report/bore.hpp"

namespace linerwright {

struct FittingFlows {
  // Through the first passage where it begins: into it, or out of it where the flow arrow runs against.
  std::optional<double> start;
  // Out of each branch of the first passage, in their order; under 0 into it. Empty: not stated.
  std::vector<double> branches;
  bool against = false;  // the air runs from the last end to the first

  // Through the first passage at a distance from its beginning, or through another one; under 0: against the
  // flow arrow. Empty where it is not known.
  std::optional<double> at(const Fitting& fitting, std::size_t passage, double distance) const;
};

// Whether `flow` is what comes out of its first end.
bool runs_against(const Fitting& fitting);

// Whether all air parts into branches where the first passage ends: the legs of a wye.
bool parts_into_legs(const Fitting& fitting);

// What the fitting says, or the job's flow where it says nothing; of legs, what they add up to. Adds a
// problem where branch_flow has not one value for each branch, or legs do not add up to the fitting's own
// flow.
FittingFlows flows_of(const Fitting& fitting, std::optional<double> job_flow, std::vector<Problem>& problems);

}  // namespace linerwright
