#include "check_runs.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "linerwright/check/check_run.hpp"
#include "linerwright/making/run_air.hpp"
#include "linerwright/output/output.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace fs = std::filesystem;

std::vector<fs::path> runs_below(const fs::path& out) {
  std::vector<fs::path> runs;
  if (!fs::is_directory(out / k_runs_folder)) return runs;
  for (const auto& entry : fs::directory_iterator(out / k_runs_folder))
    if (entry.path().filename().string().front() != '.' && fs::exists(entry.path() / "run.json"))
      runs.push_back(entry.path());
  std::sort(runs.begin(), runs.end());
  return runs;
}

fs::path out_of_run(const fs::path& run) {
  return fs::weakly_canonical(run).parent_path().parent_path();
}

RunResults runs_as_in_job(const Job& job, const fs::path& out) {
  RunResults results;
  std::vector<Problem> problems;
  const RunAir air(job, problems);
  for (const Problem& problem : problems)
    results.push_back({k_runs_folder, {{"as in the job", 1.0, 0.0, false, "", one_line(problem)}}});
  for (const LaidRun& run : air.laid()) {
    const std::string stem = file_stem(run.run.name);
    const fs::path folder = out / k_runs_folder / stem;
    results.push_back(
        {fmt::format("{}/{}", k_runs_folder, stem),
         {fs::exists(folder / "run.json") ? run_as_in_job(folder, run)
                                          : CheckResult{"as in the job", 1.0, 0.0, false, "",
                                                        "nothing was made of it: make the job again"}}});
  }
  return results;
}

}  // namespace linerwright
