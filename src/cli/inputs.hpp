// What make, bore and check have in common: a job file or one fitting by flags.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "linerwright/job/job.hpp"
#include "program.hpp"

namespace linerwright {

class Inputs {
 public:
  // Adds the positional JOBs, --units, --only, and one subcommand per kind with the kind's keys as flags.
  // `chosen` is what follows when either was given, or when `excused` says that neither is needed.
  void add_to(Program& program, CLI::App& command, const std::function<void()>& chosen,
              const std::function<bool()>& excused = {});

  // What --units says.
  std::optional<Units> units() const;
  // The job file, or the names of several; empty for a single fitting.
  std::string file() const;
  // What --liner says, each time it is given; several only where the command compares them.
  const std::vector<std::string>& liners() const { return liners_; }
  // Takes one of several in the place of what --liner says.
  void use_liner(const std::string& liner) { liners_ = {liner}; }
  // Pieces that --only names as TAG/PIECE: tag -> pieces, each as often as it is named.
  std::map<std::string, std::vector<std::string>> pieces() const;
  // As if --only named this piece, TAG/PIECE, so often.
  void name_piece(const std::string& piece, long count) {
    only_.insert(only_.end(), static_cast<std::size_t>(count), piece);
  }
  // The job asked for: the file's, or one made of the single fitting. `whole`, if given, gets all of the file
  // where --only asks for a part. Throws InputError.
  Job job(Job* whole = nullptr) const;

 private:
  void add_keys(const KindSchema& schema, CLI::App& command);
  Job single() const;
  void tell_overridden() const;
  Job only_of(Job job) const;

  std::vector<std::string> files_;
  std::string units_;
  std::vector<std::string> only_;
  std::string kind_;
  std::map<std::string, std::map<std::string, std::string>> text_;  // by kind, then key
  std::map<std::string, std::map<std::string, std::vector<std::string>>> many_;
  std::map<std::string, std::map<std::string, bool>> flag_;
  std::vector<std::string> liners_;  // beside a job file
};

// Prints the job's notes and the problems of fittings that were left out; returns how many fittings these
// are.
std::size_t report_left_out(const Job& job);

}  // namespace linerwright
