// The files of a run beside its run.json.
#pragma once

#include <optional>
#include <string>

#include "folder.hpp"
#include "linerwright/report/bore.hpp"
#include "run_bodies.hpp"

namespace linerwright {

// Writes solids, meshes, drawings, tables and page of a run into its folder.
// Throws WriteError, GeometryError.
// `tree`: it and the runs that start from it, and so on, where there are such.
RunContents write_run_files(NewFolder& folder, const std::string& stem, const LaidRun& run,
                            const BoreRun& losses, const OutputOptions& options,
                            const std::vector<const LaidRun*>& tree = {});

}  // namespace linerwright
