// The division of a job's large pieces, chosen with the boards in view: fewest boards, or least cost, then
// the largest offcut.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "linerwright/boards/boards.hpp"
#include "linerwright/fitting/choices.hpp"
#include "linerwright/fitting/divisible.hpp"

namespace linerwright {

// The table [boards].
struct DivisionRules {
  // never: what is larger than its board is refused; evenly: into the fewest equal rings and panels;
  // if_needed: what is larger than its board as the boards are best used; if_it_saves: other pieces, too.
  Divide divide = Divide::if_needed;
  double seam_cost = 0.01;  // boards for each metre of seam beyond the even division's
  bool chosen() const { return divide == Divide::if_needed || divide == Divide::if_it_saves; }
};

// Nothing given: the defaults; `divide` and `seam_cost` are as written on the command line, if not empty, and
// count before the table. Throws InputError.
DivisionRules division_rules(const Values* table, const std::string& divide, const std::string& seam_cost);

// By request's index: pieces that should be divided otherwise than evenly.
using PlannedDivisions = std::map<std::size_t, StatedDivisions>;

// Of pieces between square ends. `parts` are what is cut of all requests, and rest on their even division.
PlannedDivisions plan_divisions(const std::vector<FittingRequest>& requests,
                                const std::vector<BoardPart>& parts, const std::vector<BoardStock>& stock,
                                const DivisionRules& rules, const BoardOptions& options);

// What all boards cost: money where all stock has a price, else m2.
double plan_cost(const BoardPlan& plan);

}  // namespace linerwright
