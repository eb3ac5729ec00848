// The parts of the full proof.
#pragma once

#include <vector>

#include "linerwright/check.hpp"

namespace linerwright {

CheckResult within(std::string name, double value, double limit, std::string unit, std::string detail = {});
// A check that could not be done: it fails.
CheckResult undone(std::string name, std::string why);

// Audit, comparison with the pattern, and re-roll of one DXF onto the pieces' solids (by piece index).
std::vector<CheckResult> prove_dxf(const Fitting& fitting, const Pattern& pattern,
                                   const std::filesystem::path& file, const DxfOptions& options,
                                   const std::vector<const Part*>& liners);

// Volumes, fill, interference and the bore's slices of the STEP's parts.
std::vector<CheckResult> prove_parts(const Fitting& fitting, const Model& model,
                                     const std::vector<Part>& parts);
// The STL files against the STEP's parts.
std::vector<CheckResult> prove_meshes(const Fitting& fitting, const CheckFiles& files,
                                      const std::vector<Part>& parts, const MeshOptions& options);

}  // namespace linerwright
