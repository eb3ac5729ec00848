#include "flats.hpp"

#include <algorithm>
#include <cmath>
#include <deque>

namespace linerwright {

namespace {

constexpr double k_flat = 1e-3;  // radians

struct Facets {
  std::vector<Vec3> normals;  // not unit where the facet is too thin
  std::vector<double> areas;
  std::vector<std::vector<std::size_t>> beside;
};

Facets facets_of(const Mesh& mesh, const std::vector<MeshEdge>& edges) {
  Facets out;
  for (const auto& triangle : mesh.triangles) {
    const auto corner = [&](std::size_t k) { return mesh.points[static_cast<std::size_t>(triangle[k])]; };
    const Vec3 across = cross(corner(1) - corner(0), corner(2) - corner(0));
    const double size = norm(across);
    const double longest = std::max(
        {distance(corner(0), corner(1)), distance(corner(1), corner(2)), distance(corner(2), corner(0))});
    const bool thin = !(size > 1e-5 * longest * longest) || !(size > 1e-9);
    out.normals.push_back(thin ? Vec3{} : (1.0 / size) * across);
    out.areas.push_back(0.5 * size);
  }
  out.beside.resize(mesh.triangles.size());
  for (const MeshEdge& edge : edges)
    for (const std::size_t a : edge.facets)
      for (const std::size_t b : edge.facets)
        if (a != b) out.beside[a].push_back(b);
  return out;
}

void finish(const Mesh& mesh, const Facets& facets, Flats& out) {
  for (Flat& flat : out.flats) {
    Vec3 sum{};
    for (const std::size_t f : flat.facets) {
      sum = sum + facets.areas[f] * facets.normals[f];
      flat.area += facets.areas[f];
      for (const int corner : mesh.triangles[f]) flat.corners.push_back(corner);
      for (const std::size_t next : facets.beside[f])
        if (const auto other = out.of_facet[next]; other && other != out.of_facet[f])
          flat.beside.push_back(*other);
    }
    flat.normal = normalised(sum);
    for (auto* list : {&flat.beside}) {
      std::sort(list->begin(), list->end());
      list->erase(std::unique(list->begin(), list->end()), list->end());
    }
    std::sort(flat.corners.begin(), flat.corners.end());
    flat.corners.erase(std::unique(flat.corners.begin(), flat.corners.end()), flat.corners.end());
    for (const int corner : flat.corners)
      flat.middle = flat.middle + (1.0 / static_cast<double>(flat.corners.size())) *
                                      mesh.points[static_cast<std::size_t>(corner)];
  }
}

}  // namespace

std::vector<MeshEdge> edges_of(const Mesh& mesh) {
  std::vector<std::pair<std::pair<int, int>, std::size_t>> sides;
  for (std::size_t f = 0; f < mesh.triangles.size(); ++f)
    for (std::size_t k = 0; k < 3; ++k)
      sides.push_back({std::minmax(mesh.triangles[f][k], mesh.triangles[f][(k + 1) % 3]), f});
  std::sort(sides.begin(), sides.end());
  std::vector<MeshEdge> edges;
  for (const auto& [ends, facet] : sides) {
    if (edges.empty() || edges.back().from != ends.first || edges.back().to != ends.second)
      edges.push_back({ends.first, ends.second, {}});
    edges.back().facets.push_back(facet);
  }
  return edges;
}

Flats flats_of(const Mesh& mesh, double within) {
  const Facets facets = facets_of(mesh, edges_of(mesh));
  Flats out;
  out.of_facet.resize(mesh.triangles.size());
  for (std::size_t seed = 0; seed < mesh.triangles.size(); ++seed) {
    const Vec3 normal = facets.normals[seed];
    if (out.of_facet[seed] || !(norm(normal) > 0.5)) continue;
    const Vec3 origin = mesh.points[static_cast<std::size_t>(mesh.triangles[seed][0])];
    const std::size_t index = out.flats.size();
    out.flats.emplace_back();
    std::deque<std::size_t> next = {seed};
    out.of_facet[seed] = index;
    while (!next.empty()) {
      const std::size_t f = next.front();
      next.pop_front();
      out.flats.back().facets.push_back(f);
      for (const std::size_t other : facets.beside[f]) {
        if (out.of_facet[other] || !(dot(facets.normals[other], normal) > 0.5) ||
            norm(cross(facets.normals[other], normal)) > k_flat)
          continue;
        const bool on_plane =
            std::all_of(mesh.triangles[other].begin(), mesh.triangles[other].end(), [&](int corner) {
              return std::fabs(dot(mesh.points[static_cast<std::size_t>(corner)] - origin, normal)) <= within;
            });
        if (!on_plane) continue;
        out.of_facet[other] = index;
        next.push_back(other);
      }
    }
  }
  finish(mesh, facets, out);
  return out;
}

}  // namespace linerwright
