// Nesting jobs for the benchmark: sets read from files, and two made by formula.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "linerwright/nest/nest.hpp"

namespace linerwright::nest_sets {

struct Set {
  std::string name;
  double width = 0.0;
  std::vector<NestPart> parts;
  double goal = 0.0;                 // density
  std::optional<double> best_known;  // density, from the published record layouts
};

// shirts, trousers, swim and albano from `folder` (NAME.json: strip_height and items with demand and a simple
// polygon). Throws std::runtime_error for a file that is missing or not of that form.
std::vector<Set> public_sets(const std::filesystem::path& folder);
// Twenty elbow gores and tee openings on a 1220 mm roll.
Set gores_and_tees();
// Rectangles cut from one 1000 by 600 rectangle: a full strip exists.
Set exact_tiling();

}  // namespace linerwright::nest_sets
