// How DXF files are written: flags of make and of nest.
#pragma once

#include <CLI/CLI.hpp>

#include <string>

#include "linerwright/draw.hpp"

namespace linerwright {

class DxfFlags {
 public:
  void add_to(CLI::App& command);
  DxfOptions options() const;

 private:
  std::string version_ = "r2000";
  std::string text_ = "strokes";
  std::string units_ = "mm";
  bool cut_only_ = false;
  bool single_layer_ = false;
};

}  // namespace linerwright
