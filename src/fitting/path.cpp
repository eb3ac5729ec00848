// Paths: straights, gored bends and tapers in a row, in one fitting: rolling offsets, double elbows,
// goosenecks.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "bend.hpp"
#include "gores.hpp"
#include "hold_back.hpp"
#include "linerwright/units/error.hpp"
#include "path_walls.hpp"
#include "row_clear.hpp"
#include "row_order.hpp"

namespace linerwright {

namespace {

void require_parts(const Fitting& fitting, const std::vector<PathPart>& parts, Reasons& reasons) {
  double diameter = fitting.request.values.quantity("diameter");
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const PathPart& part = parts[i];
    const auto add = [&](const std::string& allowed, const std::string& why) {
      reasons.add("parts", allowed, fmt::format("part {}: {}", i + 1, why));
    };
    if (part.form == PathPart::Form::taper) {
      if (std::fabs(part.to_diameter - diameter) < 1e-7 * diameter)
        add("another diameter, or a straight", "the taper ends as wide as it begins");
      const double lean = std::hypot(1.0, 0.5 * (part.to_diameter - diameter) / part.length);
      const double small = std::min(diameter, part.to_diameter);
      diameter = part.to_diameter;
      require_bore(reasons, fitting, diameter, "parts");
      if (reasons.none() && 0.5 * small - fitting.liner.bore_depth() * lean < 0.5 * k_smallest_bore)
        add("a longer taper", "the liner closes its small end");
    }
    if (part.form != PathPart::Form::bend) continue;
    if (part.mitre() > k_steepest_mitre)
      add("more pieces", fmt::format("{} pieces would be mitred at {} degrees; the steepest mitre is 60",
                                     part.pieces, trimmed(part.mitre() * 180.0 / k_pi, 2)));
  }
}

std::string seam_words(double seam, double throat, int bends) {
  if (bends == 0) return std::fabs(std::remainder(seam, k_two_pi)) < 1e-9 ? "ruling 0" : "opposite ruling 0";
  if (std::fabs(std::remainder(seam - throat, k_two_pi)) < 1e-9) return "throat of the first bend";
  return "heel of the first bend";
}

// Seams alternate, so that cuts are shared at any turn of the bends.
void add_pieces(Fitting& fitting, const Path& path, double throat) {
  const bool at_throat = chosen(fitting.request.values, "seam", k_seam_choices) == FirstSeam::throat;
  const std::size_t n = path.walls.size();
  for (std::size_t i = 0; i < n; ++i) {
    const PathWall& wall = path.walls[i];
    const double seam = std::remainder(throat + ((i % 2 == 0) == at_throat ? 0.0 : k_pi), k_two_pi);
    const bool end = i == 0 || i + 1 == n;
    Piece piece{std::to_string(i + 1),
                wall.taper ? "taper"
                : end      ? "end piece"
                           : "middle piece",
                static_cast<int>(i),
                seam,
                k_two_pi,
                seam_words(seam, throat, path.bends),
                {},
                {}};
    for (const BendMark& mark : wall.bends) {
      piece.marks.push_back({mark.throat, fmt::format("throat {}", mark.bend)});
      piece.marks.push_back({mark.throat + k_pi, fmt::format("heel {}", mark.bend)});
    }
    if (i > 0) piece.next.push_back(std::to_string(i));
    if (i + 1 < n) piece.next.push_back(std::to_string(i + 2));
    fitting.pieces.push_back(std::move(piece));
  }
  std::vector<RowRadii> radii;
  for (const PathWall& wall : path.walls)
    radii.push_back({wall.radius, wall.taper ? wall.to_radius : wall.radius});
  fitting.insertion = row_order(radii);
  add_blanks(fitting, 0);
}

void add_facts(Fitting& fitting, const Path& path) {
  const auto add = [&](const char* key, const char* label, Quantity quantity, double value) {
    fitting.facts.push_back({key, label, quantity, value});
  };
  add("gored_centreline", "length of the pieces' centreline", Quantity::length, path.centreline);
  add("end_toward_zero", "far end from the first, toward the first bend's plane at turn 0", Quantity::length,
      path.end.origin.x);
  add("end_aside", "far end from the first, square to that", Quantity::length, path.end.origin.y);
  add("end_along", "far end from the first, along the first end's axis", Quantity::length, path.end.origin.z);
  add("whole_turn", "whole change of direction", Quantity::angle,
      std::atan2(std::hypot(path.end.z.x, path.end.z.y), path.end.z.z));
}

void require_clear(Reasons& reasons, const Fitting& fitting) {
  if (const auto pair = walls_that_meet(fitting, fitting.liner.gauge))
    reasons.add("parts", "a path that keeps clear of itself",
                fmt::format("pieces {} and {} would run into each other", pair->first + 1, pair->second + 1));
}

}  // namespace

KindSchema path_schema() {
  KindSchema schema;
  schema.kind = "path";
  schema.summary =
      "straights, gored bends and tapers in a row, in one fitting: double elbows, rolling offsets";
  KeySpec parts;
  parts.name = "parts";
  parts.type = ValueType::text;
  parts.help =
      "in order, a comma between them: straight LENGTH; bend ANGLE, turn ANGLE of its plane from the bend "
      "before, "
      "pieces N, radius LENGTH; taper to DIAMETER over LENGTH; each length with its unit; or tables "
      "[[fitting.part]] in a job file";
  parts.sample =
      "straight 12in, bend 45, straight 18in, bend 45 turn 180, taper to 18in over 20in, straight 6in";
  KeySpec ratio = with_default(
      length_key("radius_ratio", "of bends that state no radius: centreline radius over the diameter", {},
                 0.5, 20.0),
      "1.5");
  ratio.quantity = Quantity::number;
  schema.keys = {
      length_key("diameter", "inside diameter of the metal at the first end", "24in", 25.0, 5000.0),
      parts,
      with_default(integer_key("pieces", "of bends that state none, both end pieces counted", {}, 2, 12),
                   "3"),
      ratio,
      optional_key(
          length_key("centreline_radius", "centreline radius, instead of radius_ratio", {}, 12.0, 50000.0)),
      seam_key()};
  for (KeySpec& key : hold_back_keys({"start", "end"})) schema.keys.push_back(std::move(key));
  return schema;
}

Fitting make_path(const FittingRequest& request) {
  Fitting fitting = begin_fitting(request);
  Reasons reasons(request);
  const double diameter = request.values.quantity("diameter");
  require_bore(reasons, fitting, diameter, "diameter");
  const std::vector<PathPart> parts = read_parts(request, reasons);
  reasons.throw_if_any();
  require_parts(fitting, parts, reasons);
  reasons.throw_if_any();
  const Path path = laid(parts, diameter);
  add_wall(fitting, sheet_of(path.walls.front()));
  add_open_end(fitting, 0, End::low, 0.0);
  go_on(fitting, path, 0, 0.0);
  const auto first = std::find_if(parts.begin(), parts.end(),
                                  [](const PathPart& part) { return part.form == PathPart::Form::bend; });
  add_pieces(fitting, path, first == parts.end() ? 0.0 : first->turn);
  require_lengths(reasons, fitting, "parts");
  reasons.throw_if_any();
  require_clear(reasons, fitting);
  require_allowances(reasons, fitting);
  hold_back(fitting, reasons);
  reasons.throw_if_any();
  fitting.passages.push_back(way_along(fitting, path, {"through", 0, 0.0, false, "one end", "other end"}));
  add_facts(fitting, path);
  note_fasteners(fitting, diameter);
  return fitting;
}

}  // namespace linerwright
