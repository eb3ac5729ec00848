// One pattern's DXF as text: read back and rolled up.
#include <algorithm>
#include <functional>
#include <sstream>
#include <utility>

#include "linerwright/reroll/reroll.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

constexpr int k_steps = 360;  // around

// A proof that cannot be carried through fails under its name.
void attempt(std::vector<CheckResult>& results, const std::string& name,
             const std::function<CheckResult()>& proof) {
  try {
    results.push_back(proof());
  } catch (const std::exception& error) {
    results.push_back(undone(name, error.what()));
  }
}

const NotchedBlank* notched_as(const Fitting& fitting, const Pattern& pattern) {
  const auto found = std::find_if(fitting.notched.begin(), fitting.notched.end(),
                                  [&](const NotchedBlank& blank) { return blank.id == pattern.id; });
  return found == fitting.notched.end() ? nullptr : &*found;
}

}  // namespace

AuditExpectations audit_promises(const Pattern& pattern, const DxfOptions& options) {
  AuditExpectations promised;
  promised.units = options.units;
  promised.version = options.version;
  promised.open_cuts = pattern.is_blank;
  promised.single_layer = options.single_layer;
  promised.faces_paired = pattern.faces_paired;
  promised.labels_inside = !options.single_layer && !options.cut_only;
  return promised;
}

std::vector<CheckResult> prove_pattern_text(const Fitting& fitting, const Pattern& pattern,
                                            const std::string& text, const std::string& name,
                                            const DxfOptions& options) {
  DxfFile file;
  try {
    std::istringstream in(text);
    file = read_dxf(in, name);
  } catch (const InputError& error) {
    return {undone("dxf " + pattern.id, error.what())};
  }
  const std::vector<Finding> findings = audit_dxf(file, audit_promises(pattern, options));
  std::vector<CheckResult> results{
      within("audit " + pattern.id, static_cast<double>(findings.size()), 0.0, "findings",
             findings.empty() ? std::string() : one_line(findings.front(), name))};
  const std::string cut_layer = options.single_layer ? "0" : layer_name(Layer::cut);
  const BoardLines cut = lines_on(file, cut_layer);
  if (const NotchedBlank* notched = notched_as(fitting, pattern)) {
    const auto [outer, inner] = liner_of(fitting, pattern).faces();
    try {
      for (CheckResult& each : prove_notched(fitting, pattern, *notched, cut, cut_layer, {outer, inner}))
        results.push_back(std::move(each));
    } catch (const std::exception& error) {
      results.push_back(undone("notches " + cut_layer, error.what()));
    }
    return results;
  }
  if (pattern.pieces.empty()) {
    attempt(results, "hole " + pattern.id, [&] { return prove_hole(fitting, pattern, cut); });
    return results;
  }
  attempt(results, "knife " + pattern.id, [&] { return prove_knife(fitting, pattern, cut, k_steps); });
  if (!options.single_layer && !options.cut_only)
    attempt(results, "faces " + pattern.id, [&] { return prove_faces(fitting, pattern, file); });
  return results;
}

}  // namespace linerwright
