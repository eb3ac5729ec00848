#include "edge_search.hpp"

#include <BRep_Tool.hxx>
#include <Geom_BSplineCurve.hxx>
#include <TopExp.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "kernel_side.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

std::vector<double> places_along(const TopoDS_Edge& edge, const BRepAdaptor_Curve& curve) {
  const double first = curve.FirstParameter();
  const double last = curve.LastParameter();
  std::vector<double> places;
  double from = 0.0;
  double to = 0.0;
  const Handle(Geom_BSplineCurve) spline =
      Handle(Geom_BSplineCurve)::DownCast(BRep_Tool::Curve(edge, from, to));
  if (!spline.IsNull()) {
    // between two knots, the curve is one cubic
    for (int i = 1; i < spline->NbKnots(); ++i)
      for (const double share : {0.0, 0.5})
        places.push_back((1.0 - share) * spline->Knot(i) + share * spline->Knot(i + 1));
  } else {
    const int steps = curve.GetType() == GeomAbs_Line ? 1 : 64;
    for (int i = 0; i < steps; ++i) places.push_back(first + (last - first) * i / steps);
  }
  places.push_back(last);
  return places;
}

namespace {

double distance_to_segment(const gp_Pnt& p, const gp_Pnt& a, const gp_Pnt& b) {
  const gp_Vec along(a, b);
  const double length2 = along.SquareMagnitude();
  const double share = length2 > 0.0 ? std::clamp(gp_Vec(a, p).Dot(along) / length2, 0.0, 1.0) : 0.0;
  return p.Distance(a.Translated(share * along));
}

double away_from_box(const gp_Pnt& p, const gp_XYZ& low, const gp_XYZ& high) {
  double square = 0.0;
  for (int i = 1; i <= 3; ++i) {
    const double out = std::max({0.0, low.Coord(i) - p.Coord(i), p.Coord(i) - high.Coord(i)});
    square += out * out;
  }
  return std::sqrt(square);
}

}  // namespace

EdgeSearch::EdgeSearch(const Solid& solid, const std::vector<std::size_t>& which) {
  const std::vector<TopoDS_Edge> all = edges_of(solid);
  for (std::size_t i = 0; i < all.size(); ++i)
    if (which.empty() || std::find(which.begin(), which.end(), i) != which.end()) {
      Edge made{all[i], BRepAdaptor_Curve(all[i]), {}, {}};
      made.parameters = places_along(made.edge, made.curve);
      add_spans(made);
      edges_.push_back(std::move(made));
    }
  if (spans_.empty()) throw GeometryError("distance to edges: the solid has none");
  build(0, spans_.size());
}

// Places in their order along the curve: the kernel prepares each of its spans for its first place there.
void EdgeSearch::add_spans(Edge& edge) {
  const std::vector<double>& at = edge.parameters;
  edge.points.push_back(edge.curve.Value(at.front()));
  for (std::size_t k = 0; k + 1 < at.size(); ++k) {
    std::array<gp_Pnt, 3> between;
    for (std::size_t i = 0; i < between.size(); ++i) {
      const double share = 0.25 * static_cast<double>(i + 1);
      between[i] = edge.curve.Value((1.0 - share) * at[k] + share * at[k + 1]);
    }
    edge.points.push_back(edge.curve.Value(at[k + 1]));
    double out = 0.0;
    for (const gp_Pnt& point : between)
      out = std::max(out, distance_to_segment(point, edge.points[k], edge.points[k + 1]));
    spans_.push_back({edges_.size(), k, 1.5 * out});
  }
}

void EdgeSearch::build(std::size_t first, std::size_t last) {
  constexpr std::size_t k_few = 4;
  const std::size_t here = nodes_.size();
  constexpr double k_far = std::numeric_limits<double>::infinity();
  Node node{{k_far, k_far, k_far}, {-k_far, -k_far, -k_far}, first, last};
  for (std::size_t i = first; i < last; ++i)
    for (const std::size_t end : {spans_[i].at, spans_[i].at + 1})
      for (int axis = 1; axis <= 3; ++axis) {
        const double at = edges_[spans_[i].edge].points[end].Coord(axis);
        node.low.SetCoord(axis, std::min(node.low.Coord(axis), at - spans_[i].bulge));
        node.high.SetCoord(axis, std::max(node.high.Coord(axis), at + spans_[i].bulge));
      }
  nodes_.push_back(node);
  if (last - first <= k_few) return;
  const std::size_t middle = first + (last - first) / 2;
  build(first, middle);
  nodes_[here].right = nodes_.size();
  build(middle, last);
}

double EdgeSearch::chord_distance(const Span& span, const gp_Pnt& p) const {
  const Edge& edge = edges_[span.edge];
  return distance_to_segment(p, edge.points[span.at], edge.points[span.at + 1]);
}

// By Newton steps kept inside the span, started from the nearest point of the chord.
EdgeSearch::Place EdgeSearch::nearest_on(const Span& span, const gp_Pnt& p) const {
  const Edge& edge = edges_[span.edge];
  const gp_Pnt& a = edge.points[span.at];
  const gp_Pnt& b = edge.points[span.at + 1];
  const double low = edge.parameters[span.at];
  const double high = edge.parameters[span.at + 1];
  const gp_Vec chord(a, b);
  const double length2 = chord.SquareMagnitude();
  const double share = length2 > 0.0 ? std::clamp(gp_Vec(a, p).Dot(chord) / length2, 0.0, 1.0) : 0.0;
  double at = low + share * (high - low);
  Place nearest{span.edge, low, p.Distance(a)};
  if (const double other = p.Distance(b); other < nearest.away) nearest = {span.edge, high, other};
  constexpr int k_most_steps = 12;
  for (int step = 0; step < k_most_steps; ++step) {
    gp_Pnt on;
    gp_Vec slope;
    gp_Vec bend;
    edge.curve.D2(at, on, slope, bend);
    const gp_Vec away(p, on);
    if (away.Magnitude() < nearest.away) nearest = {span.edge, at, away.Magnitude()};
    const double first = away.Dot(slope);
    const double second = slope.SquareMagnitude() + away.Dot(bend);
    const double next = std::clamp(at - first / (second > 0.0 ? second : slope.SquareMagnitude()), low, high);
    if (std::fabs(next - at) <= 1e-14 * std::max(1.0, std::fabs(at))) break;
    at = next;
  }
  return nearest;
}

void EdgeSearch::search(std::size_t index, const gp_Pnt& p, double& nearest) const {
  const Node& node = nodes_[index];
  if (node.right == 0) {
    for (std::size_t i = node.first; i < node.last; ++i)
      if (chord_distance(spans_[i], p) - spans_[i].bulge < nearest)
        nearest = std::min(nearest, nearest_on(spans_[i], p).away);
    return;
  }
  std::size_t near = index + 1;
  std::size_t far = node.right;
  double near_away = away_from_box(p, nodes_[near].low, nodes_[near].high);
  double far_away = away_from_box(p, nodes_[far].low, nodes_[far].high);
  if (far_away < near_away) {
    std::swap(near, far);
    std::swap(near_away, far_away);
  }
  if (near_away < nearest) search(near, p, nearest);
  if (far_away < nearest) search(far, p, nearest);
}

double EdgeSearch::distance(const gp_Pnt& p) const {
  double nearest = std::numeric_limits<double>::infinity();
  search(0, p, nearest);
  return nearest;
}

void EdgeSearch::gather(std::size_t index, const gp_Pnt& p, double within, std::vector<Place>& found) const {
  const Node& node = nodes_[index];
  if (away_from_box(p, node.low, node.high) > within) return;
  if (node.right != 0) {
    gather(index + 1, p, within, found);
    gather(node.right, p, within, found);
    return;
  }
  for (std::size_t i = node.first; i < node.last; ++i) {
    if (chord_distance(spans_[i], p) - spans_[i].bulge > within) continue;
    const Place place = nearest_on(spans_[i], p);
    if (place.away > within) continue;
    const auto same = std::find_if(found.begin(), found.end(),
                                   [&](const Place& known) { return known.edge == place.edge; });
    if (same == found.end())
      found.push_back(place);
    else if (place.away < same->away)
      *same = place;
  }
}

std::vector<EdgeSearch::Place> EdgeSearch::near(const gp_Pnt& p, double within) const {
  std::vector<Place> found;
  gather(0, p, within, found);
  return found;
}

std::vector<TopoDS_Edge> edges_of(const Solid& solid) {
  TopTools_IndexedMapOfShape edges;
  TopExp::MapShapes(solid.shape().shape, TopAbs_EDGE, edges);
  std::vector<TopoDS_Edge> all;
  for (int i = 1; i <= edges.Extent(); ++i)
    if (!BRep_Tool::Degenerated(TopoDS::Edge(edges(i)))) all.push_back(TopoDS::Edge(edges(i)));
  return all;
}

std::vector<double> kernel::distances_to_edges(const Solid& solid, const std::vector<Vec3>& points,
                                               const std::vector<std::size_t>& which) {
  const EdgeSearch edges(solid, which);
  std::vector<double> distances;
  for (const Vec3& point : points) distances.push_back(edges.distance(to_kernel(point)));
  return distances;
}

double kernel::distance_to_edges(const Solid& solid, const std::vector<Vec3>& points,
                                 const std::vector<std::size_t>& which) {
  double farthest = 0.0;
  for (const double distance : kernel::distances_to_edges(solid, points, which))
    farthest = std::max(farthest, distance);
  return farthest;
}

}  // namespace linerwright
