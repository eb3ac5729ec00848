// Lists of remnants: offcuts of earlier jobs, kept for later ones. A list is a JSON file; it is read as it
// stands and written anew as a whole, so that nobody ever sees half of one.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "linerwright/boards/remnant_list.hpp"

namespace linerwright {

// Throws InputError, naming `name`, for what is no such list, for sizes that make no sense, and for an id
// that is there twice.
std::vector<Remnant> read_remnants(const std::string& text, const std::string& name);
// A file's list; throws InputError where it cannot be read.
std::vector<Remnant> remnants_in(const std::filesystem::path& file);

// The remnants that are free, or taken by this job, as stock: one of each. Throws InputError where two lists
// hold the same one.
std::vector<BoardStock> remnant_stock(const std::vector<std::filesystem::path>& lists,
                                      const std::string& job);
// Writes the lists anew: what the plan uses is taken by this job, what the job took before and does not need
// any more is free again. Throws InputError, and leaves all lists as they are, where another job has taken
// one meanwhile; WriteError.
void take_remnants(const std::vector<std::filesystem::path>& lists, const BoardPlan& plan,
                   const std::string& job, bool sync);
// Writes <boards>/remnants.json: the plan's own. What of an earlier list there another job has taken stays in
// it; returns a note for each of those that these boards do not have any more. Throws as the others do.
std::vector<std::string> write_remnants(const std::filesystem::path& boards, const BoardPlan& plan,
                                        const std::string& job, bool sync);

}  // namespace linerwright
