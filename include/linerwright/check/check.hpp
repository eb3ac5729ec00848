// Proof that a fitting fits: from what was made in memory, quickly, and from the files on disk, thoroughly.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "linerwright/draw/draw.hpp"
#include "linerwright/fitting/fitting.hpp"
#include "linerwright/pattern/guide_band.hpp"
#include "linerwright/pattern/pattern.hpp"
#include "linerwright/solid/solid.hpp"
#include "linerwright/units/check_result.hpp"

namespace linerwright {

// What `make` runs itself, a few milliseconds: fill, volumes against the integrals, the fit of the joints'
// curves, equal developed length of edges that meet, and the patterns' areas.
std::vector<CheckResult> quick_checks(const Fitting& fitting, const Model& model,
                                      const std::vector<Pattern>& patterns);

// Where a fitting's files are: <folder>/<stem>-<piece>.dxf, <stem>-metal.stl, <stem>-liner.stl,
// <stem>-bore.stl, <stem>.step.
struct CheckFiles {
  std::filesystem::path folder;
  std::string stem;
  // Whether solids were asked for; where not, and no STEP is there, a note says what is not proved.
  bool solids = true;
  // Of what guide bands were made, where they were asked for: <stem>-band-<band>.dxf, <stem>-bands.csv,
  // <stem>-bands.pdf.
  std::optional<BandSheet> bands{};
};

// The full proof from the files, which `fitting` and its patterns (made again from its parameters) are held
// against: every DXF audited, compared with the pattern and rolled back onto the STEP's solids; fill,
// interference, closed meshes, bore slices. `dxf` and `mesh` say how the files were promised to be written. A
// file that is missing or broken fails its check.
std::vector<CheckResult> check_fitting(const Fitting& fitting, const std::vector<Pattern>& patterns,
                                       const CheckFiles& files, const DxfOptions& dxf,
                                       const MeshOptions& mesh);

// The boards and totals of a whole job's folder, held against its fittings' files by the request alone;
// nothing where it holds neither.
std::vector<CheckResult> prove_job_as_asked(const std::filesystem::path& out);

}  // namespace linerwright
