// What can go wrong, with everything a person needs to mend it.
#pragma once

#include <stdexcept>
#include <string>
#include <vector>

namespace linerwright {

// One mistake in what somebody wrote. Empty fields (and line 0) are left out of the message.
struct Problem {
  std::string file;     // the job file or schedule; empty on the command line
  int line = 0;         // 1-based
  std::string tag;      // the fitting it belongs to
  std::string key;      // key, column or flag
  std::string value;    // as written
  std::string allowed;  // the allowed range or choices, in the writer's unit
  std::string reason;   // why, in the trade's words
};

// One line: "job.toml:12: E-1: thickness = 7 in: liner 7 in closes a 12 in bore (allowed: under 6 in)".
// Control characters in what was written are shown escaped, so the line stays one line.
std::string one_line(const Problem& problem);

// A line for each problem; those that differ in nothing but line and fitting are told once, with how many
// more there are and where: "... (and 24 more: lines 8, 9, 10, 11 ...)". In the order of the first of each.
std::vector<std::string> lines_once(const std::vector<Problem>& problems);

// Bad input: all problems found in one go. Exit code 2.
class InputError : public std::runtime_error {
 public:
  explicit InputError(std::vector<Problem> problems);
  const std::vector<Problem>& problems() const { return problems_; }

 private:
  std::vector<Problem> problems_;
};

// The geometry kernel or a self-check gave a result that is not right; the message names the step. Exit
// code 1.
class GeometryError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

// A file or folder could not be written; the message names it and the system's reason. Exit code 3.
class WriteError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

}  // namespace linerwright
