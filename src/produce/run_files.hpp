// The files of a run beside its run.json.
#pragma once

#include <string>

#include "folder.hpp"
#include "linerwright/json.hpp"
#include "linerwright/run.hpp"

namespace linerwright {

// What run.json says of the files.
struct RunContents {
  void write(JsonWriter& json) const;
};

// Writes solids, meshes, pictures and tables of a run into its folder. Throws WriteError, GeometryError.
RunContents write_run_files(NewFolder& folder, const std::string& stem, const LaidRun& run,
                            const ProduceOptions& options);

}  // namespace linerwright
