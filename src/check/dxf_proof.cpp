// One DXF read back: audited, held against the pattern, and rolled onto the solids.
#include <algorithm>
#include <cmath>
#include <fstream>

#include <fmt/format.h>

#include "linerwright/error.hpp"
#include "proof.hpp"

namespace linerwright {

namespace {

// Reading back rounds to the file's decimals; one unit of the last place in inches is 2.5e-5 mm, in mm 1e-4.
constexpr double k_file_rounding = 2e-4;

using Lines = std::vector<const DxfPolyline*>;

Lines lines_on(const DxfFile& file, const std::string& layer, bool closed) {
  Lines lines;
  for (const DxfPolyline& line : file.lines)
    if (line.layer == layer && line.closed == closed) lines.push_back(&line);
  return lines;
}

// Largest distance from the points of some lines to the nearest of other lines' points and edges.
double furthest(const std::vector<Vec2>& points,
                const std::vector<std::pair<std::vector<Vec2>, bool>>& lines) {
  double worst = 0.0;
  for (const Vec2 p : points) {
    double nearest = 1e300;
    for (const auto& [line, closed] : lines) {
      const std::size_t n = line.size();
      for (std::size_t i = 0; i + (closed ? 0 : 1) < n; ++i)
        nearest = std::min(nearest, distance_to_segment(p, line[i], line[(i + 1) % n]));
    }
    worst = std::max(worst, nearest);
  }
  return worst;
}

using Contours = std::vector<std::pair<std::vector<Vec2>, bool>>;

Contours expected_contours(const Region& region, const std::vector<std::vector<Vec2>>& open) {
  Contours contours{{region.outer, true}};
  for (const Ring& hole : region.holes) contours.emplace_back(hole, true);
  for (const auto& line : open) contours.emplace_back(line, false);
  return contours;
}

// Both ways, and contour for contour: nothing missing, nothing more, nothing moved.
CheckResult compare(const std::string& name, const DxfFile& file, const std::string& layer,
                    const Contours& expected) {
  Contours found;
  for (const bool closed : {true, false})
    for (const DxfPolyline* line : lines_on(file, layer, closed)) found.emplace_back(line->points, closed);
  const auto closed_of = [](const Contours& all) {
    return std::count_if(all.begin(), all.end(), [](const auto& c) { return c.second; });
  };
  if (found.size() != expected.size() || closed_of(found) != closed_of(expected))
    return undone(name, fmt::format("{} has {} lines ({} closed) instead of {} ({})", layer, found.size(),
                                    closed_of(found), expected.size(), closed_of(expected)));
  double worst = 0.0;
  for (const auto& [points, closed] : found) worst = std::max(worst, furthest(points, expected));
  for (const auto& [points, closed] : expected) worst = std::max(worst, furthest(points, found));
  return within(name, worst, k_file_rounding, "mm", layer + " against the pattern");
}

// Rolls the points of one face onto the sheet of a piece.
std::vector<Vec3> rolled(const Fitting& fitting, const Pattern& pattern, const Piece& piece,
                         const std::vector<Vec2>& points, double lift, double depth) {
  const Development development = development_of(fitting, piece);
  const Sheet& sheet = fitting.walls[static_cast<std::size_t>(piece.wall)].sheet;
  const double girth = development.scale() * stretch_out(fitting, piece.wall);
  std::vector<Vec3> places;
  for (const Vec2 point : points) {
    Vec2 flat = pattern.placement.flat(point);
    flat.y -= lift;
    const double guess = piece.seam + k_two_pi * flat.x / girth;
    const Sheet::Place place = development.place(flat, guess);
    places.push_back(sheet.point(place.theta, place.v, depth));
  }
  return places;
}

// Every contour point of both faces lies on an edge of the piece's solid.
CheckResult re_roll(const Fitting& fitting, const Pattern& pattern, const DxfFile& file,
                    const std::vector<const Part*>& liners) {
  const std::string name = "re-roll " + pattern.id;
  double worst = 0.0;
  std::size_t points = 0;
  const auto roll = [&](std::size_t part, const std::vector<Vec2>& line, double depth) {
    const int index = pattern.pieces[part];
    const Piece& piece = fitting.pieces[static_cast<std::size_t>(index)];
    const double lift = pattern.lifts.empty() ? 0.0 : pattern.lifts[part];
    worst = std::max(worst, distance_to_edges(liners[static_cast<std::size_t>(index)]->solid,
                                              rolled(fitting, pattern, piece, line, lift, depth)));
    points += line.size();
  };
  for (const auto& [layer, depth] :
       {std::pair<std::string, double>{"DUCT_FACE", 0.0}, {"AIR_FACE", fitting.liner.thickness}}) {
    for (const DxfPolyline* line : lines_on(file, layer, true)) {
      if (!pattern.is_blank) {
        roll(0, line->points, depth);
        continue;
      }
      // the rectangle's lower corners belong to the first piece, its upper ones to the last
      std::vector<Vec2> low;
      std::vector<Vec2> high;
      for (const Vec2 p : line->points) (p.y < 0.5 * pattern.board.y ? low : high).push_back(p);
      roll(0, low, depth);
      roll(pattern.pieces.size() - 1, high, depth);
    }
    const Lines across = lines_on(file, layer, false);
    for (std::size_t k = 0; k < across.size() && k + 1 < pattern.pieces.size(); ++k)
      for (const std::size_t part : {k, k + 1}) roll(part, across[k]->points, depth);
  }
  if (points == 0) return undone(name, "no face contours in the file");
  return within(name, worst, 0.05 + k_chord_error, "mm",
                fmt::format("{} points of both faces to the solid's edges", points));
}

// A notched blank is folded, not rolled: its V's close when both sides are equal, and the mouths take up the
// difference.
CheckResult notches_close(const Fitting& fitting, const Pattern& pattern, const DxfFile& file) {
  const std::string name = "notches " + pattern.id;
  const Lines lines = lines_on(file, "DUCT_FACE", true);
  if (lines.size() != 1) return undone(name, "no single duct face contour in the file");
  const std::vector<Vec2>& p = lines.front()->points;
  const Piece& taper = fitting.pieces[static_cast<std::size_t>(pattern.pieces.back())];
  const Sheet& sheet = fitting.walls[static_cast<std::size_t>(taper.wall)].sheet;
  double mouths = 0.0;
  double uneven = 0.0;
  int notches = 0;
  for (std::size_t i = 0; i < p.size(); ++i) {
    const Vec2 before = p[(i + p.size() - 1) % p.size()] - p[i];
    const Vec2 after = p[(i + 1) % p.size()] - p[i];
    const double bend = (fitting.notched.empty() ? 0.0 : pattern.placement.board({0.0, 0.0}).y);
    if (std::fabs(p[i].y - bend) > 1e-3 || !(cross(before, after) > 0.0) ||
        std::fabs(before.x) > std::fabs(before.y) || std::fabs(after.x) > std::fabs(after.y))
      continue;
    ++notches;
    mouths += std::fabs(before.x - after.x);
    uneven = std::max(uneven, std::fabs(norm(before) - norm(after)));
  }
  const double closing = k_two_pi * std::fabs(sheet.r1() - sheet.r2());
  const double off = std::fabs(mouths - closing);
  return within(name, std::max(off, sheet.offset() == 0.0 ? uneven : 0.0), 0.05, "mm",
                fmt::format("{} mouths close {} mm", notches, trimmed(mouths, 3)));
}

}  // namespace

std::vector<CheckResult> prove_dxf(const Fitting& fitting, const Pattern& pattern,
                                   const std::filesystem::path& path, const DxfOptions& options,
                                   const std::vector<const Part*>& liners) {
  std::vector<CheckResult> results;
  std::ifstream in(path, std::ios::binary);
  if (!in) return {undone("dxf " + pattern.id, path.string() + " cannot be read")};
  DxfFile file;
  try {
    file = read_dxf(in, path.string());
  } catch (const InputError& error) {
    return {undone("dxf " + pattern.id, error.what())};
  }
  AuditExpectations promised;
  promised.units = options.units;
  promised.version = options.version;
  promised.open_cuts = pattern.is_blank;
  promised.single_layer = options.single_layer;
  promised.labels_inside = !options.single_layer && !options.cut_only;
  const std::vector<Finding> findings = audit_dxf(file, promised);
  results.push_back(
      within("audit " + pattern.id, static_cast<double>(findings.size()), 0.0, "findings",
             findings.empty() ? std::string() : one_line(findings.front(), path.filename().string())));
  results.push_back(compare("cut " + pattern.id, file, options.single_layer ? "0" : "CUT",
                            expected_contours(pattern.cut, pattern.open_cuts)));
  if (options.single_layer || options.cut_only) return results;
  results.push_back(compare("duct face " + pattern.id, file, "DUCT_FACE",
                            expected_contours(pattern.duct, pattern.duct_lines)));
  results.push_back(
      compare("air face " + pattern.id, file, "AIR_FACE", expected_contours(pattern.air, pattern.air_lines)));
  const bool notched = std::any_of(fitting.notched.begin(), fitting.notched.end(),
                                   [&](const NotchedBlank& blank) { return blank.id == pattern.id; });
  try {
    results.push_back(notched ? notches_close(fitting, pattern, file)
                              : re_roll(fitting, pattern, file, liners));
  } catch (const std::exception& error) {
    results.push_back(undone("re-roll " + pattern.id, error.what()));
  }
  return results;
}

}  // namespace linerwright
