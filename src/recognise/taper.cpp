// Tapers: all rulings of a cone, right or oblique, aim at its apex, so that sections square to the openings
// are circles whose radii grow with the distance from it.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "shapes.hpp"

namespace linerwright {

namespace {

// The line of the sections' centres and how the radius grows along the axis.
struct Sections {
  Vec3 apex{};      // of a taper whose rulings are parallel: a point of the line
  Vec3 line{};      // along the centres, of axial length 1
  double grow = 0;  // radius per axial length from the apex
  double radius = 0;
  double residual = 0;
};

Sections sections_of(const InsideSurface& taper, Vec3 axis) {
  const FittedSurface& fit = taper.fit;
  std::vector<Vec3> scaled;
  Sections s;
  if (fit.sort == SurfaceSort::ruled && fit.parallel) {
    const Vec3 along = (1.0 / dot(fit.axis, axis)) * fit.axis;
    const Vec3 base = taper.points.front().at;
    for (const DrawnPoint& p : taper.points) scaled.push_back(p.at - dot(p.at - base, axis) * along);
    const FittedCircle circle = fit_circle(scaled);
    return {circle.centre, along, 0.0, circle.radius, circle.residual};
  }
  s.apex = fit.origin;
  double largest = 0.0;
  for (const DrawnPoint& p : taper.points) {
    const double h = dot(p.at - fit.origin, axis);
    largest = std::max(largest, std::fabs(h));
    scaled.push_back((1.0 / h) * (p.at - fit.origin));
  }
  const FittedCircle circle = fit_circle(scaled);
  s.line = circle.centre;
  s.grow = circle.radius;
  s.residual = circle.residual * largest;
  return s;
}

// One end of the taper: its circle, and the collar before the opening.
struct TaperEnd {
  Vec3 centre{};
  double radius = 0.0;
  double collar = 0.0;
  std::string fault;
};

// The collar before an opening: the cylinder that ends there, or behind a rounded rim the nearest about its
// axis.
const InsideSurface* collar_at(const DrawnEnd& opening, const InsideSurface& taper, const Inside& inside,
                               Vec3 axis) {
  constexpr double k_meet = 0.05;
  const InsideSurface& own = inside.surfaces[opening.surface];
  if (!is_small(own, inside)) return own.fit.sort == SurfaceSort::cylinder ? &own : nullptr;
  const InsideSurface* collar = nullptr;
  double nearest = 1e300;
  for (const InsideSurface& surface : inside.surfaces) {
    if (is_small(surface, inside) || surface.fit.sort == SurfaceSort::plane) continue;
    if (surface.fit.sort == SurfaceSort::cylinder &&
        norm(cross(opening.circle.centre - surface.fit.origin, surface.fit.axis)) > k_meet)
      continue;
    double away = 1e300;
    for (const DrawnPoint& p : surface.points)
      away = std::min(away, std::fabs(dot(p.at - opening.circle.centre, axis)));
    if (away >= nearest) continue;
    nearest = away;
    collar = &surface;
  }
  return collar == &taper ? nullptr : collar;
}

// The centre of the circle along which taper and collar meet, where they share an edge.
std::optional<Vec3> joint_of(const Inside& inside, const InsideSurface& taper, const InsideSurface& collar,
                             Vec3 axis) {
  for (const InsideJoint& joint : inside.joints) {
    const InsideSurface* a = &inside.surfaces[joint.a];
    const InsideSurface* b = &inside.surfaces[joint.b];
    if (!((a == &taper && b == &collar) || (a == &collar && b == &taper))) continue;
    const FittedCircle circle = fit_circle(joint.points);
    if (circle.residual < 1e-3 && norm(cross(circle.normal, axis)) < 1e-4) return circle.centre;
  }
  return std::nullopt;
}

TaperEnd end_at(const DrawnEnd& opening, const InsideSurface& taper, const Inside& inside,
                const Sections& sections, Vec3 axis) {
  constexpr double k_meet = 0.05;
  const FittedCircle& circle = opening.circle;
  TaperEnd end{circle.centre, circle.radius, 0.0, {}};
  const InsideSurface* collar = collar_at(opening, taper, inside, axis);
  if (collar == nullptr) return end;
  end.radius = collar->fit.radius;
  if (const auto joint = joint_of(inside, taper, *collar, axis)) {
    end.centre = *joint;
  } else if (sections.grow > 0.0) {
    // both signs of the axial distance from the apex belong to one cone; the taper's side is the one of its
    // points
    const double side = dot(taper.points.front().at - sections.apex, axis) < 0.0 ? -1.0 : 1.0;
    end.centre = sections.apex + (side * end.radius / sections.grow) * sections.line;
  } else {
    // the line of the centres crosses the collar's axis
    const Vec3 across = sections.line - dot(sections.line, axis) * axis;
    const Vec3 away = circle.centre - sections.apex - dot(circle.centre - sections.apex, axis) * axis;
    end.centre = sections.apex + (dot(away, across) / dot(across, across)) * sections.line;
  }
  end.collar = dot(circle.centre - end.centre, circle.normal);
  if (norm(cross(end.centre - circle.centre, axis)) > k_meet)
    end.fault = "a collar and the taper do not stand on one centre";
  if (end.collar < -k_meet) end.fault = "a collar begins beyond its opening";
  end.collar = std::max(0.0, end.collar);
  return end;
}

}  // namespace

ReadShape taper_of(const Inside& inside) {
  ReadShape shape;
  const InsideSurface* taper = nullptr;
  for (const InsideSurface& surface : inside.surfaces) {
    if (is_small(surface, inside) ||
        (surface.fit.sort != SurfaceSort::cone && surface.fit.sort != SurfaceSort::ruled))
      continue;
    if (taper != nullptr) {
      shape.fault =
          fmt::format("has two tapers: faces {} and {}", taper->faces.front(), surface.faces.front());
      return shape;
    }
    taper = &surface;
  }
  const bool turned = points_forward(inside.openings[0].circle.normal);
  const DrawnEnd& from = inside.openings[turned ? 1 : 0];
  const DrawnEnd& to = inside.openings[turned ? 0 : 1];
  const Vec3 axis = to.circle.normal;
  if (norm(cross(from.circle.normal, axis)) > 1e-4 || dot(from.circle.normal, axis) > 0.0) {
    shape.fault = "the two openings of its taper do not face opposite ways";
    return shape;
  }
  const Sections sections = sections_of(*taper, axis);
  if (!(sections.residual < 0.05)) {
    shape.fault = fmt::format("sections of the taper square to its openings are no circles (face {})",
                              taper->faces.front());
    return shape;
  }
  const TaperEnd first = end_at(from, *taper, inside, sections, axis);
  const TaperEnd second = end_at(to, *taper, inside, sections, axis);
  shape.fault = !first.fault.empty() ? first.fault : second.fault;
  const double length = dot(second.centre - first.centre, axis);
  const Vec3 shift = second.centre - first.centre - length * axis;
  shape.kind = "reducer";
  shape.start.origin = from.circle.centre;
  shape.start.z = axis;
  constexpr double k_concentric = 1e-6;
  const Vec3 aside =
      norm(shift) > k_concentric ? shift : (std::fabs(axis.x) < 0.6 ? Vec3{1, 0, 0} : Vec3{0, 1, 0});
  shape.start.x = reference(axis, aside);
  const Vec3 y = cross(axis, shape.start.x);
  shape.keys = {{"diameter", length_value(2.0 * first.radius)},
                {"to_diameter", length_value(2.0 * second.radius)},
                {"length", length_value(length)},
                {"collar", length_value(first.collar)},
                {"to_collar", length_value(second.collar)}};
  if (norm(shift) <= k_concentric) return shape;
  const double flat = std::fabs(first.radius - second.radius);
  const bool is_flat = std::fabs(norm(shift) - flat) < 1e-6;
  // flat_at names the side of the flat: of a taper that grows its centre moves away from it
  const Vec3 toward = is_flat && second.radius > first.radius ? -shift : shift;
  shape.keys.emplace_back(is_flat ? "flat" : "offset", is_flat ? "true" : length_value(norm(shift)));
  shape.keys.emplace_back("flat_at", angle_value(std::atan2(dot(toward, y), dot(toward, shape.start.x))));
  return shape;
}

}  // namespace linerwright
