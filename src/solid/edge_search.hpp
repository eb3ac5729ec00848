// Where points lie on the edges of a solid.
#pragma once

#include <BRepAdaptor_Curve.hxx>
#include <vector>

#include "shape.hpp"

namespace linerwright {

// Parameters along an edge's curve between which it is a part of one smooth curve.
std::vector<double> places_along(const TopoDS_Edge& edge, const BRepAdaptor_Curve& curve);

// The edges of a solid, or some of them, as spans between points on their curves under a tree of boxes.
class EdgeSearch {
 public:
  // `which` picks edges by their place in edges_of(); empty takes all. Throws GeometryError where there is
  // none.
  explicit EdgeSearch(const Solid& solid, const std::vector<std::size_t>& which = {});

  double distance(const gp_Pnt& p) const;
  struct Place {
    std::size_t edge;  // counts the edges taken
    double parameter;
    double away;
  };
  // Every edge that passes within this distance of p, at its nearest point there.
  std::vector<Place> near(const gp_Pnt& p, double within) const;

  struct Edge {
    TopoDS_Edge edge;
    BRepAdaptor_Curve curve;
    std::vector<double> parameters;
    std::vector<gp_Pnt> points;
  };
  const std::vector<Edge>& edges() const { return edges_; }

 private:
  // A part of a curve that lies within its own bulge of its chord.
  struct Span {
    std::size_t edge, at;
    double bulge;
  };
  struct Node {
    gp_XYZ low, high;
    std::size_t first, last;  // spans
    std::size_t right = 0;    // of a parent: its second child; the first one is the next node
  };
  // Of the edge that comes next, with its points.
  void add_spans(Edge& edge);
  void build(std::size_t first, std::size_t last);
  Place nearest_on(const Span& span, const gp_Pnt& p) const;
  double chord_distance(const Span& span, const gp_Pnt& p) const;
  void search(std::size_t node, const gp_Pnt& p, double& nearest) const;
  void gather(std::size_t node, const gp_Pnt& p, double within, std::vector<Place>& found) const;

  std::vector<Edge> edges_;
  std::vector<Span> spans_;
  std::vector<Node> nodes_;
};

}  // namespace linerwright
