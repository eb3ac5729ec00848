// How deep a point lies inside a no-fit polygon, in constant time.
#pragma once

#include <polyclipping/clipper.hpp>

#include <algorithm>
#include <cstdint>
#include <optional>
#include <vector>

#include "linerwright/units/vector.hpp"

namespace linerwright::nesting {

// Depths below this count as touching, mm.
constexpr double k_touch = 1e-4;

// The exact distance from inside a polygon (grid units, holes allowed) to its edge. The box is divided into
// cells, each of which lists the few edges that can be nearest from within it.
class DepthField {
 public:
  explicit DepthField(const ClipperLib::Paths& region);

  // 0 outside or up to k_touch inside; otherwise the distance to the nearest point of the edge, mm.
  double depth(Vec2 q) const;
  // What depth() is at least, 0 or more, by a look at the cell alone; none where it is 0.
  std::optional<double> least_depth(Vec2 q) const {
    const auto cell = cell_of(q);
    if (!cell || least_[*cell] < 0.0F) return std::nullopt;
    return least_[*cell];
  }
  // The shortest shift that takes q to the edge, mm; zero where depth() is.
  Vec2 way_out(Vec2 q) const;
  // The region's contours, grid units.
  const ClipperLib::Paths& region() const { return region_; }

 private:
  struct Edge {
    Vec2 from, along;
    double inverse_square;            // of its length
    bool full_at_start, full_at_end;  // the corner there is convex
  };
  struct Hit {
    double square = 0.0;  // of the distance
    Vec2 away{};          // from the nearest point of the edge to q
    bool inside = false;
  };
  std::vector<Edge> edges_;
  std::vector<std::uint32_t> first_;  // of each cell in `near_`; cells outside have none
  std::vector<float> least_;          // depth of each cell at least; negative where all of it is outside
  std::vector<std::uint32_t> near_;
  Vec2 low_{}, high_{}, cells_per_mm_{};
  int columns_ = 0, rows_ = 0;
  ClipperLib::Paths region_;

  void add_edges();
  void fill_cells();
  Hit measure(const Edge& edge, Vec2 q) const;
  // None outside the box.
  std::optional<std::size_t> cell_of(Vec2 q) const {
    if (!(q.x > low_.x && q.x < high_.x && q.y > low_.y && q.y < high_.y)) return std::nullopt;
    const int column = std::min(static_cast<int>((q.x - low_.x) * cells_per_mm_.x), columns_ - 1);
    const int row = std::min(static_cast<int>((q.y - low_.y) * cells_per_mm_.y), rows_ - 1);
    return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) +
           static_cast<std::size_t>(column);
  }
  Hit nearest(Vec2 q) const;
};

}  // namespace linerwright::nesting
