// Proof of what stands beside a fitting's solids and patterns: fitting.json, tables, pictures, pages, paper.
// All is held against the fitting and patterns made again from what fitting.json says was asked for; what has
// no content of its own to be proved is held against its digest.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "linerwright/check/check.hpp"

namespace linerwright {

// What the caller knows and fitting.json must say, too; where nothing is given, it is not compared.
struct WrittenPromises {
  std::optional<std::string> state;      // digest of the request
  std::optional<std::string> made_from;  // check sum of program, request and options
};

// One result per group of figures or files, and notes. A file that is missing or broken fails under its name.
std::vector<CheckResult> check_written(const Fitting& fitting, const std::vector<Pattern>& patterns,
                                       const CheckFiles& files, const WrittenPromises& promises);

}  // namespace linerwright
