// One edge per arc of a joint's curve at a pair of depths, shared by all faces that meet there.
#pragma once

#include <Geom2d_Curve.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_Surface.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Vertex.hxx>
#include <functional>
#include <map>
#include <vector>

#include "linerwright/fitting/fitting.hpp"
#include "linerwright/mesh/folded_layer.hpp"
#include "shape.hpp"

namespace linerwright {

struct ArcEdge {
  Arc arc;
  std::vector<double> parameters;  // sampled s
  TopoDS_Edge edge;                // runs with growing s, or against it where the rate is negative
  double shift;                    // edge parameter = rate s - shift
  TopoDS_Vertex from, to;
  double rate = 1.0;

  bool with_s() const { return rate > 0.0; }
};

// Of a square-to-round at one depth.
struct FoldedEdges {
  FoldedLayer layer;
  std::vector<TopoDS_Vertex> vertices;
  std::vector<ArcEdge> edges;  // of each curve
};

// The kernel's tolerance of new faces and edges, mm.
constexpr double k_tolerance = 1e-7;

// How close fitted curves stay to the exact joint, mm.
constexpr double k_usual_fit = 2e-5;

// Cubic spline through `at` at the parameters, with its own slopes at the ends. Throws GeometryError.
Handle(Geom_BSplineCurve)
    fitted_curve(const std::function<Vec3(double)>& at, const std::vector<double>& parameters);
// The same in the (theta, v) coordinates of a sheet.
Handle(Geom2d_Curve)
    fitted_line(const std::function<Vec2(double)>& at, const std::vector<double>& parameters);

class JointEdges {
 public:
  JointEdges(const Fitting& fitting, double fit);

  // The edges around a joint at these depths, made once.
  const std::vector<ArcEdge>& edges(int joint, DepthPair depths);
  // The curve of an arc in the (theta, v) coordinates of one side's sheet, with theta moved by whole turns so
  // that it passes near `near_theta` at the arc's start.
  Handle(Geom2d_Curve)
      curve_on(int joint, Side side, DepthPair depths, const ArcEdge& arc, double near_theta) const;
  // The straight edge between two vertices, made once. Throws GeometryError where they are one place.
  TopoDS_Edge straight(const TopoDS_Vertex& from, const TopoDS_Vertex& to);
  // A square-to-round's curves at one depth, made once.
  const FoldedEdges& folded(const Sheet& sheet, double w);
  // Into how many parts steps of a fixed size are divided: the error of a cubic falls with the fourth power.
  int fineness() const { return fit_ < k_usual_fit ? 2 : 1; }
  // Largest distance found between fitted and exact curves.
  double deviation() const { return deviation_; }
  const Fitting& fitting() const { return fitting_; }
  const Joint& joint(int index) const { return fitting_.joint(index); }

 private:
  std::vector<ArcEdge> make_edges(int joint, DepthPair depths);
  // Of a square-to-round's joint with a collar: its layer's own, by the joint's parameter.
  std::vector<ArcEdge> folded_rim_edges(const Sheet& sheet, double w);
  // The vertex of a corner that several joints share.
  TopoDS_Vertex corner(int number, DepthPair depths, Vec3 point);

  const Fitting& fitting_;
  double fit_;                                             // how close fitted curves are to stay, mm
  std::vector<std::vector<std::vector<double>>> samples_;  // per joint, per arc
  std::map<std::pair<int, DepthPair>, std::vector<ArcEdge>> made_;
  std::map<std::pair<int, DepthPair>, TopoDS_Vertex> corners_;
  std::vector<TopoDS_Edge> straights_;
  std::map<double, FoldedEdges> folded_;  // by depth
  double deviation_ = 0.0;
};

}  // namespace linerwright
