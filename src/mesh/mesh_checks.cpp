// What a mesh is worth: its volume, its open edges, its bodies; and a mesh in its place.
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numeric>
#include <unordered_map>

#include "linerwright/mesh/placed_meshes.hpp"

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

namespace {

// Where a facet lies around one of its edges: radians about the edge's direction, from any zero that is the
// same for all facets of the edge.
class AroundEdge {
 public:
  AroundEdge(const Mesh& mesh, std::uint64_t edge)
      : mesh_(mesh), from_(static_cast<int>(edge >> 32U)), to_(static_cast<int>(edge & 0xFFFFFFFFU)) {
    const Vec3 way = point(to_) - point(from_);
    along_ = (1.0 / norm(way)) * way;
    const Vec3 aside = std::fabs(along_.x) < 0.6 ? Vec3{1.0, 0.0, 0.0} : Vec3{0.0, 1.0, 0.0};
    across_ = cross(along_, aside);
    across_ = (1.0 / norm(across_)) * across_;
    third_ = cross(along_, across_);
  }
  double angle(int facet) const {
    for (const int corner : mesh_.triangles[static_cast<std::size_t>(facet)])
      if (corner != from_ && corner != to_) {
        const Vec3 out = point(corner) - point(from_);
        return std::atan2(dot(out, third_), dot(out, across_));
      }
    return 0.0;
  }

 private:
  Vec3 point(int index) const { return mesh_.points[static_cast<std::size_t>(index)]; }

  const Mesh& mesh_;
  int from_, to_;
  Vec3 along_, across_, third_;
};

// Calls join(a, b) for the facets of one edge that bound the same body there. Where bodies touch, four facets
// or more meet: a body fills the wedge that begins at a facet running against the edge and ends, going round,
// at one running along it; the narrowest wedges come first. Facets of two bodies that lie on each other
// enclose nothing.
template <class Join>
void join_at_edge(const Mesh& mesh, const HalfEdge* first, const HalfEdge* last, const Join& join) {
  constexpr double k_nothing = 1e-4;  // rad
  struct Wedge {
    double width;
    std::size_t along, against;
  };
  std::vector<int> along, against;
  for (const HalfEdge* half = first; half != last; ++half)
    (half->forward ? along : against).push_back(half->facet);
  if (along.size() == 1 && against.size() == 1) return join(along[0], against[0]);
  const AroundEdge around(mesh, first->edge);
  std::vector<double> ends, begins;
  for (const int facet : along) ends.push_back(around.angle(facet));
  for (const int facet : against) begins.push_back(around.angle(facet));
  std::vector<Wedge> wedges;
  for (std::size_t i = 0; i < along.size(); ++i)
    for (std::size_t k = 0; k < against.size(); ++k) {
      double width = std::fmod(ends[i] - begins[k], k_two_pi);
      while (width < k_nothing) width += k_two_pi;
      wedges.push_back({width, i, k});
    }
  std::stable_sort(wedges.begin(), wedges.end(),
                   [](const Wedge& a, const Wedge& b) { return a.width < b.width; });
  std::vector<bool> ended(along.size()), begun(against.size());
  for (const Wedge& wedge : wedges) {
    if (ended[wedge.along] || begun[wedge.against]) continue;
    ended[wedge.along] = begun[wedge.against] = true;
    join(along[wedge.along], against[wedge.against]);
  }
}

// The same for a file that keeps each body's facets together, as write_stl does: opposite half-edges pair up
// in order, whatever the angles of slivers in single precision say.
template <class Join>
void join_in_order(const HalfEdge* first, const HalfEdge* last, const Join& join) {
  for (const HalfEdge* half = first; half + 1 < last;) {
    if (half->forward == half[1].forward) {
      ++half;
      continue;
    }
    join(half->facet, half[1].facet);
    half += 2;
  }
}

// join_edge(first, last, join) joins the facets of one edge.
template <class JoinEdge>
std::vector<Mesh> split_by(const Mesh& mesh, const JoinEdge& join_edge) {
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
  const std::vector<HalfEdge> all = half_edges(mesh);
  for_each_edge(all, [&](std::size_t first, std::size_t last) {
    join_edge(&all[first], &all[first] + (last - first), [&](int one, int other) {
      const int a = root(one);
      const int b = root(other);
      parent[static_cast<std::size_t>(std::max(a, b))] = std::min(a, b);
    });
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

}  // namespace

std::vector<Mesh> split_bodies(const Mesh& mesh) {
  std::vector<Mesh> bodies = split_by(mesh, [](const HalfEdge* first, const HalfEdge* last,
                                               const auto& join) { join_in_order(first, last, join); });
  if (std::all_of(bodies.begin(), bodies.end(), [](const Mesh& body) { return open_edges(body) == 0; }))
    return bodies;
  return split_by(mesh, [&](const HalfEdge* first, const HalfEdge* last, const auto& join) {
    join_at_edge(mesh, first, last, join);
  });
}

Mesh placed(const Mesh& mesh, const Frame& frame) {
  Mesh moved = mesh;
  for (Vec3& point : moved.points) point = frame.point(point);
  return moved;
}

}  // namespace linerwright
