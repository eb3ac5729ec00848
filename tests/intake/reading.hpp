// Sheets read with the schema of the program.
#pragma once

#include <string>

#include "linerwright/fitting/fitting.hpp"
#include "linerwright/intake/intake.hpp"

namespace linerwright::testing {

inline ReadSheet read_text(const std::string& text, const ReadAnswers& answers = {}) {
  return read_grid(grid_of_text(text, "sheet.csv", answers, job_schema()), job_schema(), answers);
}

// The job that a sheet becomes.
inline Job job_read(const std::string& text, const ReadAnswers& answers = {}) {
  return read_job_text(read_text(text, answers).job_text, "job.toml", job_schema());
}

// The lines of all mistakes and questions, or "no error".
inline std::string asked(const std::string& text, const ReadAnswers& answers = {}) {
  try {
    read_text(text, answers);
    return "no error";
  } catch (const InputError& error) {
    std::string out;
    for (const std::string& line : lines_once(error.problems())) out += line + "\n";
    return out;
  }
}

// As most sheets need: millimetres, sizes of the metal, an inch of liner.
inline ReadAnswers usual() {
  ReadAnswers answers;
  answers.units = Units::metric;
  answers.size_is = "metal";
  answers.liner = "25mm";
  return answers;
}

inline const FittingRequest& fitting_tagged(const Job& job, const std::string& tag) {
  for (const FittingRequest& fitting : job.fittings)
    if (fitting.tag == tag) return fitting;
  throw std::out_of_range(tag);
}

}  // namespace linerwright::testing
