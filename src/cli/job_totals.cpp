#include "job_totals.hpp"

#include <set>
#include <utility>

#include "linerwright/produce.hpp"

namespace linerwright {

JobTotals begin_totals(const Job& job, std::size_t share) {
  JobTotals totals;
  totals.version = LINERWRIGHT_VERSION;
  totals.job = job.name;
  totals.units = job.units;
  const auto table = job.tables.find("totals");
  totals.rules = totals_rules(table == job.tables.end() ? nullptr : &table->second);
  std::set<std::pair<std::string, std::string>> left_out;
  for (const Problem& problem : job.problems) left_out.insert({problem.file, problem.tag});
  if (share == 1) totals.left_out = static_cast<long>(left_out.size());
  return totals;
}

void write_totals(const JobTotals& totals, const std::filesystem::path& out, const std::string& name) {
  write_beside(out, name + ".csv", totals_csv(totals));
  write_beside(out, name + ".json", totals_json(totals));
}

}  // namespace linerwright
