#include "outline.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "linerwright/joint/folded_ends.hpp"
#include "linerwright/sheet/folds.hpp"
#include "linerwright/sheet/panels.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

Outliner::Outliner(const Fitting& fitting, const Piece& piece, Lay lay_holes)
    : fitting_(fitting),
      piece_(piece),
      liner_(liner_of(fitting, piece)),
      wall_(fitting.wall_of(piece)),
      development_(development_of(fitting, piece)),
      lay_holes_(std::move(lay_holes)) {}

const Joint& Outliner::joint_of(const JointUse& use) const {
  return fitting_.joint(use.joint);
}

EdgeKind Outliner::end_kind(End end) const {
  return joint_of(wall_.use(end)).open() ? EdgeKind::open_end : EdgeKind::joint;
}

EdgeKind Outliner::kind_between(End end, double theta, double next) const {
  const double middle = 0.5 * (theta + next);
  if (end == End::high || !wall_.sheet.is_square_to_round()) return end_kind(end);
  return in_ranges(carved_ranges(wall_.sheet, liner_.inner_depth()), middle) ? EdgeKind::carved
                                                                             : end_kind(end);
}

std::vector<std::vector<Vec2>> Outliner::carved_lines() const {
  std::vector<std::vector<Vec2>> lines;
  if (!wall_.sheet.is_square_to_round()) return lines;
  const std::vector<double>& low = end_rulings(End::low);
  bool before = false;
  for (std::size_t i = 0; i + 1 < low.size(); ++i) {
    // and the arc between two mitres, about the corner that the duct face has there
    const double middle = 0.5 * (low[i] + low[i + 1]);
    const bool carved = !part_at(middle).flat || low_end(wall_.sheet, middle, liner_.inner_depth()).meets;
    if (carved && !before) lines.push_back({edge(End::low, low[i], liner_.inner_depth(), 0.0)});
    if (carved) lines.back().push_back(edge(End::low, low[i + 1], liner_.inner_depth(), 0.0));
    before = carved;
  }
  return lines;
}

double Outliner::allowance(End end) const {
  // its flats lie on the metal, and so do its collar's panels, which lie between each other
  if (wall_.sheet.is_square_to_round() || joint_of(wall_.low).of_panel()) return 0.0;
  return end_kind(end) == EdgeKind::open_end ? liner_.end_allowance : liner_.butt_allowance;
}

Vec2 Outliner::edge(End end, double theta, double w, double extra) const {
  const double v = liner_end(fitting_, piece_.wall, end, theta, w);
  return development_.point(theta, v + outward(end) * extra);
}

namespace {

double depth_of(const LinerSpec& liner, Face face) {
  return face == Face::air ? liner.inner_depth() : liner.outer_depth;
}

// Where the knife goes that cuts half way between both faces: off its chords by more than either face may be,
// for their points run on at different rates.
std::function<FacePair(double)> half_way(std::function<FacePair(double)> faces) {
  return [faces = std::move(faces)](double s) {
    const FacePair pair = faces(s);
    const Vec2 middle = 0.5 * (pair.duct + pair.air);
    return FacePair{middle, middle};
  };
}

}  // namespace

const std::vector<double>& Outliner::end_rulings(End end) const {
  std::vector<double>& rulings = rulings_[end == End::high ? 1 : 0];
  if (rulings.empty()) rulings = spend_rulings(end);
  return rulings;
}

std::vector<double> Outliner::spend_rulings(End end) const {
  std::vector<double> corners;
  std::vector<double> found = corners_at(fitting_, piece_.wall, end, liner_.outer_depth);
  // a layer that is trimmed has corners of its own on each face, and so has a collar that meets it
  if (joint_of(wall_.use(end)).folded() || joint_of(wall_.use(end)).of_panel())
    for (const double theta : corners_at(fitting_, piece_.wall, end, liner_.inner_depth()))
      found.push_back(theta);
  if (wall_.sheet.is_square_to_round() && end == End::low)
    for (const Arc& range : carved_ranges(wall_.sheet, liner_.inner_depth()))
      found.insert(found.end(), {range.from, range.to});
  for (const double theta : found) {
    // the same corner as counted from the seam
    double turn = std::fmod(theta - piece_.seam, k_two_pi);
    if (turn < 0.0) turn += k_two_pi;
    corners.push_back(piece_.seam + turn);
  }
  // the same corner of both faces
  constexpr double k_same = 1e-9;
  std::sort(corners.begin(), corners.end());
  corners.erase(
      std::unique(corners.begin(), corners.end(), [](double a, double b) { return b - a < k_same; }),
      corners.end());
  // a level edge of a cylinder is one straight line
  const Sheet& sheet = wall_.sheet;
  if (end_kind(end) == EdgeKind::open_end && sheet.is_cylinder())
    return {piece_.seam, piece_.seam + piece_.span};
  const auto faces = [&](double extra) -> std::function<FacePair(double)> {
    return [this, end, extra](double theta) {
      return FacePair{edge(end, theta, liner_.outer_depth, extra),
                      edge(end, theta, liner_.inner_depth(), extra)};
    };
  };
  // rulings of a taper fan out: the cut with its allowance bends where the faces' edge may be straight
  const double extra = allowance(end);
  const bool fans_out = extra > 0.0 && !sheet.is_cylinder();
  return spend_points(faces(0.0), piece_.seam, piece_.seam + piece_.span, corners,
                      liner_.cut == CutPolicy::mid ? half_way(faces(extra))
                      : fans_out                   ? faces(extra)
                                                   : nullptr);
}

FlatContour Outliner::outline() const {
  FlatContour contour;
  const auto add = [&](End end, double theta, EdgeKind next) {
    const auto faces = [&](double extra) {
      return FacePair{edge(end, theta, liner_.outer_depth, extra),
                      edge(end, theta, liner_.inner_depth(), extra)};
    };
    contour.points.push_back({faces(0.0), faces(allowance(end)), next, theta});
  };
  const std::vector<double>& low = end_rulings(End::low);
  if (wall_.sheet.is_flat()) {  // its rim is all its outline, once around
    for (std::size_t i = 0; i + 1 < low.size(); ++i) add(End::low, low[i], EdgeKind::joint);
    contour.low_points = contour.points.size();
    return contour;
  }
  for (std::size_t i = 0; i < low.size(); ++i)
    add(End::low, low[i], i + 1 < low.size() ? kind_between(End::low, low[i], low[i + 1]) : EdgeKind::seam);
  contour.low_points = contour.points.size();
  std::vector<double> high = end_rulings(End::high);
  std::reverse(high.begin(), high.end());
  for (std::size_t i = 0; i < high.size(); ++i)
    add(End::high, high[i],
        i + 1 < high.size() ? kind_between(End::high, high[i], high[i + 1]) : EdgeKind::seam);
  return contour;
}

std::vector<StraightSide> Outliner::panel_sides() const {
  const auto* panel = std::get_if<PanelTarget>(&joint_of(wall_.low).target);
  if (panel == nullptr) return {};
  const auto laid = [&](Vec2 at) {
    const double theta = std::atan2(at.y, at.x);
    return development_.point(theta < 0.0 ? theta + k_two_pi : theta, wall_.sheet.r1() - norm(at));
  };
  const double depth = liner_.inner_depth();
  const std::vector<Vec2> duct = panel_face(panel->hull, panel->side, liner_.outer_depth);
  std::vector<Vec2> air = panel_face(panel->hull, panel->side, depth);
  // where an ear begins the blade goes straight on
  const PanelCorner after = panel_corner(panel->hull, panel->side);
  const PanelCorner before = panel_corner(panel->hull, panel->side + 3);
  const double top = duct[2].y + depth * panel_top(panel->hull, panel->side);
  if (after.ear == LowPart::second) air.erase(air.begin() + 3);
  if (before.ear == LowPart::first) air.erase(air.end() - 2);
  air[2].y = air[3].y = top;
  const std::array<double, 4> ears{0.0, 0.0, panel_ear(panel->hull, panel->side, true, depth),
                                   panel_ear(panel->hull, panel->side, false, depth)};
  std::vector<StraightSide> sides;
  for (std::size_t i = 0; i < 4; ++i) {
    const std::size_t next = (i + 1) % 4;
    sides.push_back(
        {{laid(duct[i]), laid(air[i])}, {laid(duct[next]), laid(air[next])}, ears[i], ears[next]});
  }
  return sides;
}

Vec2 Outliner::hole_place(std::size_t index, double s, double w) const {
  const JointUse& use = wall_.holes.at(index);
  const Joint& joint = joint_of(use);
  const DepthPair depths = liner_depths(joint.style, use.side, w, liner_.bore_depth());
  const Sheet::Place place = place_on(joint, use.side, s, depths);
  // counted from the seam, which clears every hole
  double turn = std::fmod(place.theta - piece_.seam, k_two_pi);
  if (turn < 0.0) turn += k_two_pi;
  const double theta = piece_.seam + turn;
  return lay_holes_ ? lay_holes_(theta, place.v) : development_.point(theta, place.v);
}

Vec2 Outliner::hole_edge(std::size_t index, double s, Face face) const {
  return hole_place(index, s, depth_of(liner_, face));
}

Vec2 Outliner::cut_edge(End end, double theta, Face face) const {
  return edge(end, theta, depth_of(liner_, face), allowance(end));
}

FlatContour Outliner::hole(std::size_t index) const {
  const Joint& joint = joint_of(wall_.holes.at(index));
  const auto at = [&](double s) {
    return FacePair{hole_edge(index, s, Face::duct), hole_edge(index, s, Face::air)};
  };
  std::vector<double> parameters;
  for (const Arc& arc : arcs_of(joint)) {
    const std::vector<double> run =
        spend_points(at, arc.from, arc.to, {}, liner_.cut == CutPolicy::mid ? half_way(at) : nullptr);
    parameters.insert(parameters.end(), run.begin(), run.end() - 1);
  }
  FlatContour contour;
  for (const double s : parameters) contour.points.push_back({at(s), at(s), EdgeKind::joint, s});
  Ring duct;
  for (const ContourPoint& p : contour.points) duct.push_back(p.true_edge.duct);
  if (signed_area(duct) > 0.0) std::reverse(contour.points.begin(), contour.points.end());
  return contour;
}

double outward_shift(const FacePair& pair, Vec2 along) {
  const double length = norm(along);
  if (!(length > 0.0)) return 0.0;
  return dot(pair.air - pair.duct, (1.0 / length) * Vec2{along.y, -along.x});
}

SquareCut square_cut(CutPolicy policy, Face face_up, double shift) {
  const double out = std::max(shift, 0.0);
  const double in = std::max(-shift, 0.0);
  switch (policy) {
    case CutPolicy::outer:
      return {shift > 0.0 ? 1.0 : 0.0, 0.0, out + in};
    case CutPolicy::mid:
      return {0.5, 0.5 * (out + in), 0.5 * (out + in)};
    case CutPolicy::duct:
      return {0.0, out, in};
    case CutPolicy::air:
      return {1.0, in, out};
    case CutPolicy::tilt:
      break;
  }
  return square_cut(face_up == Face::air ? CutPolicy::air : CutPolicy::duct, face_up, shift);
}

}  // namespace linerwright
