// What a mesh is worth: its volume, its open edges, its bodies.
#include <algorithm>
#include <cstdint>
#include <numeric>
#include <unordered_map>

#include "linerwright/solid.hpp"

namespace linerwright {

namespace {

std::uint64_t key_of(int a, int b) {
  return (static_cast<std::uint64_t>(static_cast<std::uint32_t>(a)) << 32U) | static_cast<std::uint32_t>(b);
}

// The half-edges of a mesh, gathered by the edge they lie on, in the order of the facets.
struct HalfEdge {
  std::uint64_t edge;  // smaller corner first
  int facet;
  bool forward;
};

std::vector<HalfEdge> half_edges(const Mesh& mesh) {
  std::vector<HalfEdge> all;
  all.reserve(mesh.triangles.size() * 3);
  for (std::size_t i = 0; i < mesh.triangles.size(); ++i)
    for (std::size_t k = 0; k < 3; ++k) {
      const int a = mesh.triangles[i][k];
      const int b = mesh.triangles[i][(k + 1) % 3];
      all.push_back({a < b ? key_of(a, b) : key_of(b, a), static_cast<int>(i), a < b});
    }
  std::stable_sort(all.begin(), all.end(),
                   [](const HalfEdge& a, const HalfEdge& b) { return a.edge < b.edge; });
  return all;
}

// Calls f(first, last) for the half-edges of each edge.
template <class F>
void for_each_edge(const std::vector<HalfEdge>& all, F&& f) {
  for (std::size_t first = 0; first < all.size();) {
    std::size_t last = first;
    while (last < all.size() && all[last].edge == all[first].edge) ++last;
    f(first, last);
    first = last;
  }
}

}  // namespace

double mesh_volume(const Mesh& mesh) {
  if (mesh.points.empty()) return 0.0;
  const Vec3 origin = mesh.points.front();  // near the body, so that no large terms cancel
  double sum = 0.0;
  for (const auto& triangle : mesh.triangles) {
    const auto corner = [&](std::size_t k) {
      return mesh.points[static_cast<std::size_t>(triangle[k])] - origin;
    };
    sum += dot(corner(0), cross(corner(1), corner(2)));
  }
  return sum / 6.0;
}

int open_edges(const Mesh& mesh) {
  const std::vector<HalfEdge> all = half_edges(mesh);
  int open = 0;
  for_each_edge(all, [&](std::size_t first, std::size_t last) {
    if (last - first != 2 || all[first].forward == all[first + 1].forward) ++open;
  });
  return open;
}

std::vector<Mesh> split_bodies(const Mesh& mesh) {
  std::vector<int> parent(mesh.triangles.size());
  std::iota(parent.begin(), parent.end(), 0);
  const auto root = [&](int facet) {
    while (parent[static_cast<std::size_t>(facet)] != facet) {
      int& up = parent[static_cast<std::size_t>(facet)];
      up = parent[static_cast<std::size_t>(up)];
      facet = up;
    }
    return facet;
  };
  // Bodies that touch share edges; each body's facets stand together, so opposite half-edges pair up in
  // order.
  const std::vector<HalfEdge> all = half_edges(mesh);
  for_each_edge(all, [&](std::size_t first, std::size_t last) {
    for (std::size_t i = first; i + 1 < last;) {
      if (all[i].forward == all[i + 1].forward) {
        ++i;
        continue;
      }
      const int a = root(all[i].facet);
      const int b = root(all[i + 1].facet);
      parent[static_cast<std::size_t>(std::max(a, b))] = std::min(a, b);
      i += 2;
    }
  });
  std::vector<Mesh> bodies;
  std::unordered_map<int, std::size_t> body_of_root;
  std::vector<std::unordered_map<int, int>> points;
  for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
    const auto [found, is_new] = body_of_root.emplace(root(static_cast<int>(i)), bodies.size());
    if (is_new) {
      bodies.emplace_back();
      points.emplace_back();
    }
    Mesh& body = bodies[found->second];
    std::array<int, 3> triangle{};
    for (std::size_t k = 0; k < 3; ++k) {
      const int old = mesh.triangles[i][k];
      const auto [at, fresh] = points[found->second].emplace(old, static_cast<int>(body.points.size()));
      if (fresh) body.points.push_back(mesh.points[static_cast<std::size_t>(old)]);
      triangle[k] = at->second;
    }
    body.triangles.push_back(triangle);
  }
  return bodies;
}

}  // namespace linerwright
