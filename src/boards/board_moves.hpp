// Other ways to cut a job's fittings, tried on the boards one after the other.
#pragma once

#include <map>
#include <memory>
#include <vector>

#include "linerwright/boards/planned_boards.hpp"

namespace linerwright {

// How fittings are cut where that is not as their board divides them, and not in blanks; by request's index.
struct Cutting {
  PlannedDivisions divisions;
  std::map<std::size_t, std::shared_ptr<const Shaped>> shapes;  // of those divisions
  std::map<std::size_t, long> one_by_one;  // copies of a blank, the last ones, that come as its pieces
};

// The fitting divided so; nothing where its seams find no place.
std::shared_ptr<const Shaped> shaped_as(const FittingRequest& request, const StatedDivisions& divisions);

// What is cut; `even`: of all requests as they are divided without a plan.
std::vector<BoardPart> parts_of(const Cutting& cutting, const std::vector<FittingRequest>& requests,
                                const std::vector<BoardPart>& even, bool scatter);

// Starts from a cutting and keeps what a quick nest finds worth its seams: copies of a blank piece by piece,
// pieces that are no rectangles in more panels or rings.
Cutting improved(Cutting cutting, const std::vector<FittingRequest>& requests,
                 const std::vector<BoardPart>& even, const JobStock& setup, const PieceRules& rules);

}  // namespace linerwright
