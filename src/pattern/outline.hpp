// The contours of one piece on its flat development, both faces in step.
#pragma once

#include <array>
#include <functional>
#include <vector>

#include "linerwright/pattern/pattern.hpp"
#include "sampling.hpp"
#include "tilt.hpp"

namespace linerwright {

// What kind of edge leads from a contour point to the next. Carved: the duct face goes on to its own outline,
// the air face ends in a mitre that no cut through the flat board makes; it is cut square, and carved by
// hand.
enum class EdgeKind { seam, open_end, joint, carved };
// Whether the knife leans there to follow both faces.
constexpr bool leans(EdgeKind kind) {
  return kind == EdgeKind::open_end || kind == EdgeKind::joint;
}

struct ContourPoint {
  FacePair true_edge;  // finished edges of both faces
  FacePair cut_edge;   // with the end or butt allowance added
  EdgeKind next;
  double parameter;  // ruling of an end, or of a hole's branch
};

// Counter-clockwise outline (clockwise for a hole) on the flat development, duct face seen from outside.
struct FlatContour {
  std::vector<ContourPoint> points;
  std::size_t low_points = 0;  // of an outline: those of its low end, which come first
};

class Outliner {
 public:
  // Where a place of the wall lies on the board, if not as the piece's own development has it.
  using Lay = std::function<Vec2(double theta, double v)>;
  Outliner(const Fitting& fitting, const Piece& piece, Lay lay_holes = {});

  FlatContour outline() const;
  // Of a square-to-round's low end: the air face's mitre at each corner that lies in the piece, from foot to
  // foot.
  std::vector<std::vector<Vec2>> carved_lines() const;
  // Of a rectangular collar's panel: its four sides from corner to corner, the first one the open end, square
  // to the board; none of other pieces. Ears are left to the hand.
  std::vector<StraightSide> panel_sides() const;
  FlatContour hole(std::size_t index) const;
  // Flat place of a ruling's low or high edge at liner depth w, pushed outward along the ruling by `extra`.
  Vec2 edge(End end, double theta, double w, double extra) const;
  // Rulings from the seam around at which an end's contour has its points, worked out once.
  const std::vector<double>& end_rulings(End end) const;
  // Allowance beyond the true edge at an end.
  double allowance(End end) const;
  EdgeKind end_kind(End end) const;
  // The same of the end's edge between two of its rulings.
  EdgeKind kind_between(End end, double theta, double next) const;
  Vec2 hole_place(std::size_t index, double s, double w) const;
  // A face's cut edge of an end at a ruling, and its edge of a hole at a ruling of the branch.
  Vec2 cut_edge(End end, double theta, Face face) const;
  Vec2 hole_edge(std::size_t index, double s, Face face) const;
  const Development& development() const { return development_; }

 private:
  std::vector<double> spend_rulings(End end) const;
  const Joint& joint_of(const JointUse& use) const;

  const Fitting& fitting_;
  const Piece& piece_;
  const LinerSpec& liner_;
  const Wall& wall_;
  Development development_;
  Lay lay_holes_;
  mutable std::array<std::vector<double>, 2> rulings_;  // empty until asked for
};

// Lateral distance, outward, of the air face's edge from the duct face's at a contour point, for a path that
// heads along `along`; zero on the seams.
double outward_shift(const FacePair& pair, Vec2 along);

// Where the knife goes between two edges that differ by the outward shift n, as a share of n from the duct
// face, and the gap and overlap that a cut square to the board leaves there.
struct SquareCut {
  double place;
  double gap;
  double overlap;
};
SquareCut square_cut(CutPolicy policy, Face face_up, double shift);

}  // namespace linerwright
