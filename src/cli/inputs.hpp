// What make, bore and check have in common: a job file or one fitting by flags.
#pragma once

#include <CLI/CLI.hpp>

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "linerwright/job.hpp"

namespace linerwright {

class Inputs {
 public:
  // Adds the positional JOB, --units, --only, and one subcommand per kind with the kind's keys as flags.
  // `chosen` is what follows when either was given, or when `excused` says that neither is needed.
  void add_to(CLI::App& command, const std::function<void()>& chosen,
              const std::function<bool()>& excused = {});

  // What --units says.
  std::optional<Units> units() const;
  // The job file; empty for a single fitting.
  const std::string& file() const { return file_; }
  // The job asked for: the file's, or one made of the single fitting. `whole`, if given, gets all of the file
  // where --only asks for a part. Throws InputError.
  Job job(Job* whole = nullptr) const;

 private:
  Job single() const;
  void tell_overridden() const;

  std::string file_;
  std::string units_;
  std::vector<std::string> only_;
  std::string kind_;
  std::map<std::string, std::map<std::string, std::string>> text_;  // by kind, then key
  std::map<std::string, std::map<std::string, std::vector<std::string>>> many_;
  std::map<std::string, std::map<std::string, bool>> flag_;
  std::map<std::string, std::string> liner_;  // beside a job file
};

// Prints the problems of fittings that were left out; returns how many fittings these are.
std::size_t report_left_out(const Job& job);

}  // namespace linerwright
