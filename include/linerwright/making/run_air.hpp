// What runs take of the air's total pressure, and the air of a job's fittings as its runs carry it.
#pragma once

#include <map>
#include <memory>
#include <string>
#include <vector>

#include "linerwright/report/bore.hpp"
#include "linerwright/run/run.hpp"

namespace linerwright {

// Losses along runs whose air is carried; `air` is the job's [air] table, or null.
std::vector<BoreRun> losses_of(const std::vector<LaidRun>& runs, const Values* air);

// A job's runs laid with their air carried along.
class RunAir {
 public:
  // `fitting_with_tag` makes those of the paths. What is wrong with the runs is appended to `problems`, and
  // such a run is left out: nothing is thrown.
  RunAir(const Job& job, const FittingWithTag& fitting_with_tag, std::vector<Problem>& problems);
  // Makes them itself; one that cannot be made leaves its runs out.
  RunAir(const Job& job, std::vector<Problem>& problems);
  static bool asked_for(const Job& job);

  // A fitting's bore as its air is in the runs: of several places that have it otherwise, where it is most,
  // and a note says so. A fitting in no run is reported as it stands.
  BoreReport report(const Fitting& fitting, const BoreOptions& options) const;
  // Losses along the runs, in the order of laid().
  const std::vector<BoreRun>& runs() const { return losses_; }
  const std::vector<LaidRun>& laid() const { return laid_; }

 private:
  const Values* air_;  // the job's table
  std::vector<LaidRun> laid_;
  std::vector<BoreRun> losses_;
  std::map<std::string, std::vector<const Placed*>> places_;  // by tag
};

}  // namespace linerwright
