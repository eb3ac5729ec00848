// Parts of a path and openings of any fitting that a job file lists as tables of their own.
#pragma once

#include "linerwright/job/entry.hpp"

namespace linerwright {

// Puts the tables [[fitting.part]] of a fitting into one text, its key `parts`, and its tables
// [[fitting.opening]] into its key `openings`: straight = "12in" is "straight 12in". Bare numbers of lengths
// take these units; what is wrong goes to the section's problems.
void join_listed_parts(Section& section, std::optional<Units> units);

}  // namespace linerwright
