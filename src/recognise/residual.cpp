#include "residual.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "linerwright/fitting/choices.hpp"
#include "linerwright/fitting/port.hpp"

namespace linerwright {

namespace {

// Signed distance of a point from a wall's duct face, positive inside the duct. The inside of a round wall is
// convex, the common part of all half spaces below its tangent planes, so the distance is the least of those
// from the planes.
double depth_at(const Sheet& sheet, Vec3 point) {
  const Vec3 local = sheet.frame().local_point(point);
  if (sheet.is_cylinder()) return sheet.r1() - std::hypot(local.x, local.y);
  const auto above = [&](double theta) {
    return dot(sheet.normal(theta), point - sheet.point(theta, 0.0, 0.0));
  };
  constexpr int k_places = 48;
  double best = 0.0, most = -1e300;
  for (int i = 0; i < k_places; ++i)
    if (const double value = above(k_two_pi * i / k_places); value > most) {
      most = value;
      best = k_two_pi * i / k_places;
    }
  // a parabola through three places at a time
  for (double step = k_two_pi / k_places; step > 1e-7; step *= 0.1) {
    for (int tries = 0; tries < 20; ++tries) {
      const double low = above(best - step), middle = above(best), high = above(best + step);
      const double bend = low - 2.0 * middle + high;
      const double move = bend < 0.0 ? std::clamp(0.5 * step * (low - high) / bend, -step, step)
                                     : (high > low ? step : -step);
      if (above(best + move) <= middle) break;
      best += move;
    }
    most = std::max(most, above(best));
  }
  return -most;
}

struct Compared {
  const ReadShape& shape;
  Residual residual;
  Frame ours;  // the first opening in our own coordinates

  // A drawn point in our coordinates.
  Vec3 local(Vec3 drawn) const { return ours.point(shape.start.local_point(drawn)); }
  void take(double value, const std::string& where) {
    if (!(value <= residual.largest)) {
      residual.largest = value;
      residual.worst = where;
    }
  }
};

void compare_walls(const Inside& inside, const Fitting& fitting, Compared& compared) {
  std::vector<bool> met(fitting.walls.size(), false);
  for (const InsideSurface& surface : inside.surfaces) {
    const bool small = is_small(surface, inside);
    constexpr double k_alike = 0.01;  // mm: two walls of one surface, as of branches that face each other
    double least = 1e300;
    std::vector<double> mosts(fitting.walls.size(), 1e300);
    std::vector<double> each(surface.points.size(), 1e300);
    for (std::size_t w = 0; w < fitting.walls.size(); ++w) {
      if (fitting.walls[w].layer != 0) continue;
      double most = 0.0;
      for (std::size_t i = 0; i < surface.points.size(); ++i) {
        const double away = std::fabs(depth_at(fitting.walls[w].sheet, compared.local(surface.points[i].at)));
        each[i] = std::min(each[i], away);
        most = std::max(most, away);
        if (!small && most > least + 2.0 * k_alike) break;
      }
      mosts[w] = most;
      least = std::min(least, most);
    }
    if (small && !each.empty()) least = *std::max_element(each.begin(), each.end());
    for (std::size_t w = 0; w < mosts.size() && !small; ++w) met[w] = met[w] || mosts[w] <= least + k_alike;
    compared.take(least, fmt::format("face {}", surface.faces.front()));
  }
  for (const DrawnPoint& p : inside.other_points) {
    double least = 1e300;
    for (const Wall& wall : fitting.walls)
      if (wall.layer == 0) least = std::min(least, std::fabs(depth_at(wall.sheet, compared.local(p.at))));
    compared.take(least, fmt::format("the free form at {}", place_text(p.at)));
  }
  for (std::size_t w = 0; w < met.size(); ++w)
    if (fitting.walls[w].layer == 0 && !met[w])
      compared.residual.fault = "a wall of such a fitting is not drawn";
}

// Of a pressed bend: the torus and collars that the request's own numbers make.
void compare_pressed(const Inside& inside, const Fitting& fitting, Compared& compared) {
  const Values& values = fitting.request.values;
  const double rho = values.quantity("centreline_radius");
  const double radius = 0.5 * values.quantity("diameter");
  const double angle = values.quantity("angle");
  FittedSurface torus;
  torus.sort = SurfaceSort::torus;
  torus.origin = {rho, 0.0, 0.0};
  torus.axis = {0.0, 1.0, 0.0};
  torus.radius = rho;
  torus.minor = radius;
  const auto away = [&](Vec3 drawn) {
    const Vec3 p = compared.local(drawn);
    if (p.z < 0.0) return std::fabs(std::hypot(p.x, p.y) - radius);
    const Vec3 along{std::sin(angle), 0.0, std::cos(angle)};
    const Vec3 end{rho * (1.0 - std::cos(angle)), 0.0, rho * std::sin(angle)};
    const double past = dot(p - end, along);
    if (past > 0.0 && std::atan2(p.z, rho - p.x) > 0.5 * angle)
      return std::fabs(norm(p - end - past * along) - radius);
    return torus.distance_of(p);
  };
  for (const InsideSurface& surface : inside.surfaces)
    for (const DrawnPoint& p : surface.points)
      compared.take(away(p.at), fmt::format("face {}", surface.faces.front()));
  for (const DrawnPoint& p : inside.other_points)
    compared.take(away(p.at), fmt::format("the free form at {}", place_text(p.at)));
}

void compare_openings(const Inside& inside, const std::vector<Port>& ports, Compared& compared) {
  if (ports.size() != inside.openings.size()) {
    compared.residual.fault =
        fmt::format("such a fitting has {} openings, and {} are drawn", ports.size(), inside.openings.size());
    return;
  }
  std::vector<bool> met(ports.size(), false);
  for (const DrawnEnd& opening : inside.openings) {
    const Vec3 centre = compared.local(opening.circle.centre);
    const Vec3 normal = compared.ours.direction(compared.shape.start.local_direction(opening.circle.normal));
    double least = 1e300;
    std::size_t nearest = 0;
    for (std::size_t i = 0; i < ports.size(); ++i) {
      const double radius = 0.5 * ports[i].bare_diameter;
      const double away =
          std::max({distance(ports[i].frame.origin, centre), std::fabs(radius - opening.circle.radius),
                    radius * norm(cross(ports[i].frame.z, normal)),
                    dot(ports[i].frame.z, normal) < 0.0 ? radius : 0.0});
      if (away < least) {
        least = away;
        nearest = i;
      }
    }
    if (met[nearest]) compared.residual.fault = "two drawn openings are one of such a fitting";
    met[nearest] = true;
    compared.take(least, fmt::format("the opening at {}", place_text(opening.circle.centre)));
  }
}

}  // namespace

Residual residual_of(const Inside& inside, const ReadShape& shape, const Fitting& fitting) {
  Compared compared{shape, {}, {}};
  compared.ours.origin = ports_of(fitting).front().frame.origin;
  if (fitting.kind == "elbow" && chosen(fitting.request.values, "form", k_form_choices) == BendForm::smooth)
    compare_pressed(inside, fitting, compared);
  else
    compare_walls(inside, fitting, compared);
  compare_openings(inside, ports_of(fitting), compared);
  return compared.residual;
}

}  // namespace linerwright
