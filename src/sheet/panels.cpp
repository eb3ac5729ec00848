#include "linerwright/sheet/panels.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "fan.hpp"

namespace linerwright {

namespace {

int wrapped(int k) {
  return ((k % 4) + 4) % 4;
}

Vec3 way_of(int side) {
  constexpr std::array<Vec3, 4> k_ways{
      {{1.0, 0.0, 0.0}, {0.0, 1.0, 0.0}, {-1.0, 0.0, 0.0}, {0.0, -1.0, 0.0}}};
  return k_ways[static_cast<std::size_t>(wrapped(side))];
}

double lean_of_flat(const Sheet& sheet, int side) {
  return Fan(sheet, wrapped(side), false).lean(0.0);
}

// From the rectangle's middle to a side, and along half of it.
double reach_of(const Sheet& sheet, int side) {
  return side % 2 == 0 ? sheet.half_sides().x : sheet.half_sides().y;
}
double half_of(const Sheet& sheet, int side) {
  return side % 2 == 0 ? sheet.half_sides().y : sheet.half_sides().x;
}

}  // namespace

// N.x = A - w of the panel, A - c z - w S of the flat.
double panel_top(const Sheet& sheet, int side) {
  const double c = lean_of_flat(sheet, side);
  return -c / (1.0 + Fan::size_of(c));
}

namespace {

// How far above the open end a panel's rulings run together: within every layer, just under the rectangle's
// plane where the panel reaches above that, just above the end where its layers end below it.
double up_of(const Sheet& sheet, int side) {
  constexpr double k_within = 0.5;  // mm: each layer is longer than that
  return panel_top(sheet, side) < 0.0 ? k_within : sheet.square_collar() - k_within;
}

}  // namespace

PanelCorner panel_corner(const Sheet& sheet, int corner) {
  const double first = panel_top(sheet, corner);
  const double second = panel_top(sheet, corner + 1);
  const Vec3 across = way_of(corner);
  const Vec3 along = way_of(corner + 1);
  const auto at = [&](double off_first, double off_second, double z) {
    return -off_first * across - off_second * along + Vec3{0.0, 0.0, z};
  };
  const double low = std::min(first, second);
  const double high = std::max(first, second);
  PanelCorner made{at(1.0, 1.0, low), at(1.0, 1.0, high), {}};
  constexpr double k_level = 1e-9;  // per millimetre of depth: rounding
  if (high - low < k_level) return made;
  const bool on_first = first < second;  // the lower one's flat
  const double c = lean_of_flat(sheet, on_first ? corner : corner + 1);
  const double off = c * high + Fan::size_of(c);
  made.high = on_first ? at(off, 1.0, high) : at(1.0, off, high);
  made.ear = on_first ? LowPart::first : LowPart::second;
  return made;
}

Frame panel_frame(const Sheet& sheet, int side) {
  Frame frame;
  const Vec3 out = way_of(side);
  frame.origin = sheet.frame().point(reach_of(sheet, side) * out +
                                     Vec3{0.0, 0.0, up_of(sheet, side) - sheet.square_collar()});
  frame.z = sheet.frame().direction(out);
  frame.x = sheet.frame().direction(way_of(side + 1));
  frame.y = sheet.frame().z;
  return frame;
}

std::vector<PanelRay> panel_rays(const Sheet& sheet, int side) {
  const double half = half_of(sheet, side);
  const double low = -up_of(sheet, side);
  const double rect = sheet.square_collar() + low;  // the rectangle's plane
  const PanelCorner after = panel_corner(sheet, side);
  const PanelCorner before = panel_corner(sheet, side + 3);
  // ways from the corner, along the side
  const auto along = [&](Vec3 way) { return Vec2{dot(way, way_of(side + 1)), way.z}; };
  std::vector<PanelRay> rays{{{-half, low}, {1.0, 0.0}}, {{half, low}, {-1.0, 0.0}}};
  rays.push_back({{half, rect}, along(after.low)});
  if (after.ear == LowPart::second) rays.push_back({{half, rect}, along(after.high), true});
  if (before.ear == LowPart::first) rays.push_back({{-half, rect}, along(before.high), true});
  rays.push_back({{-half, rect}, along(before.low)});
  return rays;
}

std::vector<Vec2> panel_face(const Sheet& sheet, int side, double w) {
  std::vector<Vec2> corners;
  for (const PanelRay& ray : panel_rays(sheet, side))
    if (w > 0.0 || !ray.ear) corners.push_back(ray.at + w * ray.way);
  return corners;
}

double panel_ear(const Sheet& sheet, int side, bool at_end, double w) {
  const PanelCorner corner = panel_corner(sheet, at_end ? side : side + 3);
  if (!(w > 0.0) || corner.ear != (at_end ? LowPart::second : LowPart::first)) return 0.0;
  // from the right angle of a triangle to its longest side
  const double up = w * (corner.high.z - corner.low.z);
  const double along = w * std::fabs(dot(corner.high - corner.low, way_of(side + 1)));
  return up * along / std::hypot(up, along);
}

double panel_reach(const Sheet& sheet, int side, double theta, double w) {
  const std::vector<Vec2> face = panel_face(sheet, side, w);
  const Vec2 way{std::cos(theta), std::sin(theta)};
  double best = 0.0;
  double nearest = 1e300;
  for (std::size_t i = 0; i < face.size(); ++i) {
    const Vec2 a = face[i];
    const Vec2 b = face[(i + 1) % face.size()];
    // as far outside of the side's wedge as may be rounding
    const double out = std::max({0.0, -cross(a, way) / norm(a), -cross(way, b) / norm(b)});
    if (out >= nearest) continue;
    nearest = out;
    best = cross(a, b) / cross(way, b - a);
  }
  return best;
}

std::vector<double> panel_rulings(const Sheet& sheet, int side, double w) {
  std::vector<double> rulings;
  for (const Vec2 corner : panel_face(sheet, side, w)) {
    const double theta = std::atan2(corner.y, corner.x);
    rulings.push_back(theta < 0.0 ? theta + k_two_pi : theta);
  }
  std::sort(rulings.begin(), rulings.end());
  return rulings;
}

Sheet panel_disc(const Sheet& sheet, int side) {
  // a panel reaches above the rectangle's plane by less than the depth
  const double radius = 2.0 * half_of(sheet, side) + sheet.square_collar();
  return Sheet::disc(panel_frame(sheet, side), radius);
}

double panel_area(const Sheet& sheet, int side, double w) {
  const std::vector<Vec2> face = panel_face(sheet, side, w);
  double twice = 0.0;
  for (std::size_t i = 0; i < face.size(); ++i) twice += cross(face[i], face[(i + 1) % face.size()]);
  return 0.5 * twice;
}

double panel_seal(const Sheet& sheet, int side, double w) {
  const std::vector<Vec2> face = panel_face(sheet, side, w);
  const PanelCorner after = panel_corner(sheet, side);
  const bool eared = w > 0.0 && after.ear == LowPart::second;
  const bool eared_before = w > 0.0 && panel_corner(sheet, side + 3).ear == LowPart::first;
  const Vec2 right = face[eared ? 3 : 2];
  const Vec2 left = face[face.size() - (eared_before ? 2 : 1)];
  return sheet.square_collar() + w * after.low.z + w * norm(after.high - after.low) + norm(right - left);
}

bool panels_seen_whole(const Sheet& sheet, double w) {
  for (int side = 0; side < 4; ++side) {
    const std::vector<Vec2> face = panel_face(sheet, side, w);
    for (std::size_t i = 0; i < face.size(); ++i)
      if (!(cross(face[i], face[(i + 1) % face.size()]) > 0.0)) return false;
  }
  return true;
}

bool ears_undercut_flats(const Sheet& sheet, int side, double w) {
  constexpr double k_rounding = 1e-9;  // mm; where both are one the ear lies along a ruling
  const bool eared =
      panel_corner(sheet, side).ear == LowPart::second || panel_corner(sheet, side + 3).ear == LowPart::first;
  const Vec3 middle{sheet.centre().x, sheet.centre().y, 0.0};
  return eared && dot(middle, way_of(side)) > reach_of(sheet, side) - w + k_rounding;
}

bool panels_clear_of_cones(const Sheet& sheet) {
  for (int corner = 0; corner < 4; ++corner)
    if (!(std::max(0.0, panel_corner(sheet, corner).high.z) < corner_fold(sheet, corner).fork.z))
      return false;
  return true;
}

}  // namespace linerwright
