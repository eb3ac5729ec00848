// The requests of a job as fittings with their patterns, and the boards for all of them: what each way of
// making a job begins with, on a disk or in a page.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "linerwright/boards/planned_boards.hpp"

namespace linerwright {

// Why a fitting was not made.
struct MakingFailed {
  std::vector<std::string> lines;  // one for each mistake
  int exit_code = 1;               // 2: what was asked for cannot be; 1: all else
};
// Of the exception that is being handled, which the fitting with the tag threw.
MakingFailed why_not_made(const std::string& tag);

// What is done with each fitting. Calls for different fittings may come from different threads.
class Shaping {
 public:
  virtual ~Shaping() = default;
  virtual void begins(std::size_t) {}
  // What this throws counts as the fitting's failure.
  virtual void shaped(std::size_t i, Shaped&& shaped) = 0;
  virtual void failed(std::size_t i, MakingFailed&& why) = 0;
};

// Makes every request's fitting and patterns. Nothing that one of them does reaches the others.
void shape_all(const std::vector<FittingRequest>& requests, int threads, Shaping& shaping);

// The boards of `parts`, or with rules those of other divisions that cost less: then `divided` and `note` say
// so, and the divided requests are put in the place of the others. Requests without a tag are left out.
// Throws as draw_boards() does.
PlannedBoards boards_of_job(std::vector<FittingRequest>& requests, const std::vector<BoardPart>& parts,
                            const JobStock& setup, const PieceRules* rules, Units units,
                            const DxfOptions& dxf);

}  // namespace linerwright
