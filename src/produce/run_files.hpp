// The files of a run beside its run.json.
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string>

#include "folder.hpp"
#include "linerwright/assembly.hpp"
#include "linerwright/json.hpp"
#include "linerwright/run.hpp"

namespace linerwright {

// The bodies of fittings by what they are made from: runs that hold alike fittings share them.
using RunModels = std::map<std::string, std::shared_ptr<const Model>>;

// What run.json says of the files.
struct RunContents {
  bool bodies = false;
  double metal = 0.0, liner = 0.0, bore = 0.0;  // mm3, of all places
  std::size_t models = 0;                       // different ones
  double deflection = 0.0;                      // mm, of the meshes
  void write(JsonWriter& json) const;
};

// Writes solids, meshes, drawings, tables and page of a run into its folder; `flow` (m3/s) is the job's.
// Throws WriteError, GeometryError.
RunContents write_run_files(NewFolder& folder, const std::string& stem, const LaidRun& run,
                            const ProduceOptions& options, RunModels& models, std::optional<double> flow);

}  // namespace linerwright
