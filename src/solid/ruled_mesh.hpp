// Mesh of our own faces. Edges are divided once, for all faces that meet there; a face then needs no corners
// inside, because it is straight along its rulings and every ruling ends on an edge. A twisted joint face and
// a torus get rows.
#pragma once

#include <GeomAdaptor_Curve.hxx>
#include <GeomAdaptor_Surface.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <array>
#include <utility>

#include "face_outline.hpp"
#include "mesh_parts.hpp"

namespace linerwright {

constexpr double k_first_share = 0.8;  // of the largest step, on the edges

// Largest step of an angle on a circle that keeps the chord within `deflection`.
double circle_step(double radius, double deflection);

class RuledMesh {
 public:
  // Throws NoOutline where a face is of another form.
  RuledMesh(const TopoDS_Shape& shape, double deflection, double angle);

  // The mesh, closed; nothing where that fails.
  std::optional<Mesh> make();
  // Puts the triangles on the shape's own faces, and the points on its edges; false where that fails.
  bool put_on_faces();

 private:
  struct Edge {
    TopoDS_Edge edge;
    GeomAdaptor_Curve curve;
    double first, last;
    int group;
    bool is_point;                                          // a side of no length, without a curve
    std::vector<std::pair<std::size_t, std::size_t>> uses;  // face and side
    std::vector<int> points;
    // On a twisted face half of the deflection goes to the edges, half to the twist.
    double allowed;
    double at(double share) const { return first + share * (last - first); }
  };
  struct Face {
    TopoDS_Face face;
    FaceOutline outline;
    GeomAdaptor_Surface surface;
    enum { flat, round, rows } form;
    double largest_u, largest_v;  // steps that keep the deflection
    bool turned;
    Vec2 scale{1.0, 1.0};  // mm for each of u and v
    const OutlineSide& side(std::size_t s) const { return outline.sides[outline.loops.front()[s]]; }
  };

  // A side's points in the direction of the outline, with their places on the face.
  struct SidePoints {
    std::vector<int> points;
    std::vector<gp_Pnt2d> places;
  };

  void put_on_face(const Face& face, std::size_t first, std::size_t last);
  void gather();
  std::size_t edge_index(const OutlineSide& side) const;
  void set_form(Face& face) const;
  void set_pierced(Face& face) const;
  // How many even steps an edge asks for, before steps that are still too large are halved.
  int steps_for(const Edge& edge, double share) const;
  bool too_large(const Edge& edge, double from, double to, double share) const;
  // Rows across a ruled face whose rulings turn.
  int rows_across(const Face& face, int steps_along) const;
  void divide_edges(double share);
  // All of the mesh, with steps of this share of the largest; false where triangles reach too far.
  bool fill(double share);
  int new_point(const gp_Pnt& at);
  void place_points();
  SidePoints points_along(const OutlineSide& side) const;
  struct Corner {
    int point;
    gp_Pnt2d place;
  };
  void add_triangle(const Face& face, Corner a, Corner b, Corner c);
  bool fill_outline(const Face& face);
  bool fill_rows(const Face& face);

  const TopoDS_Shape& shape_;
  double deflection_, angle_;
  TopTools_IndexedMapOfShape map_;
  std::vector<Edge> edges_;
  std::vector<Face> faces_;
  std::vector<std::vector<double>> shares_;  // by group
  // On faces a triangle that shrinks to a line is kept where a side is a point: its corners lie apart in the
  // face's own coordinates, and it joins the two beside it.
  bool on_faces_ = false;
  Mesh mesh_;
  std::vector<std::size_t> face_of_;                // of each triangle
  std::vector<std::array<gp_Pnt2d, 3>> places_of_;  // of each triangle's corners, on its face
};

}  // namespace linerwright
