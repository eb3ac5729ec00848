// Edges of a square-to-round's layers, which its faces share with each other and with a collar's.
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Geom_Line.hxx>
#include <TopoDS_Iterator.hxx>
#include <algorithm>
#include <cmath>
#include <utility>

#include "joint_edges.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

constexpr int k_least_spans = 24;
constexpr double k_span = 0.02;  // radians of turn between places of a fitted curve

// Curves that lie over against each other at a collar's joint are divided into as many spans at every depth.
int spans_of(const FoldedCurve& curve, const FoldedRim& rim) {
  const double reach = rim.round == RoundEnd::collar ? 0.5 * k_pi : curve.last - curve.first;
  return std::max(k_least_spans, static_cast<int>(std::ceil(reach / k_span)));
}

}  // namespace

TopoDS_Edge JointEdges::straight(const TopoDS_Vertex& from, const TopoDS_Vertex& to) {
  for (const TopoDS_Edge& edge : straights_) {
    TopoDS_Iterator it(edge);
    const TopoDS_Shape first = it.Value();
    it.Next();
    const TopoDS_Shape second = it.Value();
    if (first.IsSame(from) && second.IsSame(to)) return edge;
  }
  const gp_Pnt a = BRep_Tool::Pnt(from);
  const gp_Pnt b = BRep_Tool::Pnt(to);
  const double length = a.Distance(b);
  if (!(length > k_tolerance)) throw GeometryError("a wall has no length along one of its rulings");
  Handle(Geom_Line) line = new Geom_Line(a, gp_Dir(gp_Vec(a, b)));
  TopoDS_Edge edge;
  BRep_Builder builder;
  builder.MakeEdge(edge, line, k_tolerance);
  builder.Add(edge, from.Oriented(TopAbs_FORWARD));
  builder.Add(edge, to.Oriented(TopAbs_REVERSED));
  builder.Range(edge, 0.0, length);
  straights_.push_back(edge);
  return edge;
}

const FoldedEdges& JointEdges::folded(const Sheet& sheet, double w) {
  if (const auto found = folded_.find(w); found != folded_.end()) return found->second;
  const FoldedRim rim = folded_rim(fitting_, w);
  FoldedEdges made{folded_layer(sheet, w, rim), {}, {}};
  BRep_Builder builder;
  for (const Vec3& point : made.layer.points) {
    TopoDS_Vertex vertex;
    builder.MakeVertex(vertex, to_kernel(point), k_tolerance);
    made.vertices.push_back(vertex);
  }
  for (const FoldedCurve& curve : made.layer.curves) {
    ArcEdge arc{{curve.first, curve.last},
                {},
                {},
                0.0,
                made.vertices[static_cast<std::size_t>(curve.from)],
                made.vertices[static_cast<std::size_t>(curve.to)]};
    if (curve.straight()) {
      arc.edge = straight(arc.from, arc.to);
    } else {
      const int n = spans_of(curve, rim) * fineness();
      for (int i = 0; i <= n; ++i)
        arc.parameters.push_back(i == n ? curve.last : curve.first + (curve.last - curve.first) * i / n);
      builder.MakeEdge(arc.edge, fitted_curve(curve.at, arc.parameters), k_tolerance);
      builder.Add(arc.edge, arc.from.Oriented(TopAbs_FORWARD));
      builder.Add(arc.edge, arc.to.Oriented(TopAbs_REVERSED));
      builder.Range(arc.edge, curve.first, curve.last);
    }
    made.edges.push_back(std::move(arc));
  }
  return folded_.emplace(w, std::move(made)).first->second;
}

std::vector<ArcEdge> JointEdges::folded_rim_edges(const Sheet& sheet, double w) {
  const FoldedEdges& of = folded(sheet, w);
  std::vector<ArcEdge> edges;
  for (const FoldedSide& side : round_rim(of.layer)) {
    const FoldedCurve& curve = of.layer.curves[static_cast<std::size_t>(side.curve)];
    ArcEdge edge = of.edges[static_cast<std::size_t>(side.curve)];
    const auto ruling = [&](double parameter) { return curve.theta + curve.rate * parameter; };
    edge.arc = {ruling(curve.first), ruling(curve.last)};
    for (double& parameter : edge.parameters) parameter = ruling(parameter);
    edge.rate = 1.0 / curve.rate;
    edge.shift = curve.theta / curve.rate;
    if (!edge.with_s()) {
      std::swap(edge.arc.from, edge.arc.to);
      std::swap(edge.from, edge.to);
      std::reverse(edge.parameters.begin(), edge.parameters.end());
    }
    edges.push_back(std::move(edge));
  }
  return edges;
}

}  // namespace linerwright
