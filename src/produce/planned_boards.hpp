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

// Notes the remnants that the boards are in their lists, then writes the folder of boards with what stands
// beside their drawings (job sheet, division.toml where a division was planned), and the list of what they
// leave. `of`: tag and state of each fitting on them. Returns what a person should know, a line each. Throws
// InputError where another job has taken a remnant meanwhile, WriteError.
std::vector<std::string> write_all_boards(const DrawnFloor& drawn,
                                          const std::vector<std::pair<std::string, std::string>>& of,
                                          const Job& job, const JobOptions& options, const OutFolder& out);

// Boards of a part of the job do not take the place of those of the whole, which the list of this name knows:
// throws InputError where they would.
void require_own_boards(const Job& job, const Job& whole, const JobOptions& options,
                        const std::string& list_name);

}  // namespace linerwright
