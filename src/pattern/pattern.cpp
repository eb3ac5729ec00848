#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "blank.hpp"
#include "contours.hpp"
#include "linerwright/pattern/pattern.hpp"
#include "linerwright/units/error.hpp"
#include "marks.hpp"
#include "outline.hpp"
#include "place.hpp"
#include "tilt.hpp"

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

// The outline's two ends with the seams between them, of a disc its rim.
std::vector<TiltRun> runs_of(const FlatContour& contour, const Outliner& outliner, bool flat) {
  std::vector<FacePair> points;
  std::vector<double> parameters;
  for (const ContourPoint& p : contour.points) {
    points.push_back(p.cut_edge);
    parameters.push_back(p.parameter);
  }
  const auto edge = [&outliner](End end) {
    return [&outliner, end](double theta, Face face) { return outliner.cut_edge(end, theta, face); };
  };
  if (!flat) return runs_around(points, parameters, contour.low_points, {edge(End::low), edge(End::high)});
  TiltRun rim;
  rim.points = std::move(points);
  rim.parameters = std::move(parameters);
  rim.closed = true;
  rim.at = edge(End::low);
  return {rim};
}

Pattern piece_pattern(const Fitting& fitting, int index, const Outliner& outliner) {
  const Piece& piece = fitting.piece(index);
  const LinerSpec& liner = liner_of(fitting, piece);
  const Wall& wall = fitting.wall_of(piece);
  const bool is_flat = wall.sheet.is_flat();
  Pattern pattern;
  pattern.id = piece.id;
  pattern.layer = wall.layer;
  pattern.pieces = {index};
  pattern.stretch_out =
      fit_scale(fitting, piece.wall) * stretch_out(fitting, piece.wall, piece.seam, piece.span);

  std::vector<std::vector<FacePair>> pairs;
  pairs.emplace_back();
  const FlatContour outline = outliner.outline();
  const std::vector<StraightSide> sides = outliner.panel_sides();
  // a square-to-round is cut square and carved by hand: no blade through the flat board reaches its mitres
  const std::vector<TiltRun> runs = wall.sheet.is_square_to_round() || !sides.empty()
                                        ? std::vector<TiltRun>{}
                                        : runs_of(outline, outliner, is_flat);
  if (sides.empty())
    add_contour(pattern, outline, runs, false, liner, pairs.back());
  else
    add_panel_contour(pattern, outline, sides, liner, pairs.back());
  add_holes(pattern, fitting, piece, outliner, pairs);
  pattern.cut = cut_region(pairs, liner);
  if (sides.empty()) add_ordinates(pattern, fitting, outliner, piece);  // a panel's corners say all of it
  add_marks(pattern, fitting, outliner, piece, liner.cut);
  lay_down(pattern, liner.face_up, outliner.development().lean(piece.seam + 0.5 * piece.span));
  add_labels(pattern, fitting, {index}, {pattern.cut});
  return pattern;
}

}  // namespace

const LinerSpec& liner_of(const Fitting& fitting, const Pattern& pattern) {
  if (pattern.pieces.empty()) return fitting.liner;  // a template, which is of no piece
  return liner_of(fitting, fitting.piece(pattern.pieces.front()));
}

std::vector<Pattern> make_patterns(const Fitting& fitting) {
  std::vector<Pattern> patterns;
  std::vector<Outliner> outliners;
  for (const Piece& piece : fitting.pieces) outliners.emplace_back(fitting, piece);
  const auto is_notched = [&](int piece) {
    return std::any_of(fitting.notched.begin(), fitting.notched.end(), [&](const NotchedBlank& blank) {
      return blank.taper == piece || blank.collar == piece;
    });
  };
  for (int i = 0; i < static_cast<int>(fitting.pieces.size()); ++i)
    if (!is_notched(i)) patterns.push_back(piece_pattern(fitting, i, outliners[static_cast<std::size_t>(i)]));
  for (const Blank& blank : fitting.blanks) patterns.push_back(blank_pattern(fitting, blank, outliners));
  for (const NotchedBlank& blank : fitting.notched) patterns.push_back(notched_pattern(fitting, blank));
  return patterns;
}

std::vector<std::size_t> patterns_to_cut(const std::vector<Pattern>& patterns, bool singly) {
  const auto held = [&](const Pattern& pattern) {
    return std::any_of(patterns.begin(), patterns.end(), [&](const Pattern& other) {
      return other.is_blank != pattern.is_blank &&
             std::find_first_of(other.pieces.begin(), other.pieces.end(), pattern.pieces.begin(),
                                pattern.pieces.end()) != other.pieces.end();
    });
  };
  std::vector<std::size_t> chosen;
  for (std::size_t i = 0; i < patterns.size(); ++i)
    if (patterns[i].is_blank != singly || !held(patterns[i])) chosen.push_back(i);
  return chosen;
}

}  // namespace linerwright
