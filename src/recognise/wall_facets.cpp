#include <algorithm>
#include <cmath>
#include <deque>
#include <optional>
#include <set>

#include "mesh_walls.hpp"
#include "refine.hpp"

namespace linerwright {

namespace {

class Settling {
 public:
  Settling(const Mesh& mesh, std::vector<MeshWall>& walls, double within)
      : mesh_(mesh),
        walls_(walls),
        within_(within),
        wall_of_(mesh.triangles.size()),
        beside_(mesh.triangles.size()) {
    for (std::size_t w = 0; w < walls.size(); ++w)
      for (const std::size_t facet : walls[w].facets) wall_of_[facet] = w;
    for (const MeshEdge& edge : edges_of(mesh))
      for (const std::size_t a : edge.facets)
        for (const std::size_t b : edge.facets)
          if (a != b) beside_[a].push_back(b);
  }

  // Of a facet that is too thin for a normal of its own the corners alone count.
  bool facet_lies_on(const FittedSurface& surface, std::size_t facet, double within) const {
    constexpr double k_thin = 1.0;  // mm
    const auto corner = [&](std::size_t k) { return point(mesh_.triangles[facet][k]); };
    const Vec3 across = cross(corner(1) - corner(0), corner(2) - corner(0));
    const double longest = std::max(
        {distance(corner(0), corner(1)), distance(corner(1), corner(2)), distance(corner(2), corner(0))});
    if (surface.sort != SurfaceSort::ruled && norm(across) < k_thin * longest)
      return std::all_of(mesh_.triangles[facet].begin(), mesh_.triangles[facet].end(),
                         [&](int each) { return surface.distance_of(point(each)) <= within; });
    if (!(norm(across) > 0.0)) return false;
    Flat flat;
    flat.normal = normalised(across);
    flat.middle = (1.0 / 3.0) * (corner(0) + corner(1) + corner(2));
    flat.area = 0.5 * norm(across);
    flat.corners.assign(mesh_.triangles[facet].begin(), mesh_.triangles[facet].end());
    return flat_lies_on(mesh_, surface, flat, within);
  }

  // A flat may reach over two walls, as at the side of a bend, where the planes of both are the same: its
  // facets are taken one by one by the walls beside them.
  void take() {
    // the walls that a facet lies on best take it first
    for (const double share : {0.03, 0.3, 1.0}) {
      std::deque<std::size_t> open;
      for (const MeshWall& wall : walls_) open.insert(open.end(), wall.facets.begin(), wall.facets.end());
      while (!open.empty()) {
        const std::size_t facet = open.front();
        open.pop_front();
        const std::size_t wall = wall_of_[facet].value();
        for (const std::size_t next : beside_[facet]) {
          if (wall_of_[next] || !facet_lies_on(walls_[wall].fit, next, share * within_)) continue;
          wall_of_[next] = wall;
          walls_[wall].facets.push_back(next);
          open.push_back(next);
        }
      }
    }
  }

  // Walls beside each other that one surface does for.
  void unite() {
    for (std::size_t a = 0; a < walls_.size(); ++a) {
      std::set<std::size_t> others;
      for (const std::size_t facet : walls_[a].facets)
        for (const std::size_t next : beside_[facet])
          if (wall_of_[next] > a) others.insert(*wall_of_[next]);
      for (const std::size_t b : others) {
        MeshWall& other = walls_[b];
        if (other.fit.sort != walls_[a].fit.sort || other.fit.sort == SurfaceSort::ruled) continue;
        std::vector<std::size_t> all = walls_[a].facets;
        all.insert(all.end(), other.facets.begin(), other.facets.end());
        FittedSurface surface = walls_[a].fit;
        refine(surface, corner_points(mesh_, corners_of(all)));
        if (!(surface.residual <= within_)) continue;
        for (const std::size_t facet : other.facets) wall_of_[facet] = a;
        walls_[a] = {surface, std::move(all)};
        other.facets.clear();
      }
    }
    walls_.erase(std::remove_if(walls_.begin(), walls_.end(),
                                [](const MeshWall& wall) { return wall.facets.empty(); }),
                 walls_.end());
  }

 private:
  Vec3 point(int corner) const { return mesh_.points[static_cast<std::size_t>(corner)]; }

  std::vector<int> corners_of(const std::vector<std::size_t>& facets) const {
    std::vector<int> corners;
    for (const std::size_t f : facets)
      corners.insert(corners.end(), mesh_.triangles[f].begin(), mesh_.triangles[f].end());
    return corners;
  }

  const Mesh& mesh_;
  std::vector<MeshWall>& walls_;
  double within_;
  std::vector<std::optional<std::size_t>> wall_of_;  // of a facet
  std::vector<std::vector<std::size_t>> beside_;     // facets of a facet
};

}  // namespace

void settle_facets(const Mesh& mesh, std::vector<MeshWall>& walls, double within) {
  Settling settling(mesh, walls, within);
  settling.take();
  settling.unite();
}

}  // namespace linerwright
