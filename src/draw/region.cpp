// Union, difference, intersection and offset of regions by the Clipper library, on a grid of 1e-5 mm.
#include <algorithm>
#include <cmath>
#include <polyclipping/clipper.hpp>

#include "linerwright/draw/polygon.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

namespace clip = ClipperLib;

constexpr double k_steps_per_mm = 1e5;
constexpr double k_furthest = 1e6;     // mm
constexpr double k_mitre_limit = 2.0;  // times the offset distance

clip::Path path_of(const Ring& ring, bool counter_clockwise) {
  clip::Path path;
  path.reserve(ring.size());
  for (const Vec2 p : ring) {
    if (!(std::abs(p.x) <= k_furthest && std::abs(p.y) <= k_furthest)) {
      throw GeometryError("region: a coordinate is not finite or lies beyond a million mm");
    }
    path.emplace_back(std::llround(p.x * k_steps_per_mm), std::llround(p.y * k_steps_per_mm));
  }
  if (clip::Orientation(path) != counter_clockwise) clip::ReversePath(path);
  return path;
}

clip::Paths paths_of(const std::vector<Region>& regions) {
  clip::Paths paths;
  for (const Region& region : regions) {
    paths.push_back(path_of(region.outer, true));
    for (const Ring& hole : region.holes) paths.push_back(path_of(hole, false));
  }
  return paths;
}

Ring ring_of(const clip::Path& path) {
  Ring ring;
  ring.reserve(path.size());
  for (const clip::IntPoint& p : path) {
    ring.push_back({static_cast<double>(p.X) / k_steps_per_mm, static_cast<double>(p.Y) / k_steps_per_mm});
  }
  return ring;
}

std::vector<Region> regions_of(const clip::PolyTree& tree) {
  std::vector<Region> regions;
  for (const clip::PolyNode* node = tree.GetFirst(); node != nullptr; node = node->GetNext()) {
    if (node->IsHole()) continue;
    Region region{ring_of(node->Contour), {}};
    for (const clip::PolyNode* hole : node->Childs) region.holes.push_back(ring_of(hole->Contour));
    regions.push_back(std::move(region));
  }
  return regions;
}

std::vector<Region> combined(clip::ClipType operation, const std::vector<Region>& a,
                             const std::vector<Region>& b) {
  clip::Clipper clipper;
  clipper.StrictlySimple(true);
  const bool any_a = clipper.AddPaths(paths_of(a), clip::ptSubject, true);
  const bool any_b = clipper.AddPaths(paths_of(b), clip::ptClip, true);
  if (!any_a && !any_b) return {};  // Clipper takes nothing at all for a failure
  clip::PolyTree tree;
  if (!clipper.Execute(operation, tree, clip::pftPositive, clip::pftPositive)) {
    throw GeometryError("region: combining the outlines failed");
  }
  return regions_of(tree);
}

clip::JoinType join_of(OffsetCorners corners) {
  switch (corners) {
    case OffsetCorners::round:
      return clip::jtRound;
    case OffsetCorners::mitre:
      return clip::jtMiter;
    case OffsetCorners::square:
      return clip::jtSquare;
  }
  return clip::jtRound;
}

}  // namespace

std::vector<Region> united(const std::vector<Region>& regions) {
  return combined(clip::ctUnion, regions, {});
}

std::vector<Region> subtracted(const std::vector<Region>& from, const std::vector<Region>& cut) {
  return combined(clip::ctDifference, from, cut);
}

std::vector<Region> intersected(const std::vector<Region>& a, const std::vector<Region>& b) {
  return combined(clip::ctIntersection, a, b);
}

std::vector<Region> offset(const std::vector<Region>& regions, double distance, OffsetCorners corners,
                           double chord_error) {
  if (!(std::abs(distance) <= k_furthest) || !(chord_error > 0.0)) {
    throw GeometryError("region: an offset needs a finite distance and a chord error above zero");
  }
  // Clipper rounds the number of an arc's chords, down from 1.5 to 1 at worst: chords 1.5 times as long lie
  // 1.5^2 times as far from the arc.
  constexpr double k_rounded = 1.5 * 1.5;
  clip::ClipperOffset clipper(k_mitre_limit, chord_error / k_rounded * k_steps_per_mm);
  clipper.AddPaths(paths_of(united(regions)), join_of(corners), clip::etClosedPolygon);
  clip::PolyTree tree;
  clipper.Execute(tree, distance * k_steps_per_mm);
  return regions_of(tree);
}

}  // namespace linerwright
