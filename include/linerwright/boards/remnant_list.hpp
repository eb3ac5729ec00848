// The labelled offcuts of a job's boards as a list that later jobs read.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "linerwright/boards/boards.hpp"

namespace linerwright {

constexpr const char* k_remnants_file = "remnants.json";

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
std::vector<Remnant> remnants_of(const BoardPlan& plan, const std::string& job);
std::string remnants_json(const std::vector<Remnant>& remnants);

}  // namespace linerwright
