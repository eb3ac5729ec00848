// What lies over against each other at two depths of a square-to-round's rectangular collar.
#include "linerwright/mesh/folded_layer.hpp"

namespace linerwright {

namespace {

// Where the duct face's corner is one point.
int corner_point(const FoldedLayer& layer, std::size_t corner) {
  return layer.curves[static_cast<std::size_t>(layer.uprights[corner].line)].to;
}

}  // namespace

// Counter-clockwise from outside.
std::vector<PanelEdge> panel_edges(const FoldedLayer& outer, const FoldedLayer& inner, int side) {
  const auto k = static_cast<std::size_t>(side);
  const std::size_t last = (k + 3) % 4;
  const auto floor = [&](const FoldedLayer& of) {
    return std::vector<FoldedSide>{of.floor[last][1], of.floor[k][0]};
  };
  const auto top = [&](const FoldedLayer& of) {
    const FoldedSide right = of.low_rim[k].front();
    const FoldedSide left = of.low_rim[last].back();
    return std::vector<FoldedSide>{{right.curve, !right.forward}, {left.curve, !left.forward}};
  };
  std::vector<PanelEdge> edges{{floor(outer), 0, floor(inner)}};
  const FoldedUpright& after = inner.uprights[k];
  const FoldedUpright& before = inner.uprights[last];
  edges.push_back({{{outer.uprights[k].line, true}}, 0, {{after.line, true}}});
  if (after.ear && !after.ear_on_first) edges.push_back({{}, corner_point(outer, k), {{*after.ear, true}}});
  edges.push_back({top(outer), 0, top(inner)});
  if (before.ear && before.ear_on_first)
    edges.push_back({{}, corner_point(outer, last), {{*before.ear, false}}});
  edges.push_back({{{outer.uprights[last].line, false}}, 0, {{before.line, false}}});
  return edges;
}

// In the sense of theta.
std::vector<PanelEdge> mitre_edges(const FoldedLayer& outer, const FoldedLayer& inner, int quarter) {
  const auto q = static_cast<std::size_t>(quarter);
  const FoldedUpright& corner = inner.uprights[q];
  std::vector<PanelEdge> edges{{{outer.low_rim[q].front()}, 0, {inner.low_rim[q].front()}}};
  if (corner.ear) edges.push_back({{}, corner_point(outer, q), {{*corner.ear, corner.ear_on_first}}});
  edges.push_back({{outer.low_rim[q].back()}, 0, {inner.low_rim[q].back()}});
  return edges;
}

}  // namespace linerwright
