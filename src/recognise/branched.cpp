// Bodies with branches: two openings that look apart along one axis are the body's, each other one ends a
// branch.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "shapes.hpp"

namespace linerwright {

namespace {

constexpr double k_meet = 0.05;  // mm

struct Body {
  std::size_t from = 0, to = 0;  // openings
  double radius = 0.0;
  double length = 0.0;
};

// Of all pairs of openings that could end a body the widest, then the longest.
Body body_of(const Inside& inside, const std::vector<const InsideSurface*>& walls) {
  Body body;
  for (std::size_t i = 0; i < inside.openings.size(); ++i)
    for (std::size_t k = i + 1; k < inside.openings.size(); ++k) {
      const FittedCircle& a = inside.openings[i].circle;
      const FittedCircle& b = inside.openings[k].circle;
      if (walls[i] != walls[k] || walls[i]->fit.sort != SurfaceSort::cylinder ||
          dot(a.normal, b.normal) > 0.0)
        continue;
      const double radius = walls[i]->fit.radius;
      const double length = distance(a.centre, b.centre);
      const bool wider = radius > body.radius + k_meet;
      if (!wider && (radius < body.radius - k_meet || length < body.length)) continue;
      const bool turned = points_forward(a.normal);
      body = {turned ? k : i, turned ? i : k, radius, length};
    }
  return body;
}

struct BranchRead {
  double radius = 0.0, base = 0.0, length = 0.0, position = 0.0, angle = 0.0, offset = 0.0;
  Vec3 out{};  // square to the body
  std::string fault;
};

// By the nearest points of both axes: where along the body, how far aside, how long.
BranchRead branch_of(const DrawnEnd& opening, const InsideSurface& wall, Vec3 start, Vec3 along,
                     double body_radius) {
  BranchRead b;
  const FittedCircle& circle = opening.circle;
  const Vec3 u = circle.normal;
  const double c = dot(u, along);
  b.angle = std::atan2(norm(cross(u, along)), c);
  if (norm(cross(u, along)) < 0.01) {
    b.fault =
        fmt::format("the opening at {} looks along the body and ends no body", place_text(circle.centre));
    return b;
  }
  b.out = normalised(u - c * along);
  const Vec3 side = cross(along, b.out);
  const Vec3 d = circle.centre - start;
  b.offset = dot(d, side);
  b.length = dot(d, b.out) / dot(u, b.out);
  b.position = dot(d, along) - b.length * c;
  b.radius = wall.fit.sort == SurfaceSort::cylinder ? wall.fit.radius : circle.radius;
  b.base = b.radius;
  if (wall.fit.sort == SurfaceSort::cylinder) return b;
  if (dot(wall.fit.axis, u) > 0.0) {
    b.fault = fmt::format("the branch at {} widens away from the body", place_text(circle.centre));
    return b;
  }
  const double enters =
      std::sqrt(std::max(0.0, body_radius * body_radius - b.offset * b.offset)) / std::sin(b.angle);
  const double to_apex = dot(wall.fit.origin - circle.centre, u);
  b.radius = to_apex * std::tan(wall.fit.angle);
  b.base = (to_apex + b.length - enters) * std::tan(wall.fit.angle);
  return b;
}

// "12 mm & 8 mm"; one value where all agree.
template <class Value>
std::string joined(const std::vector<BranchRead>& branches, Value&& value) {
  std::vector<std::string> all;
  for (const BranchRead& b : branches) all.push_back(value(b));
  std::string out = all.front();
  // the number of branches is that of their diameters
  for (std::size_t i = 1; i < all.size(); ++i) out += " & " + all[i];
  return out;
}

}  // namespace

ReadShape branched_of(const Inside& inside) {
  ReadShape shape;
  std::vector<const InsideSurface*> walls;
  for (const DrawnEnd& opening : inside.openings) {
    walls.push_back(wall_at(opening, inside).surface);
    if (walls.back() == nullptr) {
      shape.fault = fmt::format("the opening at {} ends no cylinder or cone about its own axis",
                                place_text(opening.circle.centre));
      return shape;
    }
  }
  const Body body = body_of(inside, walls);
  if (!(body.radius > 0.0)) {
    shape.fault = fmt::format("of its {} openings no two end one straight body", inside.openings.size());
    return shape;
  }
  for (const InsideSurface& surface : inside.surfaces)
    if (!is_small(surface, inside) && std::find(walls.begin(), walls.end(), &surface) == walls.end()) {
      shape.fault = fmt::format("the wall of face {} leads to no opening of its own", surface.faces.front());
      return shape;
    }
  shape.kind = "tee";
  shape.start.origin = inside.openings[body.from].circle.centre;
  shape.start.z = inside.openings[body.to].circle.normal;
  std::vector<BranchRead> branches;
  for (std::size_t i = 0; i < inside.openings.size(); ++i) {
    if (i == body.from || i == body.to) continue;
    branches.push_back(
        branch_of(inside.openings[i], *walls[i], shape.start.origin, shape.start.z, body.radius));
    if (!branches.back().fault.empty()) shape.fault = branches.back().fault;
  }
  if (!shape.fault.empty()) return shape;
  std::stable_sort(branches.begin(), branches.end(),
                   [](const BranchRead& a, const BranchRead& b) { return a.position < b.position - k_meet; });
  shape.start.x = reference(shape.start.z, branches.front().out);
  const Vec3 x = shape.start.x;
  const Vec3 y = cross(shape.start.z, x);
  const auto add = [&](const char* key, const auto& value) {
    shape.keys.emplace_back(key, joined(branches, value));
  };
  shape.keys = {{"diameter", length_value(2.0 * body.radius)}, {"length", length_value(body.length)}};
  add("branch_diameter", [](const BranchRead& b) { return length_value(2.0 * b.radius); });
  add("branch_length", [](const BranchRead& b) { return length_value(b.length); });
  add("angle", [](const BranchRead& b) { return angle_value(b.angle); });
  add("position", [](const BranchRead& b) { return length_value(b.position); });
  add("around", [&](const BranchRead& b) { return angle_value(std::atan2(dot(b.out, y), dot(b.out, x))); });
  add("offset", [](const BranchRead& b) { return length_value(b.offset); });
  if (std::any_of(branches.begin(), branches.end(), [](const BranchRead& b) { return b.base > b.radius; }))
    add("branch_base", [](const BranchRead& b) { return length_value(2.0 * b.base); });
  return shape;
}

}  // namespace linerwright
