// Both faces of a pattern rolled into space, held against the curves in which the faces end there.
#include <algorithm>
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "linerwright/reroll/edge_reference.hpp"
#include "linerwright/reroll/near_lines.hpp"
#include "linerwright/reroll/reroll.hpp"

namespace linerwright {

namespace {

constexpr int k_steps = 180;  // around, and more where chords would stray

// A curve in space, point by point.
using SpaceLine = std::vector<Vec3>;

double distance_to(Vec3 p, const std::vector<SpaceLine>& lines) {
  double nearest = std::numeric_limits<double>::infinity();
  for (const SpaceLine& line : lines)
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
      const Vec3 along = line[i + 1] - line[i];
      const double square = dot(along, along);
      const double share = square > 0.0 ? std::clamp(dot(p - line[i], along) / square, 0.0, 1.0) : 0.0;
      const Vec3 off = p - (line[i] + share * along);
      nearest = std::min(nearest, dot(off, off));
    }
  return std::sqrt(nearest);
}

// The edges of one face of a piece: both ends, the straight seams between them, and the holes.
struct FaceEdges {
  std::vector<SpaceLine> lines;
  std::vector<Vec2> on_board;  // of the ends and holes
};

FaceEdges edges_of(const RolledPiece& rolled, const std::vector<EdgeReference>& references, Face face,
                   double depth) {
  FaceEdges edges;
  for (const EdgeReference& reference : references) {
    SpaceLine line;
    for (const Sheet::Place& place : face == Face::air ? reference.air_places : reference.duct_places)
      line.push_back(rolled.space(place, depth));
    if (reference.hole) line.push_back(line.front());
    edges.lines.push_back(std::move(line));
    const std::vector<Vec2>& flat = face == Face::air ? reference.air : reference.duct;
    edges.on_board.insert(edges.on_board.end(), flat.begin(), flat.end());
  }
  if (rolled.is_flat()) return edges;
  edges.lines.push_back({edges.lines[0].front(), edges.lines[1].front()});
  edges.lines.push_back({edges.lines[0].back(), edges.lines[1].back()});
  return edges;
}

}  // namespace

CheckResult prove_faces(const Fitting& fitting, const Pattern& pattern, const DxfFile& file) {
  const LinerSpec& liner = liner_of(fitting, pattern);
  double off = 0.0;
  std::size_t points = 0;
  for (const Face face : {Face::duct, Face::air}) {
    const bool inner = face == Face::air;
    const double depth = inner ? liner.inner_depth() : liner.outer_depth;
    const Layer layer = inner ? inner_face_layer(pattern.layer) : outer_face_layer(pattern.layer);
    const std::vector<BoardLines> parts =
        lines_by_part(lines_on(file, layer_name(layer)), pattern, liner.butt_allowance);
    for (std::size_t part = 0; part < parts.size(); ++part) {
      const RolledPiece rolled(fitting, pattern, part);
      std::vector<EdgeReference> references{bare_end(fitting, rolled, End::low, k_steps)};
      if (!rolled.is_flat()) references.push_back(bare_end(fitting, rolled, End::high, k_steps));
      const Wall& wall = fitting.wall(rolled.piece().wall);
      for (const std::size_t h : holes_of(fitting, rolled.piece()))
        references.push_back(hole_reference(fitting, rolled, wall.holes[h], k_steps));
      const FaceEdges edges = edges_of(rolled, references, face, depth);
      for (const BoardLine& line : parts[part])
        for (const Vec2 p : line.points) {
          double best = std::numeric_limits<double>::infinity();
          for (const Sheet::Place& place : rolled.places(p))
            best = std::min(
                best, std::max(rolled.overrun(place), distance_to(rolled.space(place, depth), edges.lines)));
          off = std::max(off, best);
          ++points;
        }
      const NearLines contours(parts[part]);
      for (const Vec2 p : edges.on_board) off = std::max(off, contours.distance(p));
    }
  }
  return within(
      "faces " + pattern.id, off, 0.05 + k_chord_error, "mm",
      fmt::format("{} points of both faces, rolled up, to the joints' closed forms, and back", points));
}

}  // namespace linerwright
