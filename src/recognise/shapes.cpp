#include "shapes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "linerwright/units/units.hpp"

namespace linerwright {

namespace {

std::size_t count_of(const Inside& inside, SurfaceSort sort) {
  return static_cast<std::size_t>(
      std::count_if(inside.surfaces.begin(), inside.surfaces.end(),
                    [&](const InsideSurface& s) { return s.fit.sort == sort && !is_small(s, inside); }));
}

bool has_square_branch(const ReadShape& tee) {
  return std::any_of(tee.keys.begin(), tee.keys.end(), [](const auto& key) {
    return key.first == "angle" && (" " + key.second + " ").find(" 90 ") != std::string::npos;
  });
}

}  // namespace

std::string shortest(double value, double within) {
  for (int decimals = 0; decimals < 9; ++decimals) {
    const double scale = std::pow(10.0, decimals);
    if (std::fabs(std::round(value * scale) / scale - value) < within) return trimmed(value, decimals);
  }
  return trimmed(value, 9);
}

std::string length_value(double millimetres) {
  return shortest(millimetres, 2e-8) + " mm";
}

std::string angle_value(double radians) {
  return shortest(radians * 180.0 / k_pi, 2e-9);
}

double length_slack(const Inside& inside) {
  constexpr double k_exact = 1e-3;  // mm: what a drawn face may stray from its surface
  constexpr double k_mesh = 0.1;
  return inside.within > k_exact ? k_mesh : 0.0;
}

bool is_small(const InsideSurface& surface, const Inside& inside) {
  constexpr double k_fillet = 5.0;  // mm
  if (surface.fit.sort == SurfaceSort::torus &&
      (surface.fit.minor < k_fillet || surface.fit.radius < k_fillet))
    return true;
  double all = 0.0;
  for (const InsideSurface& one : inside.surfaces) all += one.area;
  return surface.area < 5e-4 * all;
}

bool points_forward(Vec3 direction) {
  constexpr double k_none = 1e-9;
  for (const double part : {direction.z, direction.y, direction.x})
    if (std::fabs(part) > k_none) return part > 0.0;
  return true;
}

Vec3 reference(Vec3 along, Vec3 otherwise) {
  constexpr double k_upright = 1e-9;
  const Vec3 x = norm(cross(along, {0, 0, 1})) < k_upright && along.z > 0.0 ? Vec3{1, 0, 0} : otherwise;
  return normalised(x - dot(x, along) * along);
}

std::size_t first_opening(const Inside& inside) {
  const auto entered = [](const DrawnEnd& opening) {
    return opening.circle.normal.z < 0.0 && norm(cross(opening.circle.normal, {0, 0, 1})) < 1e-9;
  };
  const DrawnEnd& one = inside.openings[0];
  const DrawnEnd& other = inside.openings[1];
  if (entered(one) != entered(other)) return entered(one) ? 0 : 1;
  return points_forward(one.circle.normal) && !points_forward(other.circle.normal) ? 1 : 0;
}

OpeningWall wall_at(const DrawnEnd& opening, const Inside& inside) {
  constexpr double k_meet = 0.05;  // mm
  constexpr double k_square = 1e-4;
  const FittedCircle& circle = opening.circle;
  OpeningWall found;
  double least = 0.0;
  for (const InsideSurface& surface : inside.surfaces) {
    const FittedSurface& fit = surface.fit;
    if (is_small(surface, inside) || (fit.sort != SurfaceSort::cylinder && fit.sort != SurfaceSort::cone))
      continue;
    if (norm(cross(fit.axis, circle.normal)) > k_square ||
        norm(cross(circle.centre - fit.origin, fit.axis)) > k_meet)
      continue;
    const double radius = fit.sort == SurfaceSort::cylinder
                              ? fit.radius
                              : std::tan(fit.angle) * std::fabs(dot(circle.centre - fit.origin, fit.axis));
    const double off = std::fabs(radius - circle.radius);
    if (off < 1.0 + 0.01 * radius && (found.surface == nullptr || off < least)) {
      found = {&surface, radius};
      least = off;
    }
  }
  return found;
}

std::vector<ReadShape> shapes_of(const Inside& inside, const Inside& apart) {
  ReadShape none;
  if (inside.surfaces.empty()) {
    none.fault = "has no hollow round wall";
  } else if (!inside.faults.empty()) {
    none.fault = inside.faults.front();
  } else if (inside.openings.size() < 2) {
    none.fault = fmt::format("has {} of the two openings that a duct has at least", inside.openings.size());
  }
  if (!none.fault.empty()) return {none};
  if (inside.openings.size() > 2) {
    std::vector<ReadShape> shapes = wyes_of(inside);
    const ReadShape branched = branched_of(inside);
    // a body with one branch, or with one that stands square to it, is a tee before it is a wye
    const bool is_tee =
        branched.fault.empty() && (inside.openings.size() == 3 || has_square_branch(branched));
    shapes.insert(is_tee ? shapes.begin() : shapes.end(), branched);
    return shapes;
  }
  ReadShape path = path_of(apart);
  path.apart = true;
  const std::size_t tapers = count_of(inside, SurfaceSort::cone) + count_of(inside, SurfaceSort::ruled);
  return {tapers > 0 ? taper_of(inside) : chain_of(inside), path};
}

}  // namespace linerwright
