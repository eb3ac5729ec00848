// Level sections of a square-to-round's layers.
#include <algorithm>
#include <cmath>

#include "linerwright/sheet/folds.hpp"
#include "search.hpp"

namespace linerwright {

namespace {

constexpr double k_quarter = 0.5 * k_pi;

// A ruling's point at height z of the layer at depth w, and its derivative by theta.
struct Crossing {
  double v;
  Vec2 at, slope;
};
Crossing crossing_at(const Sheet& sheet, double theta, double z, double w) {
  const Sheet::Ruling r = sheet.ruling(theta);
  const double v = (z + w * r.normal.z) / r.direction.z;
  const double v_slope = (w * r.normal_slope.z - v * r.direction_slope.z) / r.direction.z;
  const Vec3 at = r.base + v * r.direction - w * r.normal;
  const Vec3 slope = r.base_slope + v_slope * r.direction + v * r.direction_slope - w * r.normal_slope;
  return {v, {at.x, at.y}, {slope.x, slope.y}};
}

// Where two flats' layers meet at height z.
Vec2 meeting_of_flats(const Sheet& sheet, int corner, double z, double w) {
  const auto off = [&](int flat) {
    const Sheet::Ruling r = sheet.ruling(k_quarter * flat);
    return (dot(r.normal, r.base) - w - r.normal.z * z) / std::hypot(r.normal.x, r.normal.y);
  };
  const double cs = std::cos(k_quarter * corner);
  const double sn = std::sin(k_quarter * corner);
  return off(corner) * Vec2{cs, sn} + off(corner + 1) * Vec2{-sn, cs};
}

}  // namespace

double section_area(const Sheet& sheet, double z, double w) {
  double area = 0.0;
  std::vector<Vec2> ring;
  for (int corner = 0; corner < 4; ++corner) {
    const auto inside = [&](double turn) {
      const double theta = corner_theta(corner, turn);
      const double v = crossing_at(sheet, theta, z, w).v;
      constexpr double k_rounding = 1e-9;  // mm: a section in an end's own plane
      return std::min(v - low_end(sheet, theta, w).v, high_end(sheet, theta, w).v - v) + k_rounding;
    };
    // the cone's part of the section holds the fork's ruling, or others where the tip's mitre takes that
    double held = corner_turn(corner, corner_fold(sheet, corner).fork_theta);
    constexpr int k_tries = 32;
    for (int i = 1; i < k_tries && inside(held) < 0.0; ++i)
      if (const double turn = k_quarter * i / k_tries; inside(turn) >= 0.0) held = turn;
    if (inside(held) < 0.0) {
      ring.push_back(meeting_of_flats(sheet, corner, z, w));
      continue;
    }
    const auto reach = [&](double end) { return inside(end) >= 0.0 ? end : root(inside, end, held); };
    const double first = corner_theta(corner, reach(0.0));
    const double last = corner_theta(corner, reach(k_quarter));
    const Vec2 start = crossing_at(sheet, first, z, w).at;
    ring.push_back(start);
    ring.push_back(crossing_at(sheet, last, z, w).at);
    const auto swept = [&](double theta) {
      const Crossing at = crossing_at(sheet, theta, z, w);
      return cross(at.at - start, at.slope);
    };
    area += 0.5 * integrate(swept, first, last, 4);
  }
  for (std::size_t i = 0; i < ring.size(); ++i) area += 0.5 * cross(ring[i], ring[(i + 1) % ring.size()]);
  return area;
}

}  // namespace linerwright
