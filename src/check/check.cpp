#include "linerwright/check.hpp"

#include <algorithm>

#include "as_asked.hpp"
#include "linerwright/error.hpp"
#include "proof.hpp"

namespace linerwright {

std::vector<CheckResult> check_fitting(const Fitting& fitting, const CheckFiles& files, const DxfOptions& dxf,
                                       const MeshOptions& mesh) {
  const Model model = build_model(fitting, Gate::full);
  const std::vector<Pattern> patterns = make_patterns(fitting);
  std::vector<CheckResult> results = quick_checks(fitting, model, patterns);
  const auto add = [&](std::vector<CheckResult> more) {
    results.insert(results.end(), more.begin(), more.end());
  };

  std::vector<Part> parts;
  try {
    parts = read_step(files.folder / (files.stem + ".step"));
  } catch (const InputError& error) {
    results.push_back(undone("step", error.what()));
  }
  std::vector<const Part*> liners;
  for (const Piece& piece : fitting.pieces) {
    const auto found = std::find_if(parts.begin(), parts.end(),
                                    [&](const Part& part) { return part.name == "liner " + piece.id; });
    liners.push_back(found == parts.end() ? nullptr : &*found);
  }
  for (const Pattern& pattern : patterns)
    add(prove_dxf(fitting, pattern, files.folder / (files.stem + "-" + pattern.id + ".dxf"), dxf, liners));
  // the request alone is known where the program wrote the folder
  if (std::filesystem::exists(files.folder / "fitting.json")) add(prove_as_asked(files, parts));
  add(prove_tilts(fitting, patterns, files.folder / (files.stem + "-tilt.csv")));
  if (parts.empty()) return results;
  results.push_back(prove_step_units(files.folder / (files.stem + ".step")));
  add(prove_parts(fitting, model, parts));
  add(prove_meshes(fitting, files, parts, mesh));
  return results;
}

}  // namespace linerwright
