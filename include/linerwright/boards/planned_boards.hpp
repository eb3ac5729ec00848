// Boards of a job whose large pieces are divided with the boards in view.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "linerwright/boards/boards.hpp"
#include "linerwright/boards/division_plan.hpp"

namespace linerwright {

// A fitting with its patterns.
struct Shaped {
  Fitting fitting;
  std::vector<Pattern> patterns;
};

struct PlannedBoards {
  DrawnBoards drawn;
  std::map<std::size_t, Shaped> divided;  // fittings that are divided otherwise, by index
  std::string note;
};

// How pieces may be divided, and whether those of a blank lie one by one.
struct PieceRules {
  DivisionRules division;
  bool scatter = false;
};

// Boards that cost less than `even`, which are those of `even_parts`; nothing where none were found. Requests
// without a tag are left out. Throws as draw_boards() does.
std::optional<PlannedBoards> plan_boards(const std::vector<FittingRequest>& requests,
                                         const std::vector<BoardPart>& even_parts, const DrawnBoards& even,
                                         const JobStock& setup, const PieceRules& rules, Units units,
                                         const DxfOptions& dxf);

// The boards of `parts`, or with rules those of other divisions that cost less: then `divided` and `note` say
// so, and the divided requests are put in the place of the others. Requests without a tag are left out.
// Throws as draw_boards() does.
PlannedBoards boards_of_job(std::vector<FittingRequest>& requests, const std::vector<BoardPart>& parts,
                            const JobStock& setup, const PieceRules* rules, Units units,
                            const DxfOptions& dxf);

// boards/division.toml: how a nest of the whole job divides its pieces, for whoever makes them later.
constexpr const char* k_division_file = "division.toml";
// The file's text, of the requests whose division was planned. Empty where there are none.
std::string division_file(const std::vector<FittingRequest>& requests);
// The request with the division that boards were planned with.
FittingRequest divided_as(FittingRequest request, const std::string& division);

}  // namespace linerwright
