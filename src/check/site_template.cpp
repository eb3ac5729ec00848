// Templates of the hole in the duct that a tap stands on.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "beside.hpp"
#include "linerwright/error.hpp"
#include "proof.hpp"
#include "tally.hpp"

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
  const Joint& joint = fitting.joints[static_cast<std::size_t>(joint_on_duct(fitting))];
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

std::vector<CheckResult> prove_templates(const Fitting& fitting, const JsonValue& json) {
  const std::vector<Pattern> templates = site_templates(fitting);
  const JsonValue* list = json.find("holes");
  if (templates.empty() && list == nullptr) return {};
  constexpr double k_millionth = 0.51e-6;
  constexpr double k_degree = 57.295779513082320877;  // 180 / pi
  Tally tally("figures of holes");
  const std::size_t have = list == nullptr ? 0 : list->items.size();
  tally.require(have == templates.size(), fmt::format("{} templates, not {}", have, templates.size()));
  for (std::size_t i = 0; i < std::min(have, templates.size()); ++i) {
    const Pattern& pattern = templates[i];
    const JsonValue& found = list->items[i];
    const std::string where = fmt::format("holes[{}].", i);
    tally.text(where + "id", found.find("id"), pattern.id);
    tally.text(where + "seen_from", found.find("seen_from"),
               pattern.placement.mirrored ? "inside" : "outside");
    tally.number(where + "width", found.find("width"), pattern.board.x, k_millionth);
    tally.number(where + "height", found.find("height"), pattern.board.y, k_millionth);
    const JsonValue* rows = found.find("hole");
    const std::size_t stations = rows == nullptr ? 0 : rows->items.size();
    tally.require(stations == pattern.hole_ordinates.size(),
                  fmt::format("{}hole has {} stations", where, stations));
    for (std::size_t k = 0; k < std::min(stations, pattern.hole_ordinates.size()); ++k) {
      const HoleOrdinate& o = pattern.hole_ordinates[k];
      const JsonValue& row = rows->items[k];
      const std::string at = fmt::format("{}hole[{}].", where, k);
      tally.number(at + "branch_angle", row.find("branch_angle"), o.s * k_degree, k_millionth);
      tally.number(at + "x", row.find("x"), o.duct.x, k_millionth);
      tally.number(at + "y", row.find("y"), o.duct.y, k_millionth);
    }
  }
  return {tally.result("figures, as made again")};
}

}  // namespace linerwright
