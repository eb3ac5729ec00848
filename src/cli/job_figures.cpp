#include "job_figures.hpp"

#include <algorithm>

#include "job_messages.hpp"

namespace linerwright {

JobResult figures_of(const Inputs& inputs, const BoardFlags& setup, Job& job) {
  JobOptions options;
  options.bore.emplace();
  options.pieces = inputs.pieces();
  options.threads = all_cores();
  options.version = LINERWRIGHT_VERSION;
  if (!job.lists["stock"].empty() || setup.stated()) {
    options.boards = setup.setup(job, inputs.file(), inputs.units(), options.threads).boards;
    options.boards->divided_anew = options.pieces.empty();
  }
  Listener nobody;
  return make_job(job, options, nobody);
}

const Values* stated_rates(const Job& job) {
  const auto table = job.tables.find("rates");
  if (table == job.tables.end()) return nullptr;
  const auto& values = table->second.all();
  const bool given =
      std::any_of(values.begin(), values.end(), [](const auto& value) { return value.second.given; });
  return given ? &table->second : nullptr;
}

}  // namespace linerwright
