// Faces of a square-to-round's rectangular collar. All of them inside of the metal are flat.
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Geom_Plane.hxx>
#include <cmath>

#include "faces.hpp"
#include "linerwright/sheet/panels.hpp"

namespace linerwright {

namespace {

// The plane of a ring of points, which run counter-clockwise about its normal.
Handle(Geom_Plane) plane_of(const std::vector<Vec3>& ring) {
  Vec3 twice{};
  for (std::size_t i = 1; i + 1 < ring.size(); ++i)
    twice = twice + cross(ring[i] - ring[0], ring[i + 1] - ring[0]);
  const Vec3 normal = normalised(twice);
  return new Geom_Plane(to_kernel(ring[0]), gp_Dir(normal.x, normal.y, normal.z));
}

TopoDS_Edge oriented(const FoldedEdges& of, const FoldedSide& side, bool along) {
  const TopoDS_Edge& edge = of.edges[static_cast<std::size_t>(side.curve)].edge;
  return TopoDS::Edge(edge.Oriented(side.forward == along ? TopAbs_FORWARD : TopAbs_REVERSED));
}

TopoDS_Vertex start_of(const FoldedEdges& of, const FoldedSide& side) {
  const ArcEdge& edge = of.edges[static_cast<std::size_t>(side.curve)];
  return side.forward ? edge.from : edge.to;
}
TopoDS_Vertex end_of(const FoldedEdges& of, const FoldedSide& side) {
  return start_of(of, {side.curve, !side.forward});
}

Vec3 place_in_space(const TopoDS_Vertex& vertex) {
  return from_kernel(BRep_Tool::Pnt(vertex));
}

TopoDS_Face face_in(const Handle(Geom_Plane) & plane, const TopoDS_Wire& wire) {
  BRep_Builder builder;
  TopoDS_Face face;
  builder.MakeFace(face, plane, k_tolerance);
  builder.Add(face, wire);
  return face;
}

constexpr double k_of_panels = 1e7;  // tells these keys from others'

}  // namespace

TopoDS_Face Faces::flat_between(const FoldedEdges& out, const std::vector<FoldedSide>& outer,
                                const TopoDS_Vertex& point, const FoldedEdges& in,
                                const std::vector<FoldedSide>& inner) {
  const TopoDS_Vertex first = outer.empty() ? point : start_of(out, outer.front());
  const TopoDS_Vertex last = outer.empty() ? point : end_of(out, outer.back());
  std::vector<Vec3> ring{place_in_space(first)};
  BRep_Builder builder;
  TopoDS_Wire wire;
  builder.MakeWire(wire);
  for (const FoldedSide& side : outer) {
    builder.Add(wire, oriented(out, side, true));
    ring.push_back(place_in_space(end_of(out, side)));
  }
  builder.Add(wire, straight(last, end_of(in, inner.back())).Oriented(TopAbs_FORWARD));
  for (auto side = inner.rbegin(); side != inner.rend(); ++side) {
    builder.Add(wire, oriented(in, *side, false));
    ring.push_back(place_in_space(end_of(in, *side)));
  }
  ring.push_back(place_in_space(start_of(in, inner.front())));
  builder.Add(wire, straight(first, start_of(in, inner.front())).Oriented(TopAbs_REVERSED));
  return face_in(plane_of(ring), wire);
}

TopoDS_Face Faces::panel_face(const PanelTarget& panel, double w, const std::vector<Loop>& holes) {
  std::vector<double> key{k_of_panels, w, static_cast<double>(panel.side)};
  for (const Loop& hole : holes) add_to_key(key, hole);
  const auto made = [&] {
    const FoldedEdges& of = edges_.folded(panel.hull, w);
    BRep_Builder builder;
    TopoDS_Wire wire;
    builder.MakeWire(wire);
    for (const FoldedSide& side : of.layer.panels[static_cast<std::size_t>(panel.side)])
      builder.Add(wire, oriented(of, side, true));
    const Frame frame = panel_frame(panel.hull, panel.side);
    const Vec3 on = frame.origin - w * frame.z;
    TopoDS_Face face = face_in(new Geom_Plane(to_kernel(on), gp_Dir(frame.z.x, frame.z.y, frame.z.z)), wire);
    for (const Loop& hole : holes) builder.Add(face, wire_of(hole).Oriented(TopAbs_REVERSED));
    return std::vector<TopoDS_Face>{face};
  };
  return once(std::move(key), made).front();
}

std::vector<TopoDS_Face> Faces::panel_across(const PanelTarget& panel, double outer, double inner) {
  return once({k_of_panels, outer, inner, static_cast<double>(panel.side)}, [&] {
    const FoldedEdges& out = edges_.folded(panel.hull, outer);
    const FoldedEdges& in = edges_.folded(panel.hull, inner);
    std::vector<TopoDS_Face> faces;
    for (const PanelEdge& edge : panel_edges(out.layer, in.layer, panel.side))
      faces.push_back(
          flat_between(out, edge.outer, out.vertices[static_cast<std::size_t>(edge.point)], in, edge.inner));
    return faces;
  });
}

std::vector<TopoDS_Face> Faces::panel_mitres(const Sheet& sheet, double outer, double inner, int quarter) {
  return once({k_of_panels, outer, inner, static_cast<double>(quarter), 1.0}, [&] {
    const FoldedEdges& out = edges_.folded(sheet, outer);
    const FoldedEdges& in = edges_.folded(sheet, inner);
    std::vector<TopoDS_Face> faces;
    for (const PanelEdge& edge : mitre_edges(out.layer, in.layer, quarter))
      faces.push_back(
          flat_between(out, edge.outer, out.vertices[static_cast<std::size_t>(edge.point)], in, edge.inner));
    return faces;
  });
}

std::vector<TopoDS_Face> Faces::skirts(const Sheet& sheet, double w) {
  return once({k_of_panels, w, 0.0, 0.0, 0.0, 0.0}, [&] {
    const FoldedEdges& of = edges_.folded(sheet, w);
    const auto edge = [&](int curve) -> const ArcEdge& { return of.edges[static_cast<std::size_t>(curve)]; };
    std::vector<TopoDS_Face> faces;
    for (const auto& quarter : of.layer.skirts)
      for (const FoldedLayer::Skirt& skirt : quarter) {
        TopoDS_Face face;
        if (of.layer.curves[static_cast<std::size_t>(skirt.above.curve)].straight()) {
          const ArcEdge& below = edge(skirt.below.curve);
          const ArcEdge& above = edge(skirt.above.curve);
          BRep_Builder builder;
          TopoDS_Wire wire;
          builder.MakeWire(wire);
          builder.Add(wire, below.edge.Oriented(TopAbs_FORWARD));
          builder.Add(wire, edge(skirt.last).edge.Oriented(TopAbs_FORWARD));
          builder.Add(wire, above.edge.Oriented(TopAbs_REVERSED));
          builder.Add(wire, edge(skirt.first).edge.Oriented(TopAbs_REVERSED));
          face = face_in(plane_of({place_in_space(below.from), place_in_space(below.to),
                                   place_in_space(above.to), place_in_space(above.from)}),
                         wire);
        } else {
          face = ruled_patch(edge(skirt.below.curve), edge(skirt.above.curve), edge(skirt.first).edge,
                             edge(skirt.last).edge);
        }
        if (!skirt.above.forward) face.Reverse();
        faces.push_back(face);
      }
    return faces;
  });
}

}  // namespace linerwright
