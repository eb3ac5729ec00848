// Boards of a job whose large pieces are divided with the boards in view.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "linerwright/make_job.hpp"

namespace linerwright {

struct PlannedBoards {
  DrawnFloor drawn;
  std::map<std::size_t, Shaped> divided;  // fittings that are divided otherwise, by index
  std::string note;
};

// Boards that cost less than `even`, which are those of `parts`; nothing where none were found. Requests
// without a tag are left out. Throws as draw_floor() does.
std::optional<PlannedBoards> plan_boards(const std::vector<FittingRequest>& requests,
                                         const std::vector<FloorPart>& parts, const DrawnFloor& even,
                                         const FloorSetup& setup, Units units, const DxfOptions& dxf,
                                         int threads);

// What stands beside the boards' drawings: the job sheet, and division.toml where a division was planned.
// Name and bytes.
std::vector<std::pair<std::string, std::string>> beside_boards(const Job& job, const FloorPlan& plan,
                                                               const std::string& version);

// Boards of a part of the job do not take the place of those of the whole, which the list of this name knows:
// throws InputError where they would.
void require_own_boards(const Job& job, const Job& whole, const JobOptions& options,
                        const std::string& list_name);

}  // namespace linerwright
