// Jobs as text, laid in space.
#pragma once

#include <map>
#include <memory>
#include <string>
#include <vector>

#include "linerwright/run/run.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright::support {

struct Laid {
  std::vector<LaidRun> runs;
  std::vector<std::string> problems;  // a line each
  std::string failures;               // of fittings that could not be made

  const LaidRun& only() const { return runs.at(0); }
  std::string all_problems() const {
    std::string text;
    for (const std::string& line : problems) text += line + "\n";
    return text + failures;
  }
};

// The runs of a job file's text; the file is called job.toml, or job.csv for a schedule.
inline Laid laid(const std::string& text, const std::string& file = "job.toml") {
  Laid out;
  const Job job = read_job_text(text, file, job_schema());
  std::vector<Problem> problems = job.problems;
  std::map<std::string, std::shared_ptr<const Fitting>> made;
  for (const FittingRequest& request : job.fittings) try {
      made[request.tag] = std::make_shared<const Fitting>(make_fitting(request));
    } catch (const InputError& error) {
      made[request.tag] = nullptr;
      out.failures += error.what();
    }
  const std::vector<Run> runs = read_runs(job, problems);
  out.runs = lay_runs(
      runs, [&](const std::string& tag) { return made.at(tag); }, problems);
  for (const Problem& problem : problems) out.problems.push_back(one_line(problem));
  return out;
}

inline const Port& end_of(const LaidRun& run) {
  const Placed& last = run.fittings.back();
  return last.ports.at(*last.out);
}

// Fittings of the tests' jobs, millimetres.
constexpr const char* k_head = "[job]\nunits = \"mm\"\n[liner]\nthickness = 25\n";
inline std::string straight(const std::string& tag, double diameter, double length,
                            const std::string& more = "") {
  return "[[fitting]]\ntag = \"" + tag + "\"\nkind = \"straight\"\ndiameter = " + fixed(diameter, 6) +
         "\nlength = " + fixed(length, 6) + "\n" + more;
}
inline std::string elbow(const std::string& tag, double diameter, double angle, double rho,
                         const std::string& more = "") {
  return "[[fitting]]\ntag = \"" + tag + "\"\nkind = \"elbow\"\ndiameter = " + fixed(diameter, 6) +
         "\nangle = " + fixed(angle, 9) + "\ncentreline_radius = " + fixed(rho, 6) +
         (more.find("pieces") == std::string::npos ? "\npieces = 5\n" : "\n") + more;
}
inline std::string tee(const std::string& tag, const std::string& more = "") {
  return "[[fitting]]\ntag = \"" + tag +
         "\"\nkind = \"tee\"\ndiameter = 600\nbranch_diameter = 300\nlength = 900\nbranch_length = 550\n" +
         more;
}

}  // namespace linerwright::support
