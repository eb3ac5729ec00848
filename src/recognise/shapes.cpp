#include "shapes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "linerwright/units.hpp"

namespace linerwright {

namespace {

std::string shortest(double value, double within) {
  for (int decimals = 0; decimals < 9; ++decimals) {
    const double scale = std::pow(10.0, decimals);
    if (std::fabs(std::round(value * scale) / scale - value) < within) return trimmed(value, decimals);
  }
  return trimmed(value, 9);
}

std::size_t count_of(const Inside& inside, SurfaceSort sort) {
  return static_cast<std::size_t>(
      std::count_if(inside.surfaces.begin(), inside.surfaces.end(),
                    [&](const InsideSurface& s) { return s.fit.sort == sort && !is_small(s, inside); }));
}

}  // namespace

std::string length_value(double millimetres) {
  return shortest(millimetres, 2e-8) + " mm";
}

std::string angle_value(double radians) {
  return shortest(radians * 180.0 / k_pi, 2e-9);
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

ReadShape shape_of(const Inside& inside) {
  ReadShape none;
  if (inside.surfaces.empty()) {
    none.fault = "has no hollow round wall";
  } else if (!inside.faults.empty()) {
    none.fault = inside.faults.front();
  } else if (inside.openings.size() < 2) {
    none.fault = fmt::format("has {} of the two openings that a duct has at least", inside.openings.size());
  } else if (inside.openings.size() > 2) {
    return branched_of(inside);
  } else if (count_of(inside, SurfaceSort::cone) + count_of(inside, SurfaceSort::ruled) > 0) {
    return taper_of(inside);
  } else {
    return chain_of(inside);
  }
  return none;
}

}  // namespace linerwright
