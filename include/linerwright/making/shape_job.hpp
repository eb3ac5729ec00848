// The requests of a job as fittings with their patterns, each guarded against the others: what each way of
// making a job begins with, on a disk or in a page.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "linerwright/boards/planned_boards.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

// The fitting with the warnings of its tilts, and its patterns. Throws as make_fitting() does.
Shaped shape(const FittingRequest& request);

// Why a fitting was not made.
struct MakingFailed {
  std::vector<Problem> problems;   // one for each mistake
  std::vector<std::string> lines;  // the same in words
  int exit_code = 1;               // 2: what was asked for cannot be; 3: it cannot be written; 1: all else
};
// Of the exception that is being handled, which the making of this request threw.
MakingFailed why_not_made(const FittingRequest& request);

// What is done with each fitting. Calls for different fittings may come from different threads.
class Shaping {
 public:
  virtual ~Shaping() = default;
  // Requests of the same word are made one after the other by one thread; empty: it is alike to no other.
  virtual std::string alike(std::size_t) { return {}; }
  virtual void begins(std::size_t) {}
  // What this throws counts as the fitting's failure.
  virtual void shaped(std::size_t i, Shaped&& shaped) = 0;
  virtual void failed(std::size_t i, MakingFailed&& why) = 0;
};

// Makes every request's fitting and patterns, or with `patterns` false the fitting alone. Nothing that one of
// them does reaches the others.
void shape_all(const std::vector<FittingRequest>& requests, int threads, Shaping& shaping,
               bool patterns = true);

}  // namespace linerwright
