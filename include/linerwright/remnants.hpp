// Lists of remnants: offcuts of earlier jobs, kept for later ones. A list is a JSON file; it is read as it
// stands and written anew as a whole, so that nobody ever sees half of one.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "linerwright/floor.hpp"

namespace linerwright {

struct Remnant {
  std::string id;
  std::string stock;  // what it was cut from
  double thickness = 0.0;
  double density = 0.0;  // kg/m3
  double width = 0.0;    // along the duct, mm
  double length = 0.0;   // around it
  EdgeTrim trim;
  std::optional<double> kerf_pitch;
  std::optional<double> mass;  // kg/m2
  std::string job;             // whose offcut it is; may be empty
  std::size_t board = 0;       // of that job, from 1; 0: not known
  std::string used_by;         // the job that took it; empty: it is free
};

// The labelled offcuts of the plan's boards, all free.
std::vector<Remnant> remnants_of(const FloorPlan& plan, const std::string& job);
std::string remnants_json(const std::vector<Remnant>& remnants);
// Throws InputError, naming `name`, for what is no such list, for sizes that make no sense, and for an id
// that is there twice.
std::vector<Remnant> read_remnants(const std::string& text, const std::string& name);
// A file's list; throws InputError where it cannot be read.
std::vector<Remnant> remnants_in(const std::filesystem::path& file);

// The remnants that are free, or taken by this job, as stock: one of each. Throws InputError where two lists
// hold the same one.
std::vector<FloorStock> remnant_stock(const std::vector<std::filesystem::path>& lists,
                                      const std::string& job);
// Writes the lists anew: what the plan uses is taken by this job, what the job took before and does not need
// any more is free again. Throws InputError, and leaves all lists as they are, where another job has taken
// one meanwhile; WriteError.
void take_remnants(const std::vector<std::filesystem::path>& lists, const FloorPlan& plan,
                   const std::string& job, bool sync);
// Writes <boards>/remnants.json: the plan's own. What of an earlier list there another job has taken stays in
// it; returns a note for each of those that these boards do not have any more. Throws as the others do.
std::vector<std::string> write_remnants(const std::filesystem::path& boards, const FloorPlan& plan,
                                        const std::string& job, bool sync);

constexpr const char* k_remnants_file = "remnants.json";

}  // namespace linerwright
