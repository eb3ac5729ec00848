// Joints of simple walls, and lengths and distances by plain numerics.
#pragma once

#include <algorithm>
#include <cmath>

#include "linerwright/joint/joint.hpp"
#include "sheet/numeric.hpp"

namespace linerwright {

// Two equal cylinders along +z and along z turned by twice `angle` toward +x, mitred through the origin;
// theta = 0 is the throat on both.
inline Joint mitre_joint(double radius, double angle) {
  Frame above;
  above.z = {std::sin(2 * angle), 0, std::cos(2 * angle)};
  above.x = {std::cos(2 * angle), 0, -std::sin(2 * angle)};
  return {Sheet::cylinder(Frame{}, radius),
          {Sheet::cylinder(above, radius)},
          PlaneTarget{{}, {std::sin(angle), 0, std::cos(angle)}}};
}

// A taper on its low or high collar; the frame's origin is the centre of the taper's low circle.
inline Joint collar_joint(const Sheet& taper, End end) {
  Frame frame = taper.frame();
  if (end == End::high) frame.origin = frame.point({taper.offset(), 0, taper.height()});
  return {taper, {Sheet::cylinder(frame, end == End::high ? taper.r2() : taper.r1())}, CollarTarget{end}};
}

// Frame of a branch that leaves a body along z at `angle` from the body's far (+z) end, from the crossing of
// the axes; theta = 0 faces the far end, `offset` moves it toward its own theta = 90 degrees.
inline Frame branch_frame(double angle, double offset) {
  Frame frame;
  frame.z = {std::sin(angle), 0, std::cos(angle)};
  frame.x = {-std::cos(angle), 0, std::sin(angle)};
  frame.y = cross(frame.z, frame.x);  // -y of the body
  frame.origin = offset * frame.y;
  return frame;
}

inline Joint saddle_joint(double body, double branch, double angle = k_pi / 2, double offset = 0.0) {
  const Sheet run = Sheet::cylinder(Frame{}, body);
  Joint joint{Sheet::cylinder(branch_frame(angle, offset), branch), {run}, BodyTarget{run}};
  joint.splits = {0.5 * k_pi, 1.5 * k_pi};
  return joint;
}

// A conical branch: radius `base` at the axes' crossing and `top` at `height` along its axis.
inline Joint cone_saddle_joint(double body, double base, double top, double height, double angle,
                               double offset) {
  const Sheet run = Sheet::cylinder(Frame{}, body);
  Joint joint{Sheet::cone(branch_frame(angle, offset), base, top, height), {run}, BodyTarget{run}};
  joint.splits = {0.5 * k_pi, 1.5 * k_pi};
  return joint;
}

// Length of a smooth closed joint at equal depth w: slopes by differences, equal steps around.
inline double length_around(const Joint& joint, double w) {
  return around(
      [&](double s) {
        return norm(slope([&](double at) { return point_of(joint, at, shell_depths(w)); }, s, 2e-3));
      },
      2000);
}

// Distance of a point from a sheet's duct face near ruling theta: the least distance from a ruling's line, by
// golden section.
inline double distance_from_wall(const Sheet& sheet, Vec3 point, double theta) {
  const auto from_line = [&](double at) {
    const Vec3 start = point - sheet.point(at, 0, 0);
    return norm(cross(start, sheet.direction(at)));
  };
  const double golden = 0.5 * (std::sqrt(5.0) - 1.0);
  double low = theta - 0.5;
  double high = theta + 0.5;
  while (high - low > 1e-9) {
    const double a = high - golden * (high - low);
    const double b = low + golden * (high - low);
    (from_line(a) < from_line(b) ? high : low) = from_line(a) < from_line(b) ? b : a;
  }
  return from_line(0.5 * (low + high));
}

// Distance of a point from a cylinder's axis.
inline double distance_from_axis(const Sheet& cylinder, Vec3 point) {
  const Vec3 p = cylinder.frame().local_point(point);
  return std::hypot(p.x, p.y);
}

}  // namespace linerwright
