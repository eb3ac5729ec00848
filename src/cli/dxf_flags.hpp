// How DXF files are written: flags of make and of nest.
#pragma once

#include <CLI/CLI.hpp>

#include <string>

#include "linerwright/draw/draw.hpp"
#include "linerwright/job/job.hpp"

namespace linerwright {

class DxfFlags {
 public:
  void add_to(CLI::App& command);
  // With the layers that the job names; messages about these name `file`. Throws InputError.
  DxfOptions options(const Job& job, const std::string& file) const;

 private:
  std::string version_ = "r2000";
  std::string text_ = "strokes";
  std::string units_ = "mm";
  bool cut_only_ = false;
  bool single_layer_ = false;
};

}  // namespace linerwright
