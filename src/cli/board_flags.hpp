// What make --nest and nest have in common: stock, knife and how hard to search.
#pragma once

#include <CLI/CLI.hpp>

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "linerwright/job/job.hpp"
#include "linerwright/output/write_job.hpp"

namespace linerwright {

struct BoardSetup {
  JobBoards boards;
  BoardFiles files;
};

class BoardFlags {
 public:
  void add_to(CLI::App& command);

  // Whether a stock is stated by flags.
  bool stated() const { return !stock_.empty(); }
  // All but the stock's flags need this one.
  void need(CLI::App& command, CLI::Option* nest) const;
  // Puts the flags' stock, where there is one, in the place of the job's: its fittings will be divided to
  // fit.
  void put_stock(Job& job, std::optional<Units> units) const;
  // What the flags and the job say, the flags' stock put in its place. Messages about the job's own stock
  // name `file`. Throws InputError.
  // `purpose` stands behind the job's name where these are not the boards of the job itself.
  BoardSetup setup(Job& job, const std::string& file, std::optional<Units> units, int threads,
                   const std::string& purpose = {}) const;

 private:
  std::map<std::string, std::string> stock_;  // key -> as written
  std::string effort_ = "1";
  std::string gap_;
  std::string min_offcut_ = "150mm";
  std::uint64_t seed_ = 1;
  bool use_holes_ = false;
  bool scatter_ = false;
  bool codes_ = false;
  std::vector<std::string> remnants_;
};

}  // namespace linerwright
