#include "linerwright/sheet/sheet.hpp"

#include <stdexcept>
#include <string>

namespace linerwright {

namespace {

void require_positive(double value, const char* what) {
  if (!(value > 0.0) || !std::isfinite(value))
    throw std::invalid_argument(std::string(what) + " must be positive and finite");
}

}  // namespace

Sheet::Sheet(const Frame& frame, double r1, double r2, double height, double offset)
    : frame_(frame), r1_(r1), r2_(r2), height_(height), offset_(offset) {}

Sheet Sheet::cylinder(const Frame& frame, double radius) {
  require_positive(radius, "radius");
  return {frame, radius, radius, radius, 0.0};
}

Sheet Sheet::cone(const Frame& frame, double r1, double r2, double height, double offset) {
  require_positive(r1, "radius");
  require_positive(r2, "radius");
  require_positive(height, "height");
  if (!std::isfinite(offset)) throw std::invalid_argument("offset must be finite");
  return {frame, r1, r2, height, offset};
}

Sheet Sheet::disc(const Frame& frame, double radius) {
  require_positive(radius, "radius");
  return {frame, radius, 0.0, 0.0, 0.0};
}

// With k = r2 - r1 the ruling from (r1 cos, r1 sin, 0) to (offset + r2 cos, r2 sin, h) has the direction
// D = (offset + k cos, k sin, h). Both circles have the tangent (-sin, cos, 0) at its ends, so the plane of D
// and that tangent touches the wall along the whole ruling: n ~ (cos, sin, c) with n.D = 0, hence c =
// -(offset cos + k)/h = (r1 - r2 - offset cos)/h.
Sheet::Ruling Sheet::ruling(double theta) const {
  if (is_square_to_round()) return part_ruling(theta);
  const double cs = std::cos(theta);
  const double sn = std::sin(theta);
  const double k = r2_ - r1_;
  Ruling r;
  r.base = {r1_ * cs, r1_ * sn, 0.0};
  r.base_slope = {-r1_ * sn, r1_ * cs, 0.0};
  if (is_cylinder()) {
    r.length = height_;
    r.direction = {0.0, 0.0, 1.0};
    r.direction_slope = {0.0, 0.0, 0.0};
    r.normal = {cs, sn, 0.0};
    r.normal_slope = r.around = {-sn, cs, 0.0};
    r.lean = 0.0;
    return r;
  }

  const Vec3 along{offset_ + k * cs, k * sn, height_};
  const Vec3 along_slope{-k * sn, k * cs, 0.0};
  r.length = norm(along);
  r.direction = (1.0 / r.length) * along;
  r.direction_slope = (1.0 / r.length) * (along_slope - dot(r.direction, along_slope) * r.direction);

  r.lean = (r1_ - r2_ - offset_ * cs) / height_;
  if (is_flat()) {
    r.normal = {0.0, 0.0, 1.0};
    r.normal_slope = {0.0, 0.0, 0.0};
    r.around = cross(r.direction, r.normal);
    return r;
  }
  const Vec3 outward{cs, sn, r.lean};
  const Vec3 outward_slope{-sn, cs, offset_ * sn / height_};
  const double size = norm(outward);
  r.normal = (1.0 / size) * outward;
  r.normal_slope = (1.0 / size) * (outward_slope - dot(r.normal, outward_slope) * r.normal);
  r.around = cross(r.direction, r.normal);
  return r;
}

Vec3 Sheet::point(double theta, double v, double w) const {
  const Ruling r = ruling(theta);
  return frame_.point(r.base + v * r.direction - w * r.normal);
}

Vec3 Sheet::normal(double theta) const {
  return frame_.direction(ruling(theta).normal);
}

Vec3 Sheet::direction(double theta) const {
  return frame_.direction(ruling(theta).direction);
}

Sheet::Place Sheet::locate(Vec3 point, double w) const {
  if (offset_ != 0.0 || is_square_to_round())
    throw std::logic_error("an oblique cone has no closed form for a point's ruling");
  const Vec3 p = frame_.local_point(point);
  const double theta = std::atan2(p.y, p.x);
  if (is_flat()) return {theta, r1_ - std::hypot(p.x, p.y)};
  return {theta, v_at_height(theta, p.z, w)};
}

double Sheet::v_at_height(double theta, double z, double w) const {
  if (is_cylinder()) return z;
  const Ruling r = ruling(theta);
  return (z + w * r.normal.z) / r.direction.z;
}

double Sheet::spread(double theta, double v, double w) const {
  if (is_cylinder()) return r1_ - w;
  const Ruling r = ruling(theta);
  return dot(r.base_slope + v * r.direction_slope - w * r.normal_slope, r.around);
}

}  // namespace linerwright
