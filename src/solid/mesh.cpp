// Triangles of a solid. Neighbouring faces carry the same points along the edge they share, so corners are
// welded by the edge they lie on and never by how near they are.
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRepTools.hxx>
#include <BRep_Tool.hxx>
#include <Poly_PolygonOnTriangulation.hxx>
#include <Poly_Triangulation.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopLoc_Location.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Vertex.hxx>
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numeric>
#include <stdexcept>
#include <unordered_map>

#include <fmt/format.h>

#include "linerwright/error.hpp"
#include "shape.hpp"

namespace linerwright {

namespace {

class Welder {
 public:
  void add(const TopoDS_Face& face) {
    TopLoc_Location place;
    const Handle(Poly_Triangulation) triangles = BRep_Tool::Triangulation(face, place);
    if (triangles.IsNull()) throw GeometryError("mesh: a face came out without triangles");
    std::vector<int> corner(static_cast<std::size_t>(triangles->NbNodes()) + 1, -1);
    const auto position = [&](int node) {
      gp_Pnt p = triangles->Node(node);
      p.Transform(place.Transformation());
      return from_kernel(p);
    };
    for (TopExp_Explorer edges(face, TopAbs_EDGE); edges.More(); edges.Next()) {
      const TopoDS_Edge& edge = TopoDS::Edge(edges.Current());
      const Handle(Poly_PolygonOnTriangulation) polygon =
          BRep_Tool::PolygonOnTriangulation(edge, triangles, place);
      if (polygon.IsNull()) throw GeometryError("mesh: an edge came out without points");
      const std::vector<int>& shared = points_of(edge, *polygon, position);
      if (static_cast<int>(shared.size()) != polygon->NbNodes())
        throw GeometryError("mesh: two faces disagree about the points of their common edge");
      for (int i = 0; i < polygon->NbNodes(); ++i)
        corner[static_cast<std::size_t>(polygon->Node(i + 1))] = shared[static_cast<std::size_t>(i)];
    }
    for (int node = 1; node <= triangles->NbNodes(); ++node) {
      int& index = corner[static_cast<std::size_t>(node)];
      if (index < 0) index = new_point(position(node));
    }
    const bool turned = face.Orientation() == TopAbs_REVERSED;
    for (int i = 1; i <= triangles->NbTriangles(); ++i) {
      int a = 0;
      int b = 0;
      int c = 0;
      triangles->Triangle(i).Get(a, b, c);
      if (turned) std::swap(b, c);
      const std::array<int, 3> welded{corner[static_cast<std::size_t>(a)],
                                      corner[static_cast<std::size_t>(b)],
                                      corner[static_cast<std::size_t>(c)]};
      if (welded[0] != welded[1] && welded[1] != welded[2] && welded[2] != welded[0])
        mesh.triangles.push_back(welded);
    }
  }

  Mesh mesh;

 private:
  int new_point(Vec3 at) {
    mesh.points.push_back(at);
    return static_cast<int>(mesh.points.size()) - 1;
  }

  template <class F>
  int vertex(const TopoDS_Shape& shape, int node, F&& position) {
    const int known = vertices_.FindIndex(shape);
    if (known > 0) return vertex_point_[static_cast<std::size_t>(known) - 1];
    vertices_.Add(shape);
    vertex_point_.push_back(new_point(position(node)));
    return vertex_point_.back();
  }

  template <class F>
  const std::vector<int>& points_of(const TopoDS_Edge& edge, const Poly_PolygonOnTriangulation& polygon,
                                    F&& position) {
    const int known = edges_.FindIndex(edge);
    if (known > 0) return edge_points_[static_cast<std::size_t>(known) - 1];
    const int count = polygon.NbNodes();
    std::vector<int> points;
    for (int i = 1; i <= count; ++i) {
      const int node = polygon.Node(i);
      if (i == 1 || i == count)
        points.push_back(vertex(i == 1 ? TopExp::FirstVertex(TopoDS::Edge(edge.Oriented(TopAbs_FORWARD)))
                                       : TopExp::LastVertex(TopoDS::Edge(edge.Oriented(TopAbs_FORWARD))),
                                node, position));
      else
        points.push_back(new_point(position(node)));
    }
    edges_.Add(edge);
    edge_points_.push_back(std::move(points));
    return edge_points_.back();
  }

  TopTools_IndexedMapOfShape vertices_, edges_;
  std::vector<int> vertex_point_;
  std::vector<std::vector<int>> edge_points_;
};

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

Mesh mesh_of(const Solid& solid, const MeshOptions& options, double thinnest) {
  const double deflection = std::min(options.deflection, 0.125 * thinnest);
  if (!(deflection > 0.0) || !(options.angle > 0.0))
    throw std::invalid_argument("a mesh needs a deflection and an angle above zero");
  const TopoDS_Shape& shape = solid.shape().shape;
  BRepTools::Clean(shape);  // the kernel keeps a coarser mesh it already has
  BRepMesh_IncrementalMesh mesher(shape, deflection, Standard_False, options.angle, Standard_False);
  Welder welder;
  for (TopExp_Explorer faces(shape, TopAbs_FACE); faces.More(); faces.Next())
    welder.add(TopoDS::Face(faces.Current()));
  if (const int open = open_edges(welder.mesh); open > 0)
    throw GeometryError(fmt::format("mesh: {} open edges", open));
  if (!(mesh_volume(welder.mesh) > 0.0)) throw GeometryError("mesh: it is turned inside out");
  return std::move(welder.mesh);
}

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
