// Wyes: every opening ends a wall of its own, and all axes meet in one point.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "shapes.hpp"

namespace linerwright {

namespace {

constexpr double k_meet = 0.05;  // mm
constexpr std::size_t k_most_legs = 6;

struct LegRead {
  double radius = 0.0, length = 0.0, angle = 0.0, around = 0.0;
};

// Where the axes of the openings meet: by the two that stand squarest to each other.
Vec3 meeting_point(const std::vector<DrawnEnd>& openings) {
  double best = 0.0;
  Vec3 meet{};
  for (std::size_t i = 0; i < openings.size(); ++i)
    for (std::size_t k = i + 1; k < openings.size(); ++k) {
      const Vec3 d = openings[i].circle.normal, e = openings[k].circle.normal;
      const double c = dot(d, e);
      const double square = 1.0 - c * c;
      if (square <= best) continue;
      best = square;
      const Vec3 p = openings[i].circle.centre, q = openings[k].circle.centre;
      const Vec3 r = q - p;
      const Vec3 on_first = p + ((dot(r, d) - c * dot(r, e)) / square) * d;
      const Vec3 on_second = q + ((c * dot(r, d) - dot(r, e)) / square) * e;
      meet = 0.5 * (on_first + on_second);
    }
  return meet;
}

std::string joined(const std::vector<LegRead>& legs,
                   const std::function<std::string(const LegRead&)>& value) {
  std::string out;
  for (const LegRead& leg : legs) out += (out.empty() ? "" : " & ") + value(leg);
  return out;
}

ReadShape wye_from(const std::vector<DrawnEnd>& openings, const std::vector<OpeningWall>& walls,
                   std::size_t inlet, Vec3 centre) {
  ReadShape shape;
  shape.kind = "wye";
  shape.start.origin = openings[inlet].circle.centre;
  shape.start.z = -openings[inlet].circle.normal;
  const Vec3 z = shape.start.z;
  Vec3 aside{};
  double widest = 0.0;
  for (const DrawnEnd& opening : openings)
    if (const Vec3 out = opening.circle.normal - dot(opening.circle.normal, z) * z;
        norm(out) > widest + 1e-6) {
      widest = norm(out);
      aside = out;
    }
  shape.start.x = reference(z, aside);
  const Vec3 x = shape.start.x;
  const Vec3 y = cross(z, x);
  std::vector<LegRead> legs;
  for (std::size_t i = 0; i < openings.size(); ++i) {
    if (i == inlet) continue;
    const FittedCircle& circle = openings[i].circle;
    const Vec3 u = circle.normal;
    legs.push_back({walls[i].radius, dot(circle.centre - centre, u), std::atan2(norm(cross(u, z)), dot(u, z)),
                    std::atan2(dot(u, y), dot(u, x))});
  }
  std::stable_sort(legs.begin(), legs.end(),
                   [](const LegRead& a, const LegRead& b) { return a.around < b.around - 1e-6; });
  shape.keys = {
      {"diameter", length_value(2.0 * walls[inlet].radius)},
      {"inlet_length", length_value(dot(centre - shape.start.origin, z))},
      {"legs", std::to_string(legs.size())},
      {"leg_diameter", joined(legs, [](const LegRead& leg) { return length_value(2.0 * leg.radius); })},
      {"leg_length", joined(legs, [](const LegRead& leg) { return length_value(leg.length); })},
      {"angle", joined(legs, [](const LegRead& leg) { return angle_value(leg.angle); })},
      {"around", joined(legs, [](const LegRead& leg) { return angle_value(leg.around); })}};
  return shape;
}

}  // namespace

std::vector<ReadShape> wyes_of(const Inside& inside) {
  ReadShape none;
  const std::vector<DrawnEnd>& openings = inside.openings;
  std::vector<OpeningWall> walls;
  for (const DrawnEnd& opening : openings) {
    walls.push_back(wall_at(opening, inside));
    if (walls.back().surface == nullptr)
      none.fault = fmt::format("the opening at {} ends no cylinder or cone about its own axis",
                               place_text(opening.circle.centre));
  }
  if (openings.size() > k_most_legs + 1)
    none.fault = fmt::format("has {} openings, and a wye has {} at most", openings.size(), k_most_legs + 1);
  const Vec3 centre = meeting_point(openings);
  for (const DrawnEnd& opening : openings)
    if (none.fault.empty() && norm(cross(centre - opening.circle.centre, opening.circle.normal)) > k_meet)
      none.fault = fmt::format("the axis of the opening at {} does not pass where the others meet",
                               place_text(opening.circle.centre));
  if (!none.fault.empty()) return {none};
  // the inlet touches the sphere with its own radius, so that it is a cylinder; of several the one that the
  // drawing's z axis enters by stands first
  std::vector<ReadShape> shapes;
  for (const bool first : {true, false})
    for (std::size_t i = 0; i < openings.size(); ++i)
      if (walls[i].surface->fit.sort == SurfaceSort::cylinder &&
          (norm(cross(openings[i].circle.normal, {0, 0, 1})) < 1e-9 && openings[i].circle.normal.z < 0.0) ==
              first)
        shapes.push_back(wye_from(openings, walls, i, centre));
  if (!shapes.empty()) return shapes;
  none.fault = "of its openings none ends a cylinder, as a wye's inlet is";
  return {none};
}

}  // namespace linerwright
