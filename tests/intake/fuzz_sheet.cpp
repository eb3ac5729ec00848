// Any bytes as a spreadsheet: a job that reads, or problems of one line each.
#include <cstdint>
#include <cstdlib>

#include "linerwright/fitting/fitting.hpp"
#include "linerwright/intake/intake.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace linerwright;
  const std::string bytes(data, data + size);
  ReadAnswers answers;
  answers.units = Units::metric;
  answers.size_is = "metal";
  answers.liner = "25mm";
  try {
    const Grid grid = is_workbook(bytes) ? grid_of_workbook(bytes, "plan.xlsx", "")
                                         : grid_of_text(bytes, "plan.csv", answers, job_schema());
    const ReadSheet sheet = read_grid(grid, job_schema(), answers);
    const Job job = read_job_text(sheet.job_text, "job.toml", job_schema());
    if (job.fittings.size() != sheet.rows || !job.problems.empty()) std::abort();
    if (understood_table(sheet).empty()) std::abort();
    const ReadAnswers again = read_answers(answers_text(answers, sheet.columns), "map.toml");
    if (again.liner != answers.liner) std::abort();
  } catch (const InputError& error) {
    if (error.problems().empty()) std::abort();
    for (const std::string& line : lines_once(error.problems()))
      if (line.find_first_of("\n\r") != std::string::npos) std::abort();
  }
  return 0;
}
