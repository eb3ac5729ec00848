#include "depth_field.hpp"

#include <algorithm>
#include <cmath>

#include "shape.hpp"

namespace linerwright::nesting {
namespace {

// Cells along the longer side; more cells make shorter lists and take longer to fill.
constexpr int k_cells = 24;

double square(Vec2 a) {
  return dot(a, a);
}

}  // namespace

DepthField::DepthField(const ClipperLib::Paths& region) : region_(region) {
  add_edges();
  fill_cells();
}

void DepthField::add_edges() {
  bool any = false;
  for (const ClipperLib::Path& path : region_) {
    std::vector<Vec2> points;
    for (const auto& p : path) {
      points.push_back(
          {static_cast<double>(p.X) / k_units_per_mm, static_cast<double>(p.Y) / k_units_per_mm});
    }
    const std::size_t n = points.size();
    const auto convex = [&](std::size_t i) {
      const Vec2 p = points[i];
      return cross(p - points[(i + n - 1) % n], points[(i + 1) % n] - p) > 0.0;
    };
    for (std::size_t i = 0; i < n; ++i) {
      const std::size_t next = (i + 1) % n;
      const Vec2 along = points[next] - points[i];
      edges_.push_back({points[i], along, 1.0 / square(along), convex(i), convex(next)});
      if (!any) low_ = high_ = points[i];
      any = true;
      low_ = {std::min(low_.x, points[i].x), std::min(low_.y, points[i].y)};
      high_ = {std::max(high_.x, points[i].x), std::max(high_.y, points[i].y)};
    }
  }
}

void DepthField::fill_cells() {
  if (edges_.empty()) return;
  const Vec2 size = high_ - low_;
  const double cell = std::max(size.x, size.y) / k_cells;
  columns_ = std::clamp(static_cast<int>(std::ceil(size.x / cell)), 1, k_cells);
  rows_ = std::clamp(static_cast<int>(std::ceil(size.y / cell)), 1, k_cells);
  cells_per_mm_ = {columns_ / size.x, rows_ / size.y};
  const Vec2 step{size.x / columns_, size.y / rows_};
  const double radius = 0.5 * norm(step) * (1.0 + 1e-9);
  std::vector<double> distances(edges_.size());
  for (int row = 0; row < rows_; ++row) {
    for (int column = 0; column < columns_; ++column) {
      first_.push_back(static_cast<std::uint32_t>(near_.size()));
      const Vec2 centre = low_ + Vec2{(column + 0.5) * step.x, (row + 0.5) * step.y};
      Hit best;
      for (std::size_t e = 0; e < edges_.size(); ++e) {
        const Hit hit = measure(edges_[e], centre);
        distances[e] = std::sqrt(hit.square);
        if (e == 0 || hit.square < best.square) best = hit;
      }
      const double nearest_distance = std::sqrt(best.square);
      const bool outside = !best.inside && nearest_distance > radius;
      const double least =
          best.inside ? std::max(0.0, 0.999999 * (nearest_distance - radius) - k_touch) : 0.0;
      least_.push_back(outside ? -1.0F : static_cast<float>(least));
      if (outside) continue;
      for (std::size_t e = 0; e < edges_.size(); ++e) {
        if (distances[e] <= nearest_distance + 2.0 * radius) near_.push_back(static_cast<std::uint32_t>(e));
      }
    }
  }
  first_.push_back(static_cast<std::uint32_t>(near_.size()));
}

DepthField::Hit DepthField::measure(const Edge& edge, Vec2 q) const {
  const Vec2 to = q - edge.from;
  const double t = dot(to, edge.along) * edge.inverse_square;
  Hit hit;
  if (t <= 0.0) {
    hit.away = to;
    hit.inside = !edge.full_at_start;
  } else if (t >= 1.0) {
    hit.away = to - edge.along;
    hit.inside = !edge.full_at_end;
  } else {
    hit.away = to - t * edge.along;
    hit.inside = cross(edge.along, to) > 0.0;
  }
  hit.square = square(hit.away);
  return hit;
}

DepthField::Hit DepthField::nearest(Vec2 q) const {
  const auto cell = cell_of(q);
  if (!cell) return {};
  const std::uint32_t end = first_[*cell + 1];
  Hit best;
  best.square = 1e300;
  for (std::uint32_t i = first_[*cell]; i < end; ++i) {
    const Hit hit = measure(edges_[near_[i]], q);
    if (hit.square < best.square) best = hit;
  }
  return best;
}

double DepthField::depth(Vec2 q) const {
  const Hit hit = nearest(q);
  return hit.inside && hit.square > k_touch * k_touch ? std::sqrt(hit.square) : 0.0;
}

Vec2 DepthField::way_out(Vec2 q) const {
  const Hit hit = nearest(q);
  return hit.inside && hit.square > k_touch * k_touch ? -1.0 * hit.away : Vec2{};
}

}  // namespace linerwright::nesting
