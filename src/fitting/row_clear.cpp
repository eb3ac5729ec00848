#include "row_clear.hpp"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

namespace linerwright {

namespace {

constexpr int k_around = 72;
constexpr double k_room = 1e-6;  // mm

std::vector<Vec3> hull_of(const Fitting& fitting, int index, double gauge) {
  const Sheet& sheet = fitting.wall(index).sheet;
  std::vector<Vec3> points;
  for (const End end : k_both_ends)
    for (int i = 0; i < k_around; ++i) {
      const double theta = k_two_pi * i / k_around;
      points.push_back(sheet.point(theta, shell_end(fitting, index, end, theta, -gauge), -gauge));
    }
  return points;
}

Vec3 farthest(const std::vector<Vec3>& points, Vec3 way) {
  return *std::max_element(points.begin(), points.end(),
                           [&](Vec3 a, Vec3 b) { return dot(a, way) < dot(b, way); });
}

// The point nearest to the origin on the flat through some corners: where their weights are all positive.
std::optional<Vec3> nearest_on(const std::vector<Vec3>& corners) {
  // weights l with sum 1 and equal products l . (p_i p_j): eliminated in a bordered matrix
  const std::size_t n = corners.size();
  double m[5][6] = {};
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j < n; ++j) m[i][j] = dot(corners[i], corners[j]);
    m[i][n] = m[n][i] = 1.0;
  }
  m[n][n + 1] = 1.0;
  for (std::size_t column = 0; column <= n; ++column) {
    std::size_t best = column;
    for (std::size_t row = column + 1; row <= n; ++row)
      if (std::fabs(m[row][column]) > std::fabs(m[best][column])) best = row;
    if (m[best][column] == 0.0) return std::nullopt;
    std::swap(m[best], m[column]);
    for (std::size_t row = 0; row <= n; ++row) {
      if (row == column) continue;
      const double share = m[row][column] / m[column][column];
      for (std::size_t k = column; k <= n + 1; ++k) m[row][k] -= share * m[column][k];
    }
  }
  Vec3 point{};
  for (std::size_t i = 0; i < n; ++i) {
    const double weight = m[i][n + 1] / m[i][i];
    if (!(weight > 0.0)) return std::nullopt;
    point = point + weight * corners[i];
  }
  return point;
}

// Leaves of at most four corners those around the point that is nearest to the origin, and gives it.
Vec3 closed_in(std::vector<Vec3>& corners) {
  Vec3 best = corners.front();
  std::vector<Vec3> around{best};
  for (unsigned chosen = 1; chosen < 1U << corners.size(); ++chosen) {
    std::vector<Vec3> some;
    for (std::size_t i = 0; i < corners.size(); ++i)
      if ((chosen >> i & 1U) != 0U) some.push_back(corners[i]);
    const std::optional<Vec3> point = nearest_on(some);
    if (!point || norm(*point) >= norm(best)) continue;
    best = *point;
    around = some;
  }
  corners = around;
  return best;
}

// Whether a plane stands between two hulls. The nearest point of their difference to the origin is closed in
// on by the corners farthest the other way (E. G. Gilbert, D. W. Johnson, S. S. Keerthi, 1988); as soon as
// the farthest corner lies on this side of the origin, the way to it is the plane's normal.
bool apart(const std::vector<Vec3>& a, const std::vector<Vec3>& b) {
  std::vector<Vec3> corners{a.front() - b.front()};
  Vec3 nearest = corners.front();
  constexpr int k_steps = 500;
  for (int step = 0; step < k_steps; ++step) {
    if (norm(nearest) < k_room) return false;
    const Vec3 corner = farthest(a, -nearest) - farthest(b, nearest);
    if (dot(corner, nearest) > k_room * norm(nearest)) return true;
    corners.push_back(corner);
    const double before = norm(nearest);
    nearest = closed_in(corners);
    if (!(norm(nearest) < before) || corners.size() > 3) return false;
  }
  return false;
}

}  // namespace

bool walls_apart(const Fitting& fitting, int a, int b, double gauge) {
  return apart(hull_of(fitting, a, gauge), hull_of(fitting, b, gauge));
}

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
