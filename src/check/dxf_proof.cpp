// One DXF read back: audited, held against the pattern and the joints, and rolled onto the solids.
#include <algorithm>
#include <cmath>
#include <fstream>
#include <functional>

#include <fmt/format.h>

#include "linerwright/error.hpp"
#include "proof.hpp"

namespace linerwright {

namespace {

// Reading back rounds to the file's decimals; one unit of the last place in inches is 2.5e-5 mm, in mm 1e-4.
constexpr double k_file_rounding = 2e-4;

BoardLines expected_lines(const Region& region, const std::vector<std::vector<Vec2>>& open) {
  BoardLines lines{{region.outer, true}};
  for (const Ring& hole : region.holes) lines.push_back({hole, true});
  for (const auto& line : open) lines.push_back({line, false});
  return lines;
}

double furthest(const BoardLines& from, const BoardLines& to) {
  double worst = 0.0;
  for (const BoardLine& line : from)
    for (const Vec2 p : line.points) worst = std::max(worst, distance_to_lines(p, to));
  return worst;
}

// Both ways, and contour for contour: nothing missing, nothing more, nothing moved.
CheckResult compare(const std::string& name, const BoardLines& found, const std::string& layer,
                    const BoardLines& expected) {
  const auto closed_of = [](const BoardLines& all) {
    return std::count_if(all.begin(), all.end(), [](const BoardLine& line) { return line.closed; });
  };
  if (found.size() != expected.size() || closed_of(found) != closed_of(expected))
    return undone(name, fmt::format("{} has {} lines ({} closed) instead of {} ({})", layer, found.size(),
                                    closed_of(found), expected.size(), closed_of(expected)));
  return within(name, std::max(furthest(found, expected), furthest(expected, found)), k_file_rounding, "mm",
                layer + " against the pattern");
}

// What the pen draws, and the line of stated length by which a wrong scale shows. Words on the same layer are
// short strokes.
std::vector<CheckResult> compare_pen(const Fitting& fitting, const Pattern& pattern, const DxfFile& file) {
  BoardLines marks;
  BoardLines scale;
  double stated = 0.0;
  for (const Polyline& line : drawing_of(pattern, fitting.units).lines) {
    if (line.layer == Layer::mark) marks.push_back({line.points, line.closed});
    if (line.layer != Layer::scale) continue;
    scale.push_back({line.points, line.closed});
    stated = std::max(stated, polyline_length(line.points, line.closed));
  }
  const BoardLines found = lines_on(file, layer_name(Layer::scale));
  double longest = 0.0;
  for (const BoardLine& line : found) longest = std::max(longest, polyline_length(line.points, line.closed));
  return {
      compare("marks " + pattern.id, lines_on(file, layer_name(Layer::mark)), layer_name(Layer::mark), marks),
      within("check line " + pattern.id, std::max(std::fabs(longest - stated), furthest(scale, found)),
             k_file_rounding, "mm", "length and place of the line that states a length")};
}

CheckResult audit(const Pattern& pattern, const DxfFile& file, const std::filesystem::path& path,
                  const DxfOptions& options) {
  AuditExpectations promised;
  promised.units = options.units;
  promised.version = options.version;
  promised.open_cuts = pattern.is_blank;
  promised.single_layer = options.single_layer;
  promised.labels_inside = !options.single_layer && !options.cut_only;
  const std::vector<Finding> findings = audit_dxf(file, promised);
  return within("audit " + pattern.id, static_cast<double>(findings.size()), 0.0, "findings",
                findings.empty() ? std::string() : one_line(findings.front(), path.filename().string()));
}

// A proof that cannot be carried through fails under its name.
void attempt(std::vector<CheckResult>& results, const std::string& name,
             const std::function<std::vector<CheckResult>()>& proof) {
  try {
    const std::vector<CheckResult> more = proof();
    results.insert(results.end(), more.begin(), more.end());
  } catch (const std::exception& error) {
    results.push_back(undone(name, error.what()));
  }
}

}  // namespace

std::vector<CheckResult> prove_dxf(const Fitting& fitting, const Pattern& pattern,
                                   const std::filesystem::path& path, const DxfOptions& options,
                                   const std::vector<const Part*>& liners) {
  std::ifstream in(path, std::ios::binary);
  if (!in) return {undone("dxf " + pattern.id, path.string() + " cannot be read")};
  DxfFile file;
  try {
    file = read_dxf(in, path.string());
  } catch (const InputError& error) {
    return {undone("dxf " + pattern.id, error.what())};
  }
  if (options.single_layer && options.single_layer_all)
    return {undone("dxf " + pattern.id, "everything lies on one layer: the cut cannot be told apart")};
  std::vector<CheckResult> results{audit(pattern, file, path, options)};
  const std::string cut_layer = options.single_layer ? "0" : layer_name(Layer::cut);
  const BoardLines cut = lines_on(file, cut_layer);
  results.push_back(
      compare("cut " + pattern.id, cut, cut_layer, expected_lines(pattern.cut, pattern.open_cuts)));

  const bool faces = !options.single_layer && !options.cut_only;
  const BoardLines duct = lines_on(file, layer_name(Layer::duct_face));
  const BoardLines air = lines_on(file, layer_name(Layer::air_face));
  if (faces) {
    results.push_back(compare("duct face " + pattern.id, duct, layer_name(Layer::duct_face),
                              expected_lines(pattern.duct, pattern.duct_lines)));
    results.push_back(compare("air face " + pattern.id, air, layer_name(Layer::air_face),
                              expected_lines(pattern.air, pattern.air_lines)));
    const std::vector<CheckResult> pen = compare_pen(fitting, pattern, file);
    results.insert(results.end(), pen.begin(), pen.end());
  }

  const auto notched = std::find_if(fitting.notched.begin(), fitting.notched.end(),
                                    [&](const NotchedBlank& blank) { return blank.id == pattern.id; });
  if (notched != fitting.notched.end()) {
    const double t = fitting.liner.thickness;
    const auto prove = [&](const BoardLines& lines, const std::string& layer,
                           const std::vector<double>& depths) {
      attempt(results, "notches " + layer, [&]() -> std::vector<CheckResult> {
        return {prove_notches(fitting, pattern, *notched, lines, layer, depths)};
      });
    };
    prove(cut, cut_layer, {0.0, t});
    if (faces) {
      prove(duct, layer_name(Layer::duct_face), {0.0});
      prove(air, layer_name(Layer::air_face), {t});
    }
    return results;
  }
  attempt(results, "knife " + pattern.id,
          [&]() -> std::vector<CheckResult> { return {prove_knife(fitting, pattern, cut)}; });
  if (faces)
    attempt(results, "re-roll " + pattern.id, [&] { return prove_roll(fitting, pattern, file, liners); });
  return results;
}

}  // namespace linerwright
