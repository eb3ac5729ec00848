// The files of a run beside its run.json.
#pragma once

#include <optional>
#include <string>

#include "folder.hpp"
#include "run_bodies.hpp"

namespace linerwright {

// Writes solids, meshes, drawings, tables and page of a run into its folder; `flow` (m3/s) is the job's.
// Throws WriteError, GeometryError.
RunContents write_run_files(NewFolder& folder, const std::string& stem, const LaidRun& run,
                            const ProduceOptions& options, std::optional<double> flow);

}  // namespace linerwright
