// What reading any bytes as a job or a schedule must hold to: fittings within their ranges, or problems of
// one line each.
#pragma once

#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <vector>

#include "job/schema.hpp"

namespace linerwright::fuzzing {

inline void expect_one_line_each(const std::vector<Problem>& problems) {
  for (const Problem& problem : problems) {
    const std::string line = one_line(problem);
    if (problem.reason.empty() || line.find_first_of("\n\r") != std::string::npos) std::abort();
  }
}

inline void expect_sound(const Job& job) {
  expect_one_line_each(job.problems);
  for (const FittingRequest& fitting : job.fittings) {
    if (fitting.tag.empty() || fitting.tag.find_first_of("/\\\n") != std::string::npos) std::abort();
    if (fitting.count < 1 || fitting.count > 100000) std::abort();
    for (const auto& [key, value] : fitting.values.all()) {
      if (const double* number = std::get_if<double>(&value.data); number && !std::isfinite(*number))
        std::abort();
    }
    const std::vector<double> diameters = fitting.values.list("diameter");
    if (diameters.empty() || diameters.size() > 16) std::abort();
    for (const double diameter : diameters)
      if (!(diameter > 0.0 && diameter < 3048.001)) std::abort();
    const FittingRequest again = testing::made_again(fitting, testing::several_schema());
    for (const auto& [key, value] : fitting.values.all())
      if (again.values.find(key) == nullptr || again.values.find(key)->data != value.data) std::abort();
    if (!fitting.values.has("thickness") || !fitting.values.has("fit_allowance")) std::abort();
  }
}

// Aborts where it does not; `file` decides how the bytes are read.
inline void read_any(const std::uint8_t* data, std::size_t size, const char* file) {
  static const JobSchema schema = testing::several_schema();
  const std::string text(data, data + size);
  if (text.find("schedule") != std::string::npos) return;  // would open files by name
  try {
    expect_sound(read_job_text(text, file, schema));
  } catch (const InputError& error) {
    if (error.problems().empty()) std::abort();
    expect_one_line_each(error.problems());
  }
}

}  // namespace linerwright::fuzzing
