#include "blank.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "linerwright/pattern/blank_edges.hpp"
#include "linerwright/units/error.hpp"
#include "marks.hpp"
#include "place.hpp"
#include "tilt.hpp"

namespace linerwright {

namespace {

// A cut between two pieces cannot keep all material of both: it goes half way where `outer` is asked for.
CutPolicy shared_policy(CutPolicy policy) {
  return policy == CutPolicy::outer ? CutPolicy::mid : policy;
}

// The lower piece's high edge, from right to left as its outline runs.
TiltRun shared_edge(const Outliner& lower, double lift) {
  TiltRun edge;
  edge.at = [&lower, lift](double theta, Face face) {
    return lower.cut_edge(End::high, theta, face) + Vec2{0.0, lift};
  };
  edge.parameters = lower.end_rulings(End::high);
  std::reverse(edge.parameters.begin(), edge.parameters.end());
  for (const double theta : edge.parameters)
    edge.points.push_back({edge.at(theta, Face::duct), edge.at(theta, Face::air)});
  return edge;
}

std::vector<Vec2> between(const std::vector<FacePair>& edge, double share) {
  std::vector<Vec2> line;
  for (const FacePair& p : edge) line.push_back((1.0 - share) * p.duct + share * p.air);
  return line;
}

// The outline around all pieces: the first one's low end and the last one's high end, as in their own
// patterns, between two straight seams.
class Outline {
 public:
  Outline(const Outliner& first, const Outliner& last, double lift)
      : first_(first), last_(last), lift_(lift) {
    const FlatContour below = first.outline();
    const FlatContour above = last.outline();
    points_.assign(below.points.begin(), below.points.begin() + as_offset(below.low_points));
    low_points_ = below.low_points;
    for (std::size_t i = above.low_points; i < above.points.size(); ++i) {
      points_.push_back(above.points[i]);
      for (FacePair* pair : {&points_.back().true_edge, &points_.back().cut_edge})
        *pair = {pair->duct + Vec2{0.0, lift}, pair->air + Vec2{0.0, lift}};
    }
  }

  Ring face(double share) const {
    std::vector<FacePair> pairs;
    for (const ContourPoint& p : points_) pairs.push_back(p.true_edge);
    return between(pairs, share);
  }

  // Adds the cut, and where an end is no level one how it leans.
  void cut(Pattern& pattern, const LinerSpec& liner) const {
    std::vector<FacePair> pairs;
    std::vector<TiltPoint> square;
    for (const ContourPoint& p : points_) {
      pairs.push_back(p.cut_edge);
      square.push_back({p.true_edge, p.next == EdgeKind::joint});
    }
    if (level()) {
      pattern.cut.outer = between(pairs, 0.0);
      return;
    }
    pattern.cut = cut_region({pairs}, liner);
    add_square_cut(pattern, square, true, liner.cut, liner);
    add_tilts(pattern, 0, runs(pairs), liner);
  }

 private:
  static std::ptrdiff_t as_offset(std::size_t n) { return static_cast<std::ptrdiff_t>(n); }

  bool level() const {
    return first_.end_kind(End::low) == EdgeKind::open_end && last_.end_kind(End::high) == EdgeKind::open_end;
  }

  std::vector<TiltRun> runs(const std::vector<FacePair>& pairs) const {
    std::vector<double> parameters;
    for (const ContourPoint& p : points_) parameters.push_back(p.parameter);
    const Outliner& first = first_;
    const Outliner& last = last_;
    const Vec2 lift{0.0, lift_};
    return runs_around(
        pairs, parameters, low_points_,
        {[&first](double theta, Face face) { return first.cut_edge(End::low, theta, face); },
         [&last, lift](double theta, Face face) { return last.cut_edge(End::high, theta, face) + lift; }});
  }

  const Outliner& first_;
  const Outliner& last_;
  double lift_;
  std::vector<ContourPoint> points_;
  std::size_t low_points_;
};

// The pieces of a blank from its lower edge up.
struct Stack {
  const Fitting& fitting;
  const Blank& blank;
  const LinerSpec& liner;
  std::vector<Outliner> outliners;
  std::vector<double> lifts;  // of each piece

  const Piece& piece(std::size_t j) const { return fitting.piece(blank.pieces[j]); }
};

// How far the low edge of piece j lies below its lower neighbour's high edge, all the way across.
double lift_onto(const Stack& stack, std::size_t j) {
  const Piece& lower = stack.piece(j - 1);
  const Piece& upper = stack.piece(j);
  const double butt = stack.liner.butt_allowance;
  double least = 1e300;
  double most = -1e300;
  constexpr int k_steps = 48;
  for (int i = 0; i <= k_steps; ++i)
    for (const double w : stack.liner.faces()) {
      const double turn = k_two_pi * i / k_steps;
      const Vec2 below = stack.outliners[j - 1].edge(End::high, lower.seam + turn, w, butt);
      const Vec2 above = stack.outliners[j].edge(End::low, upper.seam + turn, w, butt);
      least = std::min(least, below.y - above.y);
      most = std::max(most, below.y - above.y);
    }
  if (!(most - least < 1e-6))
    throw GeometryError(fmt::format("pieces {} and {} do not share a cut", lower.id, upper.id));
  return 0.5 * (least + most);
}

Stack stacked(const Fitting& fitting, const Blank& blank, const std::vector<Outliner>& all) {
  Stack stack{fitting, blank, liner_of(fitting, fitting.piece(blank.pieces.front())), {}, {0.0}};
  for (const int index : blank.pieces) stack.outliners.push_back(all[static_cast<std::size_t>(index)]);
  for (std::size_t j = 1; j < stack.outliners.size(); ++j)
    stack.lifts.push_back(stack.lifts.back() + lift_onto(stack, j));
  return stack;
}

// The cuts that two pieces share, and how the blade leans in them. Returns their points.
std::vector<std::vector<FacePair>> add_shared_cuts(Pattern& pattern, const Stack& stack) {
  const LinerSpec& liner = stack.liner;
  std::vector<std::vector<FacePair>> shared;
  for (std::size_t j = 0; j + 1 < stack.outliners.size(); ++j) {
    const TiltRun edge = shared_edge(stack.outliners[j], stack.lifts[j]);
    shared.push_back(edge.points);
    std::vector<TiltPoint> points;
    for (const FacePair& pair : edge.points) points.push_back({pair, true});
    add_square_cut(pattern, points, false, shared_policy(liner.cut), liner);
    add_tilts(pattern, static_cast<int>(j) + 1, {edge}, liner);
  }
  return shared;
}

void add_marks_of_pieces(Pattern& pattern, const Stack& stack) {
  for (std::size_t j = 0; j < stack.outliners.size(); ++j) {
    Pattern alone;
    alone.stretch_out = pattern.stretch_out;
    for (const ContourPoint& p : stack.outliners[j].outline().points)
      alone.duct.outer.push_back(p.true_edge.duct);
    add_marks(alone, stack.fitting, stack.outliners[j], stack.piece(j), shared_policy(stack.liner.cut));
    for (std::size_t i = 0; i < alone.marks.size(); ++i) {
      for (Vec2& p : alone.marks[i]) p.y += stack.lifts[j];
      pattern.marks.push_back(alone.marks[i]);
      pattern.mark_names.push_back(alone.mark_names[i]);
    }
  }
}

// Each piece's own part of the board, between its two cuts.
std::vector<Region> parts_of(const Pattern& pattern, std::size_t pieces) {
  const std::array<std::vector<Vec2>, 2> edges = blank_edges(pattern.cut.outer);
  std::vector<Region> parts;
  for (std::size_t j = 0; j < pieces; ++j) {
    Ring part;
    const auto add = [&](const std::vector<Vec2>& line) {
      part.insert(part.end(), line.begin(), line.end());
    };
    // counter-clockwise: below from left to right, above from right to left, as the cuts run
    if (j > 0)
      add({pattern.open_cuts[j - 1].rbegin(), pattern.open_cuts[j - 1].rend()});
    else
      add(edges[0]);
    if (j + 1 < pieces)
      add(pattern.open_cuts[j]);
    else
      add({edges[1].rbegin(), edges[1].rend()});
    parts.push_back({part, {}});
  }
  return parts;
}

}  // namespace

Pattern blank_pattern(const Fitting& fitting, const Blank& blank, const std::vector<Outliner>& all) {
  const Stack stack = stacked(fitting, blank, all);
  const LinerSpec& liner = stack.liner;
  const Piece& first = stack.piece(0);
  Pattern pattern;
  pattern.id = blank.id;
  pattern.pieces = blank.pieces;
  pattern.layer = fitting.wall_of(first).layer;
  pattern.is_blank = true;
  pattern.stretch_out = stretch_out(fitting, first.wall) - liner.fit_allowance;
  pattern.lifts = stack.lifts;
  const std::vector<std::vector<FacePair>> shared = add_shared_cuts(pattern, stack);
  const Outline outline(stack.outliners.front(), stack.outliners.back(), stack.lifts.back());
  outline.cut(pattern, liner);
  pattern.duct.outer = outline.face(0.0);
  pattern.air.outer = outline.face(1.0);
  const double share = square_cut(shared_policy(liner.cut), liner.face_up, 1.0).place;
  for (const std::vector<FacePair>& edge : shared) {
    pattern.duct_lines.push_back(between(edge, 0.0));
    pattern.air_lines.push_back(between(edge, 1.0));
    pattern.open_cuts.push_back(between(edge, share));
  }
  add_marks_of_pieces(pattern, stack);
  lay_down(pattern, liner.face_up, 0.0);
  add_labels(pattern, fitting, blank.pieces, parts_of(pattern, stack.outliners.size()));
  return pattern;
}

}  // namespace linerwright
