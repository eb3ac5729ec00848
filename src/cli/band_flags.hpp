// What guide bands are made of: flags of make and of bands.
#pragma once

#include <CLI/CLI.hpp>

#include <string>
#include <utility>
#include <vector>

#include "linerwright/pattern/guide_band.hpp"

namespace linerwright {

// `prefix` stands before the flags' names: "" or "band-".
class BandFlags {
 public:
  explicit BandFlags(std::string prefix) : prefix_(std::move(prefix)) {}
  // Returns the flags.
  std::vector<CLI::Option*> add_to(CLI::App& command);
  // Bare numbers are in these units. Throws InputError.
  BandSheet sheet(Units units) const;

 private:
  std::string flag(const char* name) const { return "--" + prefix_ + name; }
  double length(const char* name, const std::string& text, Units units, double least, double most) const;

  std::string prefix_;
  std::string sheet_ = "0.8mm", width_ = "60mm", lap_ = "40mm", bolt_ = "7mm";
};

}  // namespace linerwright
