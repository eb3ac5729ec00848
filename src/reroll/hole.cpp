// The hole of a tap's template against the branch that stands in it.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "linerwright/reroll/reroll.hpp"

namespace linerwright {

namespace {

// How deep a point in space lies under the surface of a straight or conical branch.
double depth_in(const Sheet& branch, Vec3 point) {
  const Vec3 local = branch.frame().local_point(point);
  const double slope = branch.is_cylinder() ? 0.0 : (branch.r2() - branch.r1()) / branch.height();
  return (branch.r1() + slope * local.z - std::hypot(local.x, local.y)) / std::sqrt(1.0 + slope * slope);
}

}  // namespace

CheckResult prove_hole(const Fitting& fitting, const Pattern& pattern, const BoardLines& cut) {
  constexpr double k_chord = k_chord_error + 1e-3;  // mm: the file's chords and decimals
  const std::string name = "hole " + pattern.id;
  const auto hole = std::find_if(cut.begin(), cut.end(), [](const BoardLine& line) {
    return line.closed && signed_area(line.points) < 0.0;
  });
  if (hole == cut.end() || hole->points.size() < 3) return undone(name, "the template has no hole");
  const Joint& joint = fitting.joint(joint_on_duct(fitting).value());
  const LinerSpec& liner = fitting.liner;
  const bool inside = pattern.placement.mirrored;
  const double t = liner.bore_depth();
  const double radius = joint.follow.front().r1() + (inside ? -t : liner.gauge);
  // a branch passed through is as wide as its metal in both, one laid over as its bore in the liner
  const double depth = inside && joint.style != JointStyle::through ? t : 0.0;
  double worst = 0.0;
  for (std::size_t i = 0; i < hole->points.size(); ++i)
    for (const double share : {0.0, 0.5}) {
      const Vec2 next = hole->points[(i + 1) % hole->points.size()];
      const Vec2 flat = pattern.placement.flat((1.0 - share) * hole->points[i] + share * next);
      const double around = flat.x / radius;
      const Vec3 rolled{radius * std::cos(around), radius * std::sin(around), flat.y};
      worst = std::max(worst, std::fabs(depth_in(joint.lead, rolled) - depth));
    }
  return within(
      name, worst, k_chord, "mm",
      fmt::format("{} points of the hole, rolled onto the duct, off the branch", 2 * hole->points.size()));
}

}  // namespace linerwright
