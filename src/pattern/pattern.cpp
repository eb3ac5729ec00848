#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "blank.hpp"
#include "linerwright/error.hpp"
#include "linerwright/pattern.hpp"
#include "marks.hpp"
#include "outline.hpp"
#include "place.hpp"

namespace linerwright {

Vec2 Placement::board(Vec2 flat) const {
  if (mirrored) flat.x = -flat.x;
  const double c = std::cos(turn);
  const double s = std::sin(turn);
  return Vec2{c * flat.x - s * flat.y, s * flat.x + c * flat.y} + shift;
}

Vec2 Placement::flat(Vec2 board) const {
  const Vec2 p = board - shift;
  const double c = std::cos(turn);
  const double s = std::sin(turn);
  const Vec2 back{c * p.x + s * p.y, -s * p.x + c * p.y};
  return {mirrored ? -back.x : back.x, back.y};
}

namespace {

void add_contour(Pattern& pattern, const FlatContour& contour, bool hole, const LinerSpec& liner,
                 std::vector<FacePair>& cut_pairs) {
  Ring duct;
  Ring air;
  const std::size_t n = contour.points.size();
  std::vector<double> shifts(n, 0.0);
  for (std::size_t i = 0; i < n; ++i) {
    const ContourPoint& p = contour.points[i];
    duct.push_back(p.true_edge.duct);
    air.push_back(p.true_edge.air);
    cut_pairs.push_back(p.cut_edge);
    // along the joint on either side of the point; beside a seam only its own edge counts
    const bool before = contour.points[(i + n - 1) % n].next == EdgeKind::joint;
    const bool after = p.next == EdgeKind::joint;
    if (!before && !after) continue;
    const Vec2 from = contour.points[before ? (i + n - 1) % n : i].true_edge.duct;
    const Vec2 to = contour.points[after ? (i + 1) % n : i].true_edge.duct;
    shifts[i] = outward_shift(p.true_edge, to - from);
  }
  for (std::size_t i = 0; i < n; ++i) {
    const SquareCut cut = square_cut(liner.cut, liner.face_up, shifts[i]);
    pattern.gap_square = std::max(pattern.gap_square, cut.gap);
    pattern.overlap_square = std::max(pattern.overlap_square, cut.overlap);
    const double tilt = std::atan2(shifts[i], liner.thickness);
    pattern.max_tilt = std::max(pattern.max_tilt, std::fabs(tilt));
    const FacePair& edge = contour.points[i].cut_edge;
    const FacePair& next = contour.points[(i + 1) % n].cut_edge;
    const bool air_up = liner.face_up == Face::air;
    const Vec2 ahead = air_up ? next.air - edge.air : next.duct - edge.duct;
    pattern.tilts.push_back({hole ? static_cast<int>(pattern.duct.holes.size()) + 1 : 0,
                             air_up ? edge.air : edge.duct, std::atan2(ahead.y, ahead.x), tilt});
  }
  if (hole) {
    pattern.duct.holes.push_back(duct);
    pattern.air.holes.push_back(air);
  } else {
    pattern.duct.outer = duct;
    pattern.air.outer = air;
  }
}

Pattern piece_pattern(const Fitting& fitting, int index) {
  const Piece& piece = fitting.pieces[static_cast<std::size_t>(index)];
  const LinerSpec& liner = fitting.liner;
  const Wall& wall = fitting.walls[static_cast<std::size_t>(piece.wall)];
  const Outliner outliner(fitting, piece);
  Pattern pattern;
  pattern.id = piece.id;
  pattern.pieces = {index};
  pattern.stretch_out = (stretch_out(fitting, piece.wall) - liner.fit_allowance) * piece.span / k_two_pi;

  std::vector<std::vector<FacePair>> pairs;
  pairs.emplace_back();
  add_contour(pattern, outliner.outline(), false, liner, pairs.back());
  for (std::size_t h = 0; h < wall.holes.size(); ++h) {
    pairs.emplace_back();
    add_contour(pattern, outliner.hole(h), true, liner, pairs.back());
  }
  pattern.cut = cut_region(pairs, liner);
  add_ordinates(pattern, fitting, outliner, piece);
  add_marks(pattern, fitting, outliner, piece);
  lay_down(pattern, liner.face_up, outliner.development().lean(piece.seam + 0.5 * piece.span));
  add_labels(pattern, fitting, {index}, {pattern.cut});
  return pattern;
}

}  // namespace

std::vector<Pattern> make_patterns(const Fitting& fitting) {
  std::vector<Pattern> patterns;
  const auto is_notched = [&](int piece) {
    return std::any_of(fitting.notched.begin(), fitting.notched.end(), [&](const NotchedBlank& blank) {
      return blank.taper == piece || blank.collar == piece;
    });
  };
  for (int i = 0; i < static_cast<int>(fitting.pieces.size()); ++i)
    if (!is_notched(i)) patterns.push_back(piece_pattern(fitting, i));
  for (const Blank& blank : fitting.blanks) patterns.push_back(blank_pattern(fitting, blank));
  for (const NotchedBlank& blank : fitting.notched) patterns.push_back(notched_pattern(fitting, blank));
  return patterns;
}

}  // namespace linerwright
