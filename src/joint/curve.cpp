#include <algorithm>
#include <cmath>

#include "linerwright/joint/folded_ends.hpp"
#include "linerwright/joint/joint.hpp"
#include "linerwright/sheet/panels.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

// The angle of `theta` nearest to `reference`.
double near_angle(double theta, double reference) {
  return theta + k_two_pi * std::round((reference - theta) / k_two_pi);
}

// A ring and the disc that closes it stand on one axis.
bool one_axis(const Joint& joint) {
  return std::holds_alternative<FlatTarget>(joint.target);
}

// The two rings of one wall share their rulings.
bool one_wall(const Joint& joint) {
  return joint.of_rings || std::holds_alternative<SquareTarget>(joint.target);
}

// A square-to-round's ruling on the collar's own.
std::optional<CollarMeeting> on_folded(const Joint& joint, Side side, double theta, DepthPair depths) {
  if (side == Side::lead || !joint.folded()) return std::nullopt;
  return collar_meeting(joint.lead, theta, depths.lead);
}

// The plane that both walls meet at these depths, where they do.
std::optional<PlaneTarget> plane_at(const Joint& joint, DepthPair depths) {
  if (const auto* plane = std::get_if<PlaneTarget>(&joint.target)) return *plane;
  if (const auto* sphere = std::get_if<SphereTarget>(&joint.target)) return plane_at(*sphere, depths.lead);
  return std::nullopt;
}

}  // namespace

Vec3 point_of(const Joint& joint, double s, DepthPair depths) {
  if (joint.of_opening()) {
    const Sheet::Place place = place_on(joint, Side::follow, s, depths);
    return joint.follow.at(0).point(place.theta, place.v, depths.follow);
  }
  return joint.lead.point(s, height_on_lead(joint, s, depths), depths.lead);
}

Sheet::Place place_on(const Joint& joint, Side side, double s, DepthPair depths) {
  if (const auto* opening = std::get_if<OpeningTarget>(&joint.target))
    return place_on_opening(joint.follow.at(0), *opening, s, depths.follow);
  if (side == Side::lead || one_wall(joint)) return {s, height_on_lead(joint, s, depths)};
  return joint.follow.at(0).locate(point_of(joint, s, depths), depths.follow);
}

double parameter_at(const Joint& joint, Side side, double theta, DepthPair depths) {
  if (side == Side::lead || one_wall(joint) || one_axis(joint)) return theta;
  if (const auto folded = on_folded(joint, side, theta, depths)) return folded->theta;
  if (joint.stretch) {  // in a plane, and defined between its corners alone
    const double v = height_at(joint, side, theta, depths);
    return joint.lead.locate(joint.follow.at(0).point(theta, v, depths.follow), depths.lead).theta;
  }
  // Walls that meet end to end turn around nearly the same axis, one way or the other: find how theta and s
  // are tied at one place, then close in by secant steps on theta(s) - theta.
  const auto follow_angle = [&](double s) { return place_on(joint, side, s, depths).theta; };
  const double at_zero = follow_angle(0.0);
  const double turn = near_angle(follow_angle(0.1) - at_zero, 0.0) > 0.0 ? 1.0 : -1.0;
  const auto miss = [&](double at) { return near_angle(follow_angle(at) - theta, 0.0); };
  double previous_s = turn * (theta - at_zero);
  double previous_error = miss(previous_s);
  double s = previous_s - turn * previous_error;
  double error = miss(s);
  for (int step = 0; step < 60 && std::fabs(error) > 1e-15; ++step) {
    const double slope = (error - previous_error) / (s - previous_s);
    if (!std::isfinite(slope) || slope == 0.0) break;
    previous_s = s;
    previous_error = error;
    s -= error / slope;
    if (s == previous_s) break;
    error = miss(s);
  }
  if (!(std::fabs(error) < 1e-9)) throw GeometryError("no point of the joint lies on the asked ruling");
  return s;
}

double height_at(const Joint& joint, Side side, double theta, DepthPair depths) {
  if (side == Side::lead) return height_on_lead(joint, theta, depths);
  // both stand square to the circle
  if (const auto folded = on_folded(joint, side, theta, depths)) return folded->height - joint.lead.height();
  // both walls meet the same plane: this wall's ruling does so in closed form too
  if (const auto plane = plane_at(joint, depths))
    return height_on_plane(joint.follow.at(0), theta, depths.follow, *plane);
  return place_on(joint, side, parameter_at(joint, side, theta, depths), depths).v;
}

DepthPair liner_depths(JointStyle style, Side side, double w, double bore) {
  switch (style) {
    case JointStyle::over:
      return side == Side::lead ? DepthPair{w, 0.0} : DepthPair{bore, w};
    case JointStyle::through:
      return side == Side::lead ? DepthPair{w, bore} : DepthPair{0.0, w};
    case JointStyle::mitre:
      break;
  }
  return {w, w};
}

std::vector<Arc> arcs_of(const Joint& joint) {
  std::vector<Arc> arcs;
  if (joint.stretch) {
    for (std::size_t i = 0; i + 1 < joint.splits.size(); ++i)
      arcs.push_back({joint.splits[i], joint.splits[i + 1]});
    return arcs;
  }
  for (std::size_t i = 0; i < joint.splits.size(); ++i) {
    const bool last = i + 1 == joint.splits.size();
    arcs.push_back({joint.splits[i], last ? joint.splits[0] + k_two_pi : joint.splits[i + 1]});
  }
  return arcs;
}

double split_at(const Sheet& lead, const CollarSeam& seam, double w) {
  const Joint beside{lead, {seam.collar}, seam.at, JointStyle::mitre, {0.0}};
  return near_angle(parameter_at(beside, Side::follow, seam.theta, shell_depths(w)), seam.split);
}

std::vector<Arc> arcs_at(const Joint& joint, DepthPair depths) {
  if (joint.folded() && !joint.open()) return folded_arcs(joint, depths.lead);
  if (const auto* panel = std::get_if<PanelTarget>(&joint.target)) {
    Joint here = joint;
    here.splits = panel_rulings(panel->hull, panel->side, depths.lead);
    return arcs_of(here);
  }
  std::vector<Arc> arcs = arcs_of(joint);
  for (const CollarSeam& seam : joint.collar_seams) {
    const auto found = std::find(joint.splits.begin(), joint.splits.end(), seam.split);
    if (found == joint.splits.end()) throw GeometryError("a collar's seam is none of its joint's splits");
    const auto i = static_cast<std::size_t>(found - joint.splits.begin());
    const double moved = split_at(joint.lead, seam, depths.lead) - seam.split;
    arcs[i].from += moved;
    arcs[(i + arcs.size() - 1) % arcs.size()].to += moved;
  }
  for (const Arc& arc : arcs)
    if (!(arc.from < arc.to)) throw GeometryError("seams beside an oblique taper cross");
  return arcs;
}

std::vector<double> sample_arc(const Joint& joint, const Arc& arc, const std::vector<DepthPair>& depths,
                               double tolerance) {
  constexpr int k_start = 16;
  constexpr std::size_t k_most = 4000;
  constexpr double k_narrowest = 1e-9;
  std::vector<double> s;
  for (int i = 0; i <= k_start; ++i)  // by cosine: closer together toward the ends of the arc
    s.push_back(i == k_start ? arc.to
                             : arc.from + 0.5 * (arc.to - arc.from) * (1.0 - std::cos(k_pi * i / k_start)));
  const auto points_at = [&](double at) {
    std::vector<Vec3> points;
    points.reserve(depths.size());
    for (const DepthPair& pair : depths) points.push_back(point_of(joint, at, pair));
    return points;
  };
  std::vector<std::vector<Vec3>> points;
  points.reserve(s.size());
  for (const double at : s) points.push_back(points_at(at));

  // Between two parameters a cubic through the four nearest points is held against the joint in the middle;
  // where it strays, the interval is halved. Elsewhere it may stray up to twice as far, near the sides of
  // nearly tangent branches, hence half the tolerance.
  const double middle_tolerance = 0.5 * tolerance;
  for (bool again = true; again && s.size() < k_most;) {
    again = false;
    std::vector<double> next_s;
    std::vector<std::vector<Vec3>> next_points;
    for (std::size_t i = 0; i + 1 < s.size(); ++i) {
      next_s.push_back(s[i]);
      next_points.push_back(points[i]);
      const std::size_t first = std::min(i > 0 ? i - 1 : 0, s.size() - 4);
      const double middle = 0.5 * (s[i] + s[i + 1]);
      std::vector<Vec3> exact = points_at(middle);
      double worst = 0.0;
      for (std::size_t d = 0; d < depths.size(); ++d) {
        Vec3 guess{};
        for (std::size_t a = first; a < first + 4; ++a) {
          double weight = 1.0;
          for (std::size_t b = first; b < first + 4; ++b)
            if (b != a) weight *= (middle - s[b]) / (s[a] - s[b]);
          guess = guess + weight * points[a][d];
        }
        worst = std::max(worst, distance(guess, exact[d]));
      }
      if (worst > middle_tolerance && s[i + 1] - s[i] > k_narrowest) {
        next_s.push_back(middle);
        next_points.push_back(std::move(exact));
        again = true;
      }
    }
    next_s.push_back(s.back());
    next_points.push_back(points.back());
    s = std::move(next_s);
    points = std::move(next_points);
  }
  return s;
}

}  // namespace linerwright
