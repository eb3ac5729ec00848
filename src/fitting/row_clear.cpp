#include "row_clear.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace linerwright {

namespace {

constexpr int k_around = 72;
constexpr double k_room = 1e-6;  // mm

std::vector<Vec3> hull_of(const Fitting& fitting, int index, double gauge) {
  const Sheet& sheet = fitting.walls[static_cast<std::size_t>(index)].sheet;
  std::vector<Vec3> points;
  for (const bool high : {false, true})
    for (int i = 0; i < k_around; ++i) {
      const double theta = k_two_pi * i / k_around;
      points.push_back(sheet.point(theta, end_height(fitting, index, high, theta, -gauge, true), -gauge));
    }
  return points;
}

Vec3 farthest(const std::vector<Vec3>& points, Vec3 way) {
  return *std::max_element(points.begin(), points.end(),
                           [&](Vec3 a, Vec3 b) { return dot(a, way) < dot(b, way); });
}

// Whether a plane stands between two hulls. The nearest point of their difference to the origin is closed in
// on by steps toward the farthest corner the other way (E. G. Gilbert, 1966); as soon as that corner lies on
// the far side of the origin for good, the way to it is the plane's normal.
bool apart(const std::vector<Vec3>& a, const std::vector<Vec3>& b) {
  Vec3 nearest = a.front() - b.front();
  constexpr int k_steps = 2000;
  for (int step = 0; step < k_steps; ++step) {
    const Vec3 corner = farthest(a, -nearest) - farthest(b, nearest);
    if (dot(corner, nearest) > k_room * norm(nearest)) return true;
    const Vec3 along = corner - nearest;
    const double square = dot(along, along);
    if (!(square > 0.0)) return false;
    const double share = std::clamp(-dot(nearest, along) / square, 0.0, 1.0);
    nearest = nearest + share * along;
    if (norm(nearest) < k_room) return false;
  }
  return false;
}

}  // namespace

std::optional<std::pair<int, int>> walls_that_meet(const Fitting& fitting, double gauge) {
  std::vector<std::vector<Vec3>> hulls;
  for (int w = 0; w < static_cast<int>(fitting.walls.size()); ++w)
    hulls.push_back(hull_of(fitting, w, gauge));
  for (std::size_t i = 0; i < hulls.size(); ++i)
    for (std::size_t j = i + 2; j < hulls.size(); ++j)
      if (!apart(hulls[i], hulls[j])) return std::make_pair(static_cast<int>(i), static_cast<int>(j));
  return std::nullopt;
}

}  // namespace linerwright
