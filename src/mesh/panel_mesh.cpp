// A square-to-round's rectangular collar as triangles. All its faces inside of the metal are flat.
#include <algorithm>
#include <cmath>

#include "linerwright/joint/folded_ends.hpp"
#include "mesh_faces.hpp"

namespace linerwright {

// Seen whole from the middle of its upper edge.
MeshFaces::Face MeshFaces::panel_face(const PanelTarget& panel, double w) {
  const FoldedLines& of = folded(panel.hull, w);
  const auto k = static_cast<std::size_t>(panel.side);
  std::vector<int> ring = chain(of, of.layer.panels[k]);
  ring.pop_back();
  const int eye = of.points[static_cast<std::size_t>(of.layer.seams[k].low)];
  std::rotate(ring.begin(), std::find(ring.begin(), ring.end(), eye), ring.end());
  Face face;
  for (std::size_t i = 1; i + 1 < ring.size(); ++i) face.push_back({ring[0], ring[i], ring[i + 1]});
  return face;
}

std::vector<MeshFaces::Face> MeshFaces::panel_across(const PanelTarget& panel, double outer, double inner) {
  const FoldedLines& out = folded(panel.hull, outer);
  const FoldedLines& in = folded(panel.hull, inner);
  std::vector<Face> faces;
  for (const PanelEdge& edge : panel_edges(out.layer, in.layer, panel.side)) {
    const std::vector<int> line = edge.outer.empty()
                                      ? std::vector<int>{out.points[static_cast<std::size_t>(edge.point)]}
                                      : chain(out, edge.outer);
    faces.push_back(between(line, chain(in, edge.inner)));
  }
  return faces;
}

MeshFaces::Face MeshFaces::panel_mitres(const Sheet& sheet, double outer, double inner, int quarter) {
  const FoldedLines& out = folded(sheet, outer);
  const FoldedLines& in = folded(sheet, inner);
  Face face;
  for (const PanelEdge& edge : mitre_edges(out.layer, in.layer, quarter)) {
    const std::vector<int> line = edge.outer.empty()
                                      ? std::vector<int>{out.points[static_cast<std::size_t>(edge.point)]}
                                      : chain(out, edge.outer);
    const Face part = between(line, chain(in, edge.inner));
    face.insert(face.end(), part.begin(), part.end());
  }
  return face;
}

MeshFaces::Face MeshFaces::across_end(const Joint& joint, double outer, double inner, const Range& range) {
  if (is_round_end(joint) || !(joint.lead.square_collar() > 0.0))
    return folded_across(joint, outer, inner, range);
  Face face;
  constexpr double k_quarter = 0.5 * k_pi;
  const int first = static_cast<int>(std::lround(range.from / k_quarter));
  const int count = static_cast<int>(std::lround(range.span / k_quarter));
  for (int i = 0; i < count; ++i) {
    const Face part = panel_mitres(joint.lead, outer, inner, (((first + i) % 4) + 4) % 4);
    face.insert(face.end(), part.begin(), part.end());
  }
  return face;
}

std::vector<MeshFaces::Face> MeshFaces::skirts(const FoldedLines& of) {
  std::vector<Face> faces;
  for (const auto& quarter : of.layer.skirts)
    for (const FoldedLayer::Skirt& skirt : quarter) {
      const std::vector<int> above = chain(of, {skirt.above});
      const std::vector<int> below = chain(of, {skirt.below});
      Face face;
      for (std::size_t i = 0; i + 1 < above.size(); ++i)
        add_quad(face, below[i], below[i + 1], above[i + 1], above[i]);
      faces.push_back(std::move(face));
    }
  return faces;
}

}  // namespace linerwright
