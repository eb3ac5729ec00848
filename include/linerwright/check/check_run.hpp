// Proof of a run of duct from its folder and its fittings' folders.
#pragma once

#include <filesystem>
#include <vector>

#include "linerwright/check/check_job.hpp"
#include "linerwright/run/run.hpp"

namespace linerwright {

// What run.json says holds with the fittings made again from their own folders: every port met, no two metal
// bodies in one place, the assembly's solids as large as the fittings' integrals, one bore, meshes closed,
// the files as they were written. A file that is missing or broken fails its check.
std::vector<CheckResult> check_run(const std::filesystem::path& folder, const MakeAgain& again);

// Whether what was made of a run is what a job asks for now: places, joints, air, order and all else in its
// run.json.
CheckResult run_as_in_job(const std::filesystem::path& folder, const LaidRun& wanted);

}  // namespace linerwright
