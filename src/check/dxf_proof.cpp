// One DXF read back: audited, held against the pattern and the joints, and rolled onto the solids.
#include <algorithm>
#include <cmath>
#include <fstream>
#include <functional>

#include <fmt/format.h>

#include "linerwright/reroll/near_lines.hpp"
#include "linerwright/units/error.hpp"
#include "proof.hpp"

namespace linerwright {

namespace {

// Reading back rounds to the file's decimals; one unit of the last place in inches is 2.5e-5 mm, in mm 1e-4.
constexpr double k_file_rounding = 2e-4;

BoardLines expected_lines(const Region& region, const std::vector<Ring>& rest,
                          const std::vector<std::vector<Vec2>>& open) {
  BoardLines lines{{region.outer, true}};
  for (const Ring& ring : rest) lines.push_back({ring, true});
  for (const Ring& hole : region.holes) lines.push_back({hole, true});
  for (const auto& line : open) lines.push_back({line, false});
  return lines;
}

double furthest(const BoardLines& from, const BoardLines& to) {
  const NearLines near(to);
  double worst = 0.0;
  for (const BoardLine& line : from)
    for (const Vec2 p : line.points) worst = std::max(worst, near.distance(p));
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
                layer + " against the pattern made again");
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
  const double off = std::max(std::fabs(longest - stated), furthest(scale, found));
  const std::string name = "check line " + pattern.id;
  const bool changed = off <= k_file_rounding && unpaired(scale, found, k_file_rounding).missing > 0;
  return {
      compare("marks " + pattern.id, lines_on(file, layer_name(Layer::mark)), layer_name(Layer::mark), marks),
      changed
          ? undone(name, "one of its lines is longer, or runs elsewhere")
          : within(name, off, k_file_rounding, "mm", "length and place of the line that states a length")};
}

// A contour that another program let begin elsewhere or run the other way round is the same contour; that its
// direction is not ours is then no fault, and neither is a header without extents.
CheckResult audit(const Pattern& pattern, const DxfFile& file, const std::filesystem::path& path,
                  const DxfOptions& options, bool reordered) {
  std::vector<Finding> findings = audit_dxf(file, audit_promises(pattern, options));
  findings.erase(std::remove_if(findings.begin(), findings.end(),
                                [&](const Finding& each) {
                                  if (each.code == "D113") return !file.extents;
                                  return reordered && (each.code == "D102" || each.code == "D103");
                                }),
                 findings.end());
  return within("audit " + pattern.id, static_cast<double>(findings.size()), 0.0, "findings",
                findings.empty() ? std::string() : one_line(findings.front(), path.filename().string()));
}

// A file with far more points than the pattern is none of it, and would take long to compare.
bool far_too_large(const Drawing& drawing, const DxfFile& file) {
  constexpr std::size_t k_spare = 20000;
  std::size_t expected = 0;
  for (const Polyline& line : drawing.lines) expected += line.points.size();
  for (const Text& text : drawing.texts) expected += 60 * text.text.size();
  std::size_t found = file.texts.size() + file.others.size();
  for (const DxfPolyline& line : file.lines) found += line.points.size();
  return found > 4 * expected + k_spare;
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

// The lines that the proof is about, and those that should be there, layer by layer.
struct ComparedLayer {
  std::string check;  // "cut", "duct face"
  std::string name;
  BoardLines found, expected;
};

std::vector<ComparedLayer> compared_layers(const Pattern& pattern, const DxfFile& file,
                                           const std::string& cut_layer, bool faces) {
  std::vector<ComparedLayer> layers{
      {"cut", cut_layer, lines_on(file, cut_layer), expected_lines(pattern.cut, {}, pattern.open_cuts)}};
  if (!faces || pattern.pieces.empty()) return layers;
  const std::string duct = layer_name(outer_face_layer(pattern.layer));
  const std::string air = layer_name(inner_face_layer(pattern.layer));
  layers.push_back({"duct face", duct, lines_on(file, duct),
                    expected_lines(pattern.duct, pattern.duct_rest, pattern.duct_lines)});
  layers.push_back({"air face", air, lines_on(file, air),
                    expected_lines(pattern.air, pattern.air_rest, pattern.air_lines)});
  return layers;
}

// True where a line does not begin and run as the writer lets it.
bool reordered(const ComparedLayer& layer) {
  std::vector<BoardLine> left = layer.expected;
  for (const BoardLine& line : layer.found) {
    const auto same = std::find_if(left.begin(), left.end(), [&](const BoardLine& other) {
      return in_same_order(line, other, k_file_rounding);
    });
    if (same == left.end()) return true;
    left.erase(same);
  }
  return false;
}

// What another program leaves behind that changes no contour; empty: nothing.
std::string marks_of_another_program(const std::vector<ComparedLayer>& layers, const DxfFile& file) {
  std::string marks;
  const auto add = [&](const std::string& what) { marks += (marks.empty() ? "" : "; ") + what; };
  for (const DxfLayer& layer : file.layers)
    if (layer.name != "0" && !layer_named(layer.name)) add("a layer " + layer.name + " with nothing on it");
  if (!file.extents) add("no extents in the header");
  for (const ComparedLayer& layer : layers)
    if (reordered(layer)) add("contours on " + layer.name + " begin elsewhere or run the other way round");
  return marks;
}

// Nothing but what was said to be written lies in the file: a promise of cuts alone lessens the proof.
CheckResult only_cuts(const std::string& id, const DxfFile& file, const std::string& cut_layer) {
  std::size_t more = file.texts.size();
  for (const DxfPolyline& line : file.lines) more += line.layer != cut_layer ? 1 : 0;
  return within("cuts alone " + id, static_cast<double>(more), 0.0, "lines",
                more == 0 ? "nothing else was said to be in the file"
                          : "the file holds more than the cuts that it is said to hold");
}

void prove_folded(std::vector<CheckResult>& results, const Fitting& fitting, const Pattern& pattern,
                  const NotchedBlank& notched, const std::vector<ComparedLayer>& layers) {
  const auto [outer, inner] = liner_of(fitting, pattern).faces();
  const std::vector<std::vector<double>> depths{{outer, inner}, {outer}, {inner}};
  for (std::size_t i = 0; i < layers.size(); ++i)
    attempt(results, "notches " + layers[i].name, [&]() -> std::vector<CheckResult> {
      return prove_notched(fitting, pattern, notched, layers[i].found, layers[i].name, depths[i]);
    });
}

void add_all(std::vector<CheckResult>& results, const std::vector<CheckResult>& more) {
  results.insert(results.end(), more.begin(), more.end());
}

}  // namespace

std::vector<CheckResult> prove_dxf(const Fitting& fitting, const Pattern& pattern,
                                   const std::filesystem::path& path, const DxfOptions& options,
                                   const std::vector<const Part*>& liners, const GuideBand* band) {
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
  if (far_too_large(drawing_of(pattern, fitting.units), file))
    return {undone("dxf " + pattern.id, "the file holds far more points than the pattern")};

  const std::string cut_layer = options.single_layer ? "0" : layer_name(Layer::cut);
  const bool faces = !options.single_layer && !options.cut_only;
  const std::vector<ComparedLayer> layers = compared_layers(pattern, file, cut_layer, faces);
  std::vector<CheckResult> results{
      audit(pattern, file, path, options, std::any_of(layers.begin(), layers.end(), reordered))};
  for (const ComparedLayer& layer : layers)
    results.push_back(compare(layer.check + " " + pattern.id, layer.found, layer.name, layer.expected));
  if (faces) {
    add_all(results, compare_pen(fitting, pattern, file));
    add_all(results, prove_labels(fitting, pattern, file, k_file_rounding));
  } else {
    results.push_back(only_cuts(pattern.id, file, cut_layer));
  }
  add_all(results, prove_comments(fitting, pattern, file));
  const std::string marks = marks_of_another_program(layers, file);
  if (!marks.empty() &&
      std::all_of(results.begin(), results.end(), [](const CheckResult& each) { return each.pass; }))
    results.push_back(noted("dxf " + pattern.id, "changed by another program, same contours: " + marks));

  const auto notched = std::find_if(fitting.notched.begin(), fitting.notched.end(),
                                    [&](const NotchedBlank& blank) { return blank.id == pattern.id; });
  if (notched != fitting.notched.end()) {
    prove_folded(results, fitting, pattern, *notched, layers);
    return results;
  }
  if (band != nullptr) {
    attempt(results, "band " + pattern.id, [&] { return prove_band(*band, fitting, layers[0].found); });
    return results;
  }
  if (pattern.pieces.empty()) {
    attempt(results, "hole " + pattern.id,
            [&]() -> std::vector<CheckResult> { return {prove_hole(fitting, pattern, layers[0].found)}; });
    return results;
  }
  attempt(results, "knife " + pattern.id,
          [&]() -> std::vector<CheckResult> { return {prove_knife(fitting, pattern, layers[0].found)}; });
  if (faces)
    attempt(results, "re-roll " + pattern.id, [&] { return prove_roll(fitting, pattern, file, liners); });
  return results;
}

}  // namespace linerwright
