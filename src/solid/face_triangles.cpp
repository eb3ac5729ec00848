// A ruled mesh laid on the faces themselves, for what of the kernel asks for triangles there.
#include <BRep_Builder.hxx>
#include <Poly_PolygonOnTriangulation.hxx>
#include <Poly_Triangulation.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS.hxx>
#include <map>

#include "ruled_mesh.hpp"

namespace linerwright {

namespace {

// The corners of one face. A point on a seam is two of them, at either end of the face's own coordinates.
class Nodes {
 public:
  int node(int point, const gp_Pnt2d& place) {
    constexpr double k_same = 1e-6;
    std::vector<int>& known = of_point_[point];
    for (const int each : known)
      if (places_[static_cast<std::size_t>(each) - 1].IsEqual(place, k_same)) return each;
    points_.push_back(point);
    places_.push_back(place);
    known.push_back(static_cast<int>(points_.size()));
    return known.back();
  }
  const std::vector<int>& points() const { return points_; }
  const std::vector<gp_Pnt2d>& places() const { return places_; }

 private:
  std::map<int, std::vector<int>> of_point_;
  std::vector<int> points_;
  std::vector<gp_Pnt2d> places_;
};

}  // namespace

bool RuledMesh::put_on_faces() {
  on_faces_ = true;
  if (!fill(k_first_share)) return false;
  std::size_t next = 0;  // triangles come face by face
  for (std::size_t f = 0; f < faces_.size(); ++f) {
    const std::size_t first = next;
    while (next < face_of_.size() && face_of_[next] == f) ++next;
    put_on_face(faces_[f], first, next);
  }
  return true;
}

void RuledMesh::put_on_face(const Face& face, std::size_t first, std::size_t last) {
  Nodes nodes;
  std::optional<int> shrunk;  // the point that a side is
  double far = 0.0;           // second coordinate of the side across from it
  for (std::size_t s = 0; face.form == Face::rows && s < 4; ++s)
    if (const Edge& edge = edges_[edge_index(face.side(s))]; edge.is_point) {
      shrunk = edge.points.front();
      far = face.side((s + 2) % 4).at(0.5).Y();
    }
  std::vector<Poly_Triangle> triangles;
  for (std::size_t t = first; t < last; ++t) {
    int node[3];
    for (std::size_t k = 0; k < 3; ++k) node[k] = nodes.node(mesh_.triangles[t][k], places_of_[t][k]);
    // the face's own way round is asked for, whichever side of it is the solid
    if (face.turned) std::swap(node[1], node[2]);
    triangles.emplace_back(node[0], node[1], node[2]);
  }
  std::vector<Handle(Poly_PolygonOnTriangulation)> sides;
  for (const OutlineSide& side : face.outline.sides) {
    const Edge& edge = edges_[edge_index(side)];
    const std::vector<double>& shares = shares_[static_cast<std::size_t>(edge.group)];
    TColStd_Array1OfInteger along(1, static_cast<int>(shares.size()));
    TColStd_Array1OfReal parameters(1, static_cast<int>(shares.size()));
    for (std::size_t i = 0; i < shares.size(); ++i) {
      const double parameter = edge.at(shares[i]);
      along.SetValue(static_cast<int>(i) + 1, nodes.node(edge.points[i], side.on_edge(parameter)));
      parameters.SetValue(static_cast<int>(i) + 1, parameter);
    }
    sides.push_back(new Poly_PolygonOnTriangulation(along, parameters));
  }

  Handle(Poly_Triangulation) made = new Poly_Triangulation(static_cast<int>(nodes.points().size()),
                                                           static_cast<int>(triangles.size()), Standard_True);
  for (std::size_t i = 0; i < nodes.points().size(); ++i) {
    const auto point = static_cast<std::size_t>(nodes.points()[i]);
    gp_Pnt2d place = nodes.places()[i];
    gp_Pnt at = to_kernel(mesh_.points[point]);
    // in the point itself a part of a cone has no normal: a hair off it each ruling has its own
    if (nodes.points()[i] == shrunk) {
      constexpr double k_hair = 1e-4;
      place.SetY(place.Y() + k_hair * (far - place.Y()));
      at = face.surface.Value(place.X(), place.Y());
    }
    made->SetNode(static_cast<int>(i) + 1, at);
    made->SetUVNode(static_cast<int>(i) + 1, place);
  }
  for (std::size_t t = 0; t < triangles.size(); ++t) made->SetTriangle(static_cast<int>(t) + 1, triangles[t]);
  BRep_Builder builder;
  builder.UpdateFace(face.face, made);
  for (std::size_t s = 0; s < sides.size(); ++s) {
    const OutlineSide& side = face.outline.sides[s];
    const auto forward = TopoDS::Edge(side.edge.Oriented(TopAbs_FORWARD));
    std::size_t other = s;  // the other side of a seam
    for (std::size_t o = 0; o < sides.size(); ++o)
      if (o != s && face.outline.sides[o].edge.IsSame(side.edge)) other = o;
    if (other == s)
      builder.UpdateEdge(forward, sides[s], made, TopLoc_Location());
    else if (side.forward)
      builder.UpdateEdge(forward, sides[s], sides[other], made, TopLoc_Location());
  }
}

bool put_ruled_triangles_on(const TopoDS_Shape& shape, double deflection, double angle) {
  try {
    return RuledMesh(shape, deflection, angle).put_on_faces();
  } catch (const NoOutline&) {
    return false;
  }
}

}  // namespace linerwright
