#include "shape.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace linerwright::nesting {
namespace {

// Taken off every outline so that a piece fits a space of exactly its size after rounding to the grid.
// Two pieces may thereby intrude by twice this, which k_nest_rounding covers.
constexpr double k_relief = 2e-4;
// Simplifying pays from this many vertices on, and may go this far outside.
constexpr std::size_t k_plain_enough = 16;
constexpr double k_simplify = 0.1;
constexpr double k_simplify_relative = 5e-4;  // of the shorter side of the box

struct Corner {
  Vec2 p;
  double error;  // how far the edge that starts here already lies outside the original
};

double turn(Vec2 a, Vec2 b, Vec2 c) {
  return cross(b - a, c - b);
}

// A way to save one vertex: drop corner `at` (hollow), or replace the edge from `at` by `meeting`, where its
// neighbours meet when prolonged (full on both sides).
struct Saving {
  std::size_t at = 0;
  double error = 0.0;
  std::optional<Vec2> meeting;
};

std::optional<Saving> saving_at(const std::vector<Corner>& ring, std::size_t i) {
  const std::size_t n = ring.size();
  const Corner& a = ring[(i + n - 1) % n];
  const Corner& b = ring[i];
  const Corner& c = ring[(i + 1) % n];
  const Corner& d = ring[(i + 2) % n];
  if (turn(a.p, b.p, c.p) <= 0.0) {
    return Saving{i, distance_to_segment(b.p, a.p, c.p) + std::max(a.error, b.error), std::nullopt};
  }
  const Vec2 in = b.p - a.p;
  const Vec2 out = d.p - c.p;
  const double sine = cross(in, out);
  if (turn(b.p, c.p, d.p) <= 0.0 || sine <= 1e-9 * norm(in) * norm(out)) return std::nullopt;
  const Vec2 meeting = b.p + (cross(c.p - b.p, out) / sine) * in;
  const double error = std::max({a.error, c.error, distance_to_segment(meeting, b.p, c.p) + b.error});
  return Saving{i, error, meeting};
}

Ring scaled_ring(const Ring& ring, Vec2 centre) {
  Ring moved;
  for (Vec2 p : ring) moved.push_back(p - centre);
  return moved;
}

ClipperLib::Path to_grid(const Ring& ring) {
  ClipperLib::Path path;
  for (Vec2 p : ring) {
    const ClipperLib::IntPoint q(std::llround(p.x * k_units_per_mm), std::llround(p.y * k_units_per_mm));
    if (path.empty() || path.back() != q) path.push_back(q);
  }
  for (bool changed = true; changed && path.size() > 2;) {  // straight corners, spikes and repeats
    changed = false;
    for (std::size_t i = 0; i < path.size() && path.size() > 2; ++i) {
      const ClipperLib::IntPoint a = path[(i + path.size() - 1) % path.size()];
      const ClipperLib::IntPoint b = path[i];
      const ClipperLib::IntPoint c = path[(i + 1) % path.size()];
      const auto part = [](ClipperLib::cInt p, ClipperLib::cInt q) {
        return static_cast<long double>(p - q);
      };
      if (part(b.X, a.X) * part(c.Y, b.Y) != part(b.Y, a.Y) * part(c.X, b.X)) continue;
      path.erase(path.begin() + static_cast<std::ptrdiff_t>(i--));
      changed = true;
    }
  }
  return path;
}

// The outline with room for half the gap; holes only when something may lie in them.
Region grown(const NestPart& part, Vec2 centre, const NestOptions& options) {
  Region region;
  region.outer = scaled_ring(without_repeats(part.outline), centre);
  if (options.use_holes) {
    for (const Ring& hole : part.holes) region.holes.push_back(scaled_ring(without_repeats(hole), centre));
  }
  const double half_gap = 0.5 * options.gap;
  std::vector<Region> result;
  if (half_gap > k_relief) {
    const double chord_error = std::min(0.05, 0.1 * half_gap);
    result = offset({region}, half_gap + chord_error - k_relief, OffsetCorners::round, chord_error);
  } else {
    result = offset({region}, half_gap - k_relief, OffsetCorners::mitre);
  }
  if (result.size() != 1) return region;  // a neck thinner than the relief: keep it whole
  if (!options.use_holes) result[0].holes.clear();
  return result[0];
}

Shape make_shape(const NestPart& part, const Box& box, const NestOptions& options) {
  const Vec2 centre = 0.5 * (box.low + box.high);
  const Region region = grown(part, centre, options);
  Shape shape;
  shape.half = 0.5 * (box.high - box.low);
  shape.area = area(Region{part.outline, part.holes});
  const double tolerance =
      std::min(k_simplify, 2.0 * k_simplify_relative * std::min(shape.half.x, shape.half.y));
  shape.solid.push_back(to_grid(simplified_outward(region.outer, tolerance)));
  for (const Ring& hole : region.holes) {
    const ClipperLib::Path path = to_grid(simplified_outward(hole, tolerance));
    if (path.size() > 2) shape.solid.push_back(path);
  }
  for (std::size_t i = 0; i < shape.solid.size(); ++i) {
    if (ClipperLib::Orientation(shape.solid[i]) != (i == 0)) ClipperLib::ReversePath(shape.solid[i]);
  }
  for (const ClipperLib::IntPoint& p : shape.solid.front()) {
    shape.reach.x = std::max(shape.reach.x, std::fabs(static_cast<double>(p.X)) / k_units_per_mm);
    shape.reach.y = std::max(shape.reach.y, std::fabs(static_cast<double>(p.Y)) / k_units_per_mm);
  }
  return shape;
}

}  // namespace

Ring without_repeats(const Ring& ring) {
  Ring kept;
  for (Vec2 p : ring) {
    if (kept.empty() || !(kept.back() == p)) kept.push_back(p);
  }
  while (kept.size() > 1 && kept.front() == kept.back()) kept.pop_back();
  return kept;
}

Ring simplified_outward(const Ring& ring, double tolerance) {
  if (ring.size() <= k_plain_enough) return ring;
  std::vector<Corner> corners;
  for (Vec2 p : ring) corners.push_back({p, 0.0});
  while (corners.size() > 4) {
    std::optional<Saving> best;
    for (std::size_t i = 0; i < corners.size(); ++i) {
      const auto saving = saving_at(corners, i);
      if (saving && saving->error <= tolerance && (!best || saving->error < best->error)) best = saving;
    }
    if (!best) break;
    const std::size_t n = corners.size();
    if (best->meeting) {
      const std::size_t next = (best->at + 1) % n;
      Corner& before = corners[(best->at + n - 1) % n];
      before.error = std::max(before.error, best->error);
      corners[next].p = *best->meeting;
      corners[next].error = std::max(corners[next].error, best->error);
    } else {
      corners[(best->at + n - 1) % n].error = best->error;
    }
    corners.erase(corners.begin() + static_cast<std::ptrdiff_t>(best->at));
  }
  Ring result;
  for (const Corner& corner : corners) result.push_back(corner.p);
  return self_intersects(result, true) ? ring : result;
}

Shapes prepare_shapes(const NestJob& job) {
  Shapes result;
  for (const NestPart& part : job.parts) {
    const Box box = *bounding_box(part.outline);
    Shape shape = make_shape(part, box, job.options);
    result.area_of_part.push_back(shape.area);
    result.taken_of_part.push_back(job.options.use_holes ? shape.area : area(Region{part.outline, {}}));
    std::size_t same = 0;
    while (same < result.shapes.size() && result.shapes[same].solid != shape.solid) ++same;
    if (same == result.shapes.size()) result.shapes.push_back(std::move(shape));
    result.of_part.push_back(same);
    result.centre_of_part.push_back(0.5 * (box.low + box.high));
  }
  return result;
}

}  // namespace linerwright::nesting
