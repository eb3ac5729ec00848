#include "linerwright/check/check.hpp"

#include <algorithm>

#include "as_asked.hpp"
#include "linerwright/pattern/tilt_table.hpp"
#include "linerwright/units/error.hpp"
#include "proof.hpp"

namespace linerwright {

namespace {

// The liner of each piece; nothing where there is none of its name.
std::vector<const Part*> liners_in(const std::vector<Part>& parts, const Fitting& fitting) {
  std::vector<const Part*> liners;
  for (const Piece& piece : fitting.pieces) {
    const auto found = std::find_if(parts.begin(), parts.end(),
                                    [&](const Part& part) { return part.name == "liner " + piece.id; });
    liners.push_back(found == parts.end() ? nullptr : &*found);
  }
  return liners;
}

}  // namespace

std::vector<CheckResult> check_fitting(const Fitting& fitting, const std::vector<Pattern>& patterns,
                                       const CheckFiles& files, const DxfOptions& dxf,
                                       const MeshOptions& mesh) {
  const Model model = build_model(fitting, Gate::full);
  std::vector<CheckResult> results = quick_checks(fitting, model, patterns);
  for (CheckResult& result : results) result.detail += "; all made again";
  const auto add = [&](std::vector<CheckResult> more) {
    results.insert(results.end(), more.begin(), more.end());
  };

  const std::filesystem::path step = files.folder / (files.stem + ".step");
  const bool solids = files.solids || std::filesystem::exists(step);
  std::vector<Part> parts;
  try {
    if (solids) parts = read_step(step);
  } catch (const InputError& error) {
    results.push_back(undone("step", error.what()));
  }
  if (!solids)
    results.push_back(noted("step", "made without solids: patterns are rolled back onto solids made again"));
  const std::vector<const Part*> liners = liners_in(solids ? parts : model.parts, fitting);
  for (const Pattern& pattern : patterns)
    add(prove_dxf(fitting, pattern, files.folder / (files.stem + "-" + pattern.id + ".dxf"), dxf, liners));
  for (const Pattern& pattern : site_templates(fitting))
    add(prove_dxf(fitting, pattern, files.folder / (files.stem + "-" + pattern.id + ".dxf"), dxf, liners));
  if (files.bands) add(prove_bands(fitting, files, dxf));
  // the request alone is known where the program wrote the folder
  if (std::filesystem::exists(files.folder / "fitting.json")) add(prove_as_asked(files, parts));
  for (int layer = 0; layer < layer_count(fitting); ++layer)
    add(prove_tilts(fitting, patterns, files.folder / tilt_file(files.stem, layer), layer));
  if (parts.empty()) return results;
  results.push_back(prove_step_units(step));
  add(prove_parts(fitting, model, parts));
  add(prove_meshes(fitting, files, parts, mesh));
  return results;
}

}  // namespace linerwright
