// Points, directions and placements. Lengths are millimetres and angles radians throughout the library;
// units exist only where people write and read numbers (units.hpp).
#pragma once

#include <algorithm>
#include <array>
#include <cmath>

namespace linerwright {

constexpr double k_pi = 3.14159265358979323846;
constexpr double k_two_pi = 2.0 * k_pi;

// A point or direction on the flat board.
struct Vec2 {
  double x = 0.0;
  double y = 0.0;
};

constexpr Vec2 operator+(Vec2 a, Vec2 b) {
  return {a.x + b.x, a.y + b.y};
}
constexpr Vec2 operator-(Vec2 a, Vec2 b) {
  return {a.x - b.x, a.y - b.y};
}
constexpr Vec2 operator*(double k, Vec2 a) {
  return {k * a.x, k * a.y};
}
constexpr bool operator==(Vec2 a, Vec2 b) {
  return a.x == b.x && a.y == b.y;
}
constexpr double dot(Vec2 a, Vec2 b) {
  return a.x * b.x + a.y * b.y;
}
// z of the cross product: positive when b lies to the left of a.
constexpr double cross(Vec2 a, Vec2 b) {
  return a.x * b.y - a.y * b.x;
}
inline double norm(Vec2 a) {
  return std::hypot(a.x, a.y);
}
inline double distance(Vec2 a, Vec2 b) {
  return norm(a - b);
}
// Distance from p to the straight piece from a to b.
inline double distance_to_segment(Vec2 p, Vec2 a, Vec2 b) {
  const Vec2 along = b - a;
  const double squared = dot(along, along);
  if (squared == 0.0) return distance(p, a);
  return distance(p, a + std::clamp(dot(p - a, along) / squared, 0.0, 1.0) * along);
}

// A point or direction in space.
struct Vec3 {
  double x = 0.0;
  double y = 0.0;
  double z = 0.0;
};

constexpr Vec3 operator+(Vec3 a, Vec3 b) {
  return {a.x + b.x, a.y + b.y, a.z + b.z};
}
constexpr Vec3 operator-(Vec3 a, Vec3 b) {
  return {a.x - b.x, a.y - b.y, a.z - b.z};
}
constexpr Vec3 operator-(Vec3 a) {
  return {-a.x, -a.y, -a.z};
}
constexpr Vec3 operator*(double k, Vec3 a) {
  return {k * a.x, k * a.y, k * a.z};
}
constexpr double dot(Vec3 a, Vec3 b) {
  return a.x * b.x + a.y * b.y + a.z * b.z;
}
constexpr Vec3 cross(Vec3 a, Vec3 b) {
  return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
inline double norm(Vec3 a) {
  return std::sqrt(dot(a, a));
}
inline double distance(Vec3 a, Vec3 b) {
  return norm(a - b);
}
inline Vec3 normalised(Vec3 a) {
  return (1.0 / norm(a)) * a;
}

// A right-handed placement: x, y, z are orthonormal directions of the local axes.
struct Frame {
  Vec3 origin{};
  Vec3 x{1.0, 0.0, 0.0};
  Vec3 y{0.0, 1.0, 0.0};
  Vec3 z{0.0, 0.0, 1.0};

  // A local point and a local direction in space.
  Vec3 point(Vec3 local) const { return origin + direction(local); }
  Vec3 direction(Vec3 local) const { return local.x * x + local.y * y + local.z * z; }
  // A point and a direction in space, in local coordinates.
  Vec3 local_point(Vec3 p) const { return local_direction(p - origin); }
  Vec3 local_direction(Vec3 d) const { return {dot(d, x), dot(d, y), dot(d, z)}; }
};

}  // namespace linerwright
