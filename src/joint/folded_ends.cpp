#include "linerwright/joint/folded_ends.hpp"

#include <algorithm>
#include <cmath>

#include "linerwright/sheet/folds.hpp"

namespace linerwright {

bool is_round_end(const Sheet& sheet, const PlaneTarget& plane) {
  return sheet.frame().local_point(plane.point).z > 0.5 * sheet.height();
}

bool is_round_end(const Joint& joint) {
  const auto* plane = std::get_if<PlaneTarget>(&joint.target);
  return plane == nullptr || is_round_end(joint.lead, *plane);
}

bool on_square_collar(const Joint& joint) {
  return joint.folded() && !is_round_end(joint) && joint.lead.square_collar() > 0.0;
}

RoundEnd round_end_of(const Joint& joint) {
  return std::holds_alternative<CollarTarget>(joint.target) ? RoundEnd::collar : RoundEnd::open;
}

namespace {

// Outside, where a cone folds over itself at its lower end, its rulings are cut in pairs that meet there.
void add_faced(const Sheet& sheet, double w, std::vector<double>& corners) {
  std::vector<double> more;
  for (int quarter = 0; quarter < 4; ++quarter) {
    const CornerLow low = corner_low(sheet, quarter, w);
    std::vector<double> turns;
    for (const LowArc& arc : low.arcs)
      if (arc.to < 0.5 * k_pi) turns.push_back(arc.to);
    for (const double turn : turns) more.push_back(corner_theta(quarter, turn));
    for (const double theta : corners)
      if (const WallPart part = part_at(theta); part.quarter == quarter && !part.flat) {
        const double turn = corner_turn(quarter, theta);
        for (const auto other : {low.faced_by_first(turn), low.faced_by_second(turn)})
          if (other) more.push_back(corner_theta(quarter, *other));
      }
  }
  corners.insert(corners.end(), more.begin(), more.end());
}

}  // namespace

std::vector<double> folded_corners(const Joint& joint, double w) {
  std::vector<double> corners =
      is_round_end(joint) ? high_corners(joint.lead, w, round_end_of(joint)) : low_corners(joint.lead, w);
  corners.insert(corners.end(), joint.splits.begin(), joint.splits.end());
  for (const CollarSeam& seam : joint.collar_seams) {
    const double theta = split_at(joint.lead, seam, w);
    corners.push_back(theta - k_two_pi * std::floor(theta / k_two_pi));
  }
  if (round_end_of(joint) == RoundEnd::collar && w < 0.0) add_faced(joint.lead, w, corners);
  std::sort(corners.begin(), corners.end());
  constexpr double k_same = 1e-9;  // radians
  corners.erase(
      std::unique(corners.begin(), corners.end(), [](double a, double b) { return b - a < k_same; }),
      corners.end());
  return corners;
}

namespace {

// Whether the layer meets the collar between two corners. A flat that narrows toward it does so in its tip
// alone.
bool on_collar(const Joint& joint, const Arc& arc, double w) {
  const double middle = 0.5 * (arc.from + arc.to);
  if (part_at(middle).flat && !(w * joint.lead.ruling(middle).lean < 0.0)) return false;
  return !high_end(joint.lead, middle, w, RoundEnd::collar).meets;
}

}  // namespace

std::vector<Arc> folded_arcs(const Joint& joint, double w) {
  const std::vector<double> corners = folded_corners(joint, w);
  std::vector<Arc> arcs;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const Arc arc{corners[i], i + 1 < corners.size() ? corners[i + 1] : corners.front() + k_two_pi};
    if (round_end_of(joint) == RoundEnd::open || on_collar(joint, arc, w)) arcs.push_back(arc);
  }
  return arcs;
}

std::vector<double> folded_rulings(const Joint& joint, Side side, double w) {
  if (side == Side::lead) return folded_corners(joint, w);
  std::vector<double> rulings;
  for (const Arc& arc : folded_arcs(joint, w))
    for (const double s : {arc.from, arc.to}) {
      const double theta = place_on(joint, side, s, shell_depths(w)).theta;
      rulings.push_back(theta - k_two_pi * std::floor(theta / k_two_pi));
    }
  return rulings;
}

std::vector<Arc> carved_ranges(const Sheet& sheet, double w) {
  std::vector<Arc> ranges;
  for (int corner = 0; corner < 4; ++corner) {
    const auto flat_part = [&](LowPart on) {
      const Vec3 edge = sheet.ruling(0.5 * k_pi * (on == LowPart::first ? corner : corner + 1)).base_slope;
      constexpr double k_clear = 0.02;  // mm from the foot: there the edge of the air face turns
      const Vec3 foot = low_foot(sheet, corner, on, w);
      return (std::fabs(dot(foot, edge)) + k_clear * norm(edge)) / dot(edge, edge);
    };
    ranges.push_back({corner_theta(corner, 0.0) - flat_part(LowPart::first),
                      corner_theta(corner, 0.5 * k_pi) + flat_part(LowPart::second)});
  }
  return ranges;
}

bool in_ranges(const std::vector<Arc>& ranges, double theta) {
  return std::any_of(ranges.begin(), ranges.end(), [&](const Arc& range) {
    const double on = theta - range.from;
    return on - k_two_pi * std::floor(on / k_two_pi) < range.to - range.from;
  });
}

}  // namespace linerwright
