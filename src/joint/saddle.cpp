// How a branch's saddle runs around its body.
#include <cmath>
#include <limits>

#include "linerwright/joint/joint.hpp"

namespace linerwright {

// Square to the body's axis, with d the way the branch's axis goes there, a ruling passes that axis at m = o
// + r C cos(s - s0), and its foot on the cylinder of radius rho stands at sin(phi) = -m / rho from d. So
//   dphi/ds = -m' / sqrt((rho - |m|) (rho + |m|)).
// With h half the turn from where |m| is greatest, m' = -+2 r C sin h cos h, and rho - |m| = g + 2 r C sin^2
// h with g the gap that is left beside the body. Where branch and body touch, g = 0 and sin h drops out.
std::optional<double> turn_on_body(const Joint& joint, double s, DepthPair depths) {
  const auto* target = std::get_if<BodyTarget>(&joint.target);
  if (target == nullptr || !joint.lead.is_cylinder()) return std::nullopt;
  const Frame& body = target->body.frame();
  const Frame& branch = joint.lead.frame();
  const auto square = [&](Vec3 v) {
    const Vec3 local = body.local_direction(v);
    return Vec2{local.x, local.y};
  };
  const Vec2 axis = square(branch.z);
  const Vec2 way = (1.0 / norm(axis)) * axis;
  const auto beside = [&](Vec3 v) { return cross(square(v), way); };
  const double middle = beside(branch.origin - body.origin);
  const double along_x = beside(branch.x);
  const double along_y = beside(branch.y);
  const double reach = (joint.lead.r1() - depths.lead) * std::hypot(along_x, along_y);
  const double rho = target->body.r1() - depths.follow;
  const double miss =
      middle + (joint.lead.r1() - depths.lead) * (along_x * std::cos(s) + along_y * std::sin(s));
  const double side = miss < 0.0 ? -1.0 : 1.0;
  const double half = 0.5 * std::remainder(s - std::atan2(side * along_y, side * along_x), k_two_pi);
  double gap = rho - side * middle - reach;
  constexpr double k_rounding = 16.0 * std::numeric_limits<double>::epsilon();
  if (std::fabs(gap) < k_rounding * rho) gap = 0.0;
  const double sine = std::sin(half);
  const double inside = gap + 2.0 * reach * sine * sine;
  if (!(inside >= 0.0)) return std::nullopt;  // as `meet` would, within its rounding
  const double share =
      gap == 0.0 ? std::copysign(std::sqrt(1.0 / (2.0 * reach)), sine) : sine / std::sqrt(inside);
  return side * 2.0 * reach * std::cos(half) * share / std::sqrt(rho + std::fabs(miss));
}

}  // namespace linerwright
