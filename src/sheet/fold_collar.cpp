// Where the layers of a wall meet those of the straight collar on its circle.
#include <algorithm>
#include <cmath>
#include <limits>

#include "linerwright/sheet/folds.hpp"
#include "linerwright/units/error.hpp"
#include "search.hpp"

namespace linerwright {

namespace {

constexpr double k_quarter = 0.5 * k_pi;

double apart(double angle, double from) {
  return std::remainder(angle - from, k_two_pi);
}

// The place of a ruling at depth w on the collar, local.
std::optional<Vec3> on_collar(const Sheet& sheet, const Sheet::Ruling& r, double w) {
  const std::optional<double> way = way_to_collar(r, sheet.r2(), w);
  if (!way) return std::nullopt;
  return r.base + (r.length + *way) * r.direction - w * r.normal;
}

double angle_on_collar(const Sheet& sheet, Vec3 point) {
  return std::atan2(point.y - sheet.centre().y, point.x - sheet.centre().x);
}

// On a corner's cone: the rulings come to the collar in the order of their turn.
std::optional<CollarMeeting> meeting_on_cone(const Sheet& sheet, int corner, double phi, double w) {
  constexpr double k_rounding = 1e-9;  // rad
  const auto beyond = [&](double turn) {
    const auto point = on_collar(sheet, sheet.ruling(corner_theta(corner, turn)), w);
    // beside the flats rulings may run past it: they would come to it farther out than all others
    if (!point) return turn < 0.5 * k_quarter ? -k_two_pi : k_two_pi;
    return apart(angle_on_collar(sheet, *point), phi);
  };
  const double first = beyond(0.0);
  const double last = beyond(k_quarter);
  if (first > k_rounding || last < -k_rounding) return std::nullopt;
  const double turn = first >= 0.0 ? 0.0 : last <= 0.0 ? k_quarter : root(beyond, 0.0, k_quarter);
  const double theta = corner_theta(corner, turn);
  const auto point = on_collar(sheet, sheet.ruling(theta), w);
  if (!point) return std::nullopt;
  return CollarMeeting{theta, point->z};
}

// On a flat whose layer ends on the collar in more than a point.
std::optional<CollarMeeting> meeting_on_flat(const Sheet& sheet, int flat, double phi, double w) {
  const Sheet::Ruling middle = sheet.ruling(k_quarter * flat);
  Vec3 point{sheet.centre().x + (sheet.r2() - w) * std::cos(phi),
             sheet.centre().y + (sheet.r2() - w) * std::sin(phi), 0.0};
  point.z = (-w - dot(middle.normal, point - middle.base)) / middle.normal.z;
  if (!(point.z < sheet.height() - w * middle.normal.z)) return std::nullopt;  // beyond its tip
  const double theta = theta_on_flat(sheet, flat, point, w);
  if (std::fabs(theta - k_quarter * flat) > 0.5 * k_part_span) return std::nullopt;
  return CollarMeeting{theta, point.z};
}

}  // namespace

// In the circle's plane the ruling starts at the radius R - w n_r (n_r the normal's radial part) and moves by
// d_r radially and d_t around; d.n = 0 gives d_r = -c d_z. So v solves
//   (R - w n_r - v c d_z)^2 + v^2 d_t^2 = (R - w)^2.
// Its small root goes with c to zero (where wall and collar run on smoothly); dividing c out keeps it exact
// there:
//   v = c K / (B + sqrt(B^2 - a K)),  B = d_z (R - w n_r),  K = w n_r^2 (2R - w (1 + n_r)) / (1 + n_r),
// with a = d_r^2 + d_t^2. For the right cone this is w tan(phi/2).
std::optional<double> way_to_collar(const Sheet::Ruling& r, double radius, double w) {
  const double n_r = 1.0 / std::sqrt(1.0 + r.lean * r.lean);
  const double a = r.direction.x * r.direction.x + r.direction.y * r.direction.y;
  const double b = r.direction.z * (radius - w * n_r);
  const double k = w * n_r * n_r * (2.0 * radius - w * (1.0 + n_r)) / (1.0 + n_r);
  const double inside = b * b - a * k;
  if (!(inside >= 0.0) || !(b > 0.0)) return std::nullopt;
  return r.lean * k / (b + std::sqrt(inside));
}

CollarMeeting collar_meeting(const Sheet& sheet, double phi, double w) {
  const double turned = phi - k_two_pi * std::floor(phi / k_two_pi);
  const int corner = std::min(3, static_cast<int>(turned / k_quarter));
  const bool after = turned - k_quarter * corner < 0.5 * k_quarter;  // the nearest flat
  const int flat = (after ? corner : corner + 1) % 4;
  const double lean = sheet.ruling(k_quarter * flat).lean;
  std::optional<CollarMeeting> found = meeting_on_cone(sheet, corner, phi, w);
  // the cones beside the flat's tip meet in a mitre: what narrows toward the collar lies behind both
  if (!found || w * lean > 0.0) {
    const auto other = meeting_on_cone(sheet, (after ? corner + 3 : corner + 1) % 4, phi, w);
    if (other && (!found || (lean > 0.0) == (other->height < found->height))) found = other;
  }
  if (!found && w * lean < 0.0) found = meeting_on_flat(sheet, flat, phi, w);
  if (!found) throw GeometryError("the collar's layer is not met at the same depth");
  return *found;
}

}  // namespace linerwright
