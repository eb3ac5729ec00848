// What an earlier run left of a fitting.
#pragma once

#include <optional>

#include "linerwright/output/output.hpp"

namespace linerwright {

struct Earlier {
  std::string made_from;
  OutputOptions options;  // that its files were written with
  std::vector<std::string> files;
  std::vector<std::string> warnings;
  bool whole = false;  // all its files are there and its checks passed
};

// Nothing where the folder holds no fitting.json that can be read.
std::optional<Earlier> earlier_result(const std::filesystem::path& folder);

}  // namespace linerwright
