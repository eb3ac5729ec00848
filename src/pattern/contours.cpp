#include "contours.hpp"

#include <cmath>

#include "moved_hole.hpp"
#include "place.hpp"

namespace linerwright {

namespace {

// Whether the corners of a rectangle's two faces lie beside each other along its sides: on a taper a cut that
// is not square to the board carries them on along their rulings.
bool leads_corners_on(const Sheet& wall, const Joint& joint) {
  const auto* opening = std::get_if<OpeningTarget>(&joint.target);
  return opening != nullptr && !opening->round && !wall.is_cylinder() && !wall.is_flat() &&
         (opening->bevel == OpeningBevel::radial || opening->bevel == OpeningBevel::straight);
}

std::vector<TiltRun> runs_of_hole(const FlatContour& contour, const Outliner& outliner, std::size_t hole,
                                  const LinerSpec& liner, bool side_by_side) {
  if (side_by_side) {
    std::vector<FacePair> points;
    std::vector<bool> corner;
    for (const ContourPoint& p : contour.points) {
      points.push_back(p.cut_edge);
      corner.push_back(std::fabs(std::remainder(p.parameter, 0.5 * k_pi)) < 1e-9);
    }
    return runs_of_sides(points, corner, liner.butt_allowance);
  }
  TiltRun run;
  run.closed = true;
  for (const ContourPoint& p : contour.points) {
    run.points.push_back(p.cut_edge);
    run.parameters.push_back(p.parameter);
  }
  run.at = [&outliner, hole](double s, Face face) { return outliner.hole_edge(hole, s, face); };
  const double butt = liner.butt_allowance;
  return {butt > 0.0 ? moved_into_hole(run.parameters, run.at, butt) : run};
}

}  // namespace

void add_panel_contour(Pattern& pattern, const FlatContour& contour, const std::vector<StraightSide>& sides,
                       const LinerSpec& liner, std::vector<FacePair>& cut_pairs) {
  for (const ContourPoint& p : contour.points) {
    pattern.duct.outer.push_back(p.true_edge.duct);
    pattern.air.outer.push_back(p.true_edge.air);
    cut_pairs.push_back(p.cut_edge);
  }
  for (const StraightSide& side : sides) {
    add_square_cut(pattern, {{side.from, true}, {side.to, true}}, false, liner.cut, liner);
    add_side_tilts(pattern, side, liner);
  }
}

void add_contour(Pattern& pattern, const FlatContour& contour, const std::vector<TiltRun>& runs, bool hole,
                 const LinerSpec& liner, std::vector<FacePair>& cut_pairs) {
  Ring duct;
  Ring air;
  std::vector<TiltPoint> points;
  for (const ContourPoint& p : contour.points) {
    duct.push_back(p.true_edge.duct);
    air.push_back(p.true_edge.air);
    cut_pairs.push_back(p.cut_edge);
    points.push_back({p.true_edge, leans(p.next)});
  }
  add_square_cut(pattern, points, true, liner.cut, liner);
  add_tilts(pattern, hole ? static_cast<int>(pattern.duct.holes.size()) + 1 : 0, runs, liner);
  if (hole) {
    pattern.duct.holes.push_back(duct);
    pattern.air.holes.push_back(air);
  } else {
    pattern.duct.outer = duct;
    pattern.air.outer = air;
  }
}

void add_holes(Pattern& pattern, const Fitting& fitting, const Piece& piece, const Outliner& outliner,
               std::vector<std::vector<FacePair>>& pairs) {
  const LinerSpec& liner = liner_of(fitting, piece);
  const Wall& wall = fitting.wall_of(piece);
  for (const std::size_t h : holes_of(fitting, piece)) {
    pairs.emplace_back();
    const FlatContour hole = outliner.hole(h);
    const Joint& joint = fitting.joint(wall.holes[h].joint);
    const bool side_by_side = leads_corners_on(wall.sheet, joint);
    add_contour(pattern, hole, runs_of_hole(hole, outliner, h, liner, side_by_side), true, liner,
                pairs.back());
    if (!(liner.butt_allowance > 0.0) || side_by_side) continue;
    std::vector<double> parameters;
    for (const ContourPoint& p : hole.points) parameters.push_back(p.parameter);
    pairs.back() = fine_edge(parameters, [&](double s, Face face) { return outliner.hole_edge(h, s, face); });
  }
}

}  // namespace linerwright
