// The kernel's own mesh, for solids that are not made of our faces. Neighbouring faces carry the same points
// along the edge they share, so corners are welded by the edge they lie on and never by how near they are.
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

#include "kernel_operations.hpp"
#include "linerwright/units/error.hpp"
#include "mesh_parts.hpp"

namespace linerwright {

namespace {

class Welder {
 public:
  void add(const TopoDS_Face& face) {
    TopLoc_Location place;
    const Handle(Poly_Triangulation) triangles = BRep_Tool::Triangulation(face, place);
    if (triangles.IsNull()) throw GeometryError("mesh: a face came out without triangles");
    std::vector<std::optional<int>> corner(static_cast<std::size_t>(triangles->NbNodes()) + 1);
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
      std::optional<int>& index = corner[static_cast<std::size_t>(node)];
      if (!index) index = new_point(position(node));
    }
    const bool turned = face.Orientation() == TopAbs_REVERSED;
    for (int i = 1; i <= triangles->NbTriangles(); ++i) {
      int a = 0;
      int b = 0;
      int c = 0;
      triangles->Triangle(i).Get(a, b, c);
      if (turned) std::swap(b, c);
      const std::array<int, 3> welded{corner[static_cast<std::size_t>(a)].value(),
                                      corner[static_cast<std::size_t>(b)].value(),
                                      corner[static_cast<std::size_t>(c)].value()};
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

}  // namespace

Mesh kernel_mesh(const TopoDS_Shape& shape, double deflection, double angle) {
  BRepTools::Clean(shape);  // the kernel keeps a coarser mesh it already has
  kernel_operations().mesh(shape, deflection, angle);
  Welder welder;
  for (TopExp_Explorer faces(shape, TopAbs_FACE); faces.More(); faces.Next())
    welder.add(TopoDS::Face(faces.Current()));
  BRepTools::Clean(shape);
  return std::move(welder.mesh);
}

}  // namespace linerwright
