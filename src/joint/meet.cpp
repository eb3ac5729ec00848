// Where a ruling of the leading wall meets the joint's target: closed forms.
#include <algorithm>
#include <cmath>
#include <limits>

#include "linerwright/joint/folded_ends.hpp"
#include "linerwright/joint/joint.hpp"
#include "linerwright/sheet/folds.hpp"
#include "linerwright/sheet/panels.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

constexpr const char* k_no_collar = "the taper's layer does not reach the collar's layer at the same depth";

double meet(const Sheet& lead, double theta, DepthPair depths, const PlaneTarget& plane) {
  return height_on_plane(lead, theta, depths.lead, plane);
}

double meet(const Sheet& lead, double theta, DepthPair depths, const SphereTarget& mitre) {
  return height_on_plane(lead, theta, depths.lead, plane_at(mitre, depths.lead));
}

double meet(const Sheet&, double, DepthPair, const SquareTarget& square) {
  return square.v;
}

// A taper's ruling, or a square-to-round's, against the cylinder that stands on its circle.
double meet(const Sheet& lead, double theta, DepthPair depths, const CollarTarget& collar) {
  if (lead.is_square_to_round()) {
    const double v = high_end(lead, theta, depths.lead, RoundEnd::collar).v;
    if (!std::isfinite(v)) throw GeometryError(k_no_collar);
    return v;
  }
  const Sheet::Ruling r = lead.ruling(theta);
  const bool high = collar.end == End::high;
  const std::optional<double> way = way_to_collar(r, high ? lead.r2() : lead.r1(), depths.lead);
  if (!way) throw GeometryError(k_no_collar);
  return (high ? r.length : 0.0) + *way;
}

// A branch's ruling against the body's cylinder: in the body's frame |xy|^2 = rho^2 along the ruling, the
// larger root.
double meet(const Sheet& lead, double theta, DepthPair depths, const BodyTarget& target) {
  const Sheet& body = target.body;
  const Sheet::Ruling r = lead.ruling(theta);
  const Vec3 start = body.frame().local_point(lead.frame().point(r.base - depths.lead * r.normal));
  const Vec3 along = body.frame().local_direction(lead.frame().direction(r.direction));
  const double rho = body.r1() - depths.follow;
  const double a = along.x * along.x + along.y * along.y;
  const double b = start.x * along.x + start.y * along.y;
  // The ruling passes the body's axis at this distance; rho^2 - miss^2 is formed as a product, since the two
  // are nearly equal at the sides of equal and tangent branches.
  const double miss = std::fabs(start.x * along.y - start.y * along.x) / std::sqrt(a);
  // Where branch and body just touch, what is left of the difference is rounding, and its root would be a
  // thousand times larger.
  double gap = rho - miss;
  constexpr double k_rounding = 16.0 * std::numeric_limits<double>::epsilon();
  if (std::fabs(gap) < k_rounding * rho) gap = 0.0;
  double inside = gap * (rho + miss);
  if (inside < -1e-9 * rho * rho) throw GeometryError("the branch reaches past the side of the body");
  inside = std::max(inside, 0.0);
  return (-b + std::sqrt(a * inside)) / a;
}

double meet(const Sheet& lead, double theta, DepthPair depths, const FlatTarget& flat) {
  const Frame& frame = flat.disc.frame();
  return height_on_plane(lead, theta, depths.lead, {frame.origin - depths.follow * frame.z, frame.z});
}

double meet(const Sheet& lead, double theta, DepthPair, const CentreTarget&) {
  return lead.ruling(theta).length;
}

double meet(const Sheet& lead, double theta, DepthPair depths, const PanelTarget& panel) {
  return lead.r1() - panel_reach(panel.hull, panel.side, theta, depths.lead);
}

double meet(const Sheet&, double, DepthPair, const OpeningTarget&) {
  throw GeometryError("an opening's edge is led by no wall's rulings");
}

}  // namespace

// All at depth w is what it is at depth 0, made smaller about the centre.
PlaneTarget plane_at(const SphereTarget& mitre, double w) {
  const double away = mitre.offset * (1.0 - w / mitre.radius) / dot(mitre.normal, mitre.normal);
  return {mitre.centre + away * mitre.normal, mitre.normal};
}

// Line against plane.
double height_on_plane(const Sheet& sheet, double theta, double w, const PlaneTarget& plane) {
  const Frame& frame = sheet.frame();
  if (sheet.is_square_to_round())
    return is_round_end(sheet, plane) ? high_end(sheet, theta, w).v : low_end(sheet, theta, w).v;
  const Sheet::Ruling r = sheet.ruling(theta);
  const Vec3 start = frame.point(r.base - w * r.normal);
  const double slope = dot(frame.direction(r.direction), plane.normal);
  if (!(std::fabs(slope) > 1e-12)) throw GeometryError("a ruling runs parallel to the plane of its joint");
  return dot(plane.point - start, plane.normal) / slope;
}

double height_on_lead(const Joint& joint, double theta, DepthPair depths) {
  return std::visit([&](const auto& target) { return meet(joint.lead, theta, depths, target); },
                    joint.target);
}

}  // namespace linerwright
