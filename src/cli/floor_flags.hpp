// What make --nest and nest have in common: stock, knife and how hard to search.
#pragma once

#include <CLI/CLI.hpp>

#include <filesystem>
#include <map>
#include <string>
#include <vector>

#include "linerwright/cut_list.hpp"
#include "linerwright/floor.hpp"

namespace linerwright {

class FloorFlags {
 public:
  void add_to(CLI::App& command);

  bool scatter() const { return scatter_; }
  // The floor's plan of the parts: stock from the flags, or else from the job. Throws InputError.
  FloorPlan plan(const Job& job, const std::string& file, std::optional<Units> units,
                 std::vector<FloorPart> parts, int threads) const;

 private:
  std::map<std::string, std::string> stock_;  // key -> as written
  std::string effort_ = "1";
  std::string gap_;
  std::string min_offcut_ = "150mm";
  std::uint64_t seed_ = 1;
  bool use_holes_ = false;
  bool scatter_ = false;
  bool codes_ = false;
};

// Writes <out>/boards and prints what is on no board; returns the exit code so far.
int write_floor(const FloorPlan& plan, const std::filesystem::path& out, const DxfOptions& options,
                int threads);

}  // namespace linerwright
