// A group's nest, and an order of boards and pieces that completes each fitting soonest.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "linerwright/boards/boards.hpp"

namespace linerwright {

// The nest of the pieces that may share boards.
struct Nested {
  NestJob job;
  std::vector<std::size_t> stocks;  // of the job's boards, in BoardPlan::stock
  std::vector<std::size_t> parts;   // of the job's parts, in BoardPlan::parts
  NestResult result;
};

// Boards count through all nests. Empty: as they come.
struct Sequence {
  std::vector<std::size_t> boards;                // in the order in which they are cut
  std::vector<std::map<std::string, int>> ranks;  // by board, of the fittings on it: lower ones first
};

// Next is always the board that completes most fittings, then the one that leaves fewest pieces of them; on
// it, fittings that it completes come first.
Sequence sequence_by_fitting(const std::vector<BoardPart>& parts, const std::vector<Nested>& nests);

}  // namespace linerwright
