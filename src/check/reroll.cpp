// The two faces of a pattern rolled into space, held against the edges of the solids, both ways.
#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include <fmt/format.h>

#include "linerwright/reroll/dxf_lines.hpp"
#include "linerwright/reroll/near_lines.hpp"
#include "linerwright/reroll/rolled_piece.hpp"
#include "linerwright/solid/inside_points.hpp"
#include "proof.hpp"

namespace linerwright {

namespace {

struct FaceLayer {
  const char* layer;
  double depth;
  double into;  // 1: the liner lies deeper than the face, -1: less deep
};

// Whether a face runs smoothly across an edge, as where two parts of it that are ruled from other points
// meet: on both sides there is liner just under the face and none just over it. Along a mitre the piece folds
// against itself.
bool runs_across(const RolledPiece& rolled, const Solid& solid, const std::vector<Vec3>& edge,
                 const FaceLayer& face, Sheet::Place middle) {
  constexpr double k_aside = 0.05, k_off_face = 0.005;  // mm
  const Vec3 on = rolled.space(middle, face.depth);
  const Vec3 down = rolled.space(middle, face.depth + face.into * k_off_face) - on;
  const Vec3 across = cross(down, edge.back() - edge.front());
  const Vec3 step = (k_aside / norm(across)) * across;
  return inside(solid, {on + down + step, on + down - step}).size() == 2 &&
         inside(solid, {on - down + step, on - down - step}).empty();
}

// The edges of a piece's solid that bound one of its faces: along them the depth stays, and they do not run
// along a ruling as the solid's own seam does and the lines where a square-to-round bends; but what is short
// beside those, and folds, is the end of a mitre, where it comes to lie along its bend line.
struct FaceEdges {
  std::vector<std::size_t> which;                 // contours may lie on these
  std::vector<std::vector<Sheet::Place>> places;  // and have to cover these
};

FaceEdges face_edges(const RolledPiece& rolled, const Solid& solid, const FaceLayer& face) {
  constexpr double k_on_face = 0.01;    // mm
  constexpr double k_on_ruling = 1e-6;  // rad
  constexpr double k_beside = 1e-3;     // mm: rulings that meet in a point stand no further apart
  constexpr double k_short = 0.1;       // of the longest that runs along a ruling
  constexpr double k_spacing = 5.0;     // mm
  const std::vector<std::vector<Vec3>> edges = edge_points(solid, k_spacing);
  FaceEdges found;
  struct Along {
    std::size_t which;
    double length;
    std::vector<Sheet::Place> places;
  };
  std::vector<Along> along;
  double longest = 0.0;
  for (std::size_t i = 0; i < edges.size(); ++i) {
    const std::vector<Vec3>& edge = edges[i];
    std::vector<Sheet::Place> places;
    for (const Vec3& point : edge) {
      const RolledPiece::Spot spot = rolled.spot(point);
      if (!(std::fabs(spot.depth - face.depth) <= k_on_face)) break;
      places.push_back(spot.place);
    }
    if (places.size() != edge.size()) continue;
    const double ruling = places[places.size() / 2].theta;
    // at a corner of the face an end may lie on another ruling as well
    const bool long_one = places.size() > 2;
    const auto inside =
        std::make_pair(places.begin() + (long_one ? 1 : 0), places.end() - (long_one ? 1 : 0));
    const bool around = std::any_of(inside.first, inside.second, [&](const Sheet::Place& place) {
      const double turn = std::fabs(std::remainder(place.theta - ruling, k_two_pi));
      return turn > k_on_ruling && turn * rolled.spread(place) > k_beside;
    });
    if (!around) {
      const double length = distance(edge.front(), edge.back());
      longest = std::max(longest, length);
      along.push_back({i, length, std::move(places)});
      continue;
    }
    found.which.push_back(i);
    found.places.push_back(std::move(places));
  }
  for (Along& edge : along) {
    if (!rolled.is_folded() || edge.length >= k_short * longest) continue;
    found.which.push_back(edge.which);
    if (!runs_across(rolled, solid, edges[edge.which], face, edge.places[edge.places.size() / 2]))
      found.places.push_back(std::move(edge.places));
  }
  return found;
}

// Distance on the board from a place to the lines; a place on the seam lies on both of the board's edges
// there, and the further one counts.
double distance_on_board(const RolledPiece& rolled, Sheet::Place place, const NearLines& lines) {
  double furthest = -1.0;
  for (const double turn : {-k_two_pi, 0.0, k_two_pi}) {
    const Sheet::Place other{place.theta + turn, place.v};
    if (rolled.overrun(other) < 1e-3) furthest = std::max(furthest, lines.distance(rolled.board(other)));
  }
  return furthest < 0.0 ? std::numeric_limits<double>::infinity() : furthest;
}

// How far the points of a face's lines come to lie off its piece and its solid's edges, of a point that has
// more than one place on the wall at its best.
double off_edges(const RolledPiece& rolled, const std::vector<BoardLine>& lines, double depth,
                 const Solid& solid, const std::vector<std::size_t>& which) {
  struct Spot {
    std::size_t point;
    double overrun;
  };
  std::vector<Spot> spots;
  std::vector<Vec3> in_space;
  std::size_t points = 0;
  for (const BoardLine& line : lines)
    for (const Vec2 point : line.points) {
      for (const Sheet::Place& place : rolled.places(point)) {
        spots.push_back({points, rolled.overrun(place)});
        in_space.push_back(rolled.space(place, depth));
      }
      ++points;
    }
  const std::vector<double> away = distances_to_edges(solid, in_space, which);
  std::vector<double> best(points, std::numeric_limits<double>::infinity());
  for (std::size_t i = 0; i < spots.size(); ++i)
    best[spots[i].point] = std::min(best[spots[i].point], std::max(spots[i].overrun, away[i]));
  return best.empty() ? 0.0 : *std::max_element(best.begin(), best.end());
}

}  // namespace

std::vector<CheckResult> prove_roll(const Fitting& fitting, const Pattern& pattern, const DxfFile& file,
                                    const std::vector<const Part*>& liners) {
  const std::string roll_name = "re-roll " + pattern.id;
  const std::string cover_name = "cover " + pattern.id;
  double off = 0.0;
  double bare = 0.0;
  std::size_t rolled_points = 0;
  std::size_t edge_points_met = 0;
  std::string lacking;
  const LinerSpec& spec = liner_of(fitting, pattern);
  for (const FaceLayer& face :
       {FaceLayer{layer_name(outer_face_layer(pattern.layer)), spec.outer_depth, 1.0},
        FaceLayer{layer_name(inner_face_layer(pattern.layer)), spec.inner_depth(), -1.0}}) {
    const std::vector<BoardLines> parts =
        lines_by_part(lines_on(file, face.layer), pattern, spec.butt_allowance);
    for (std::size_t part = 0; part < parts.size(); ++part) {
      const RolledPiece rolled(fitting, pattern, part);
      const Part* liner = liners[static_cast<std::size_t>(pattern.pieces[part])];
      if (liner == nullptr)
        throw std::invalid_argument("the STEP has no part named liner " + rolled.piece().id);
      const Solid& solid = liner->solid;
      const FaceEdges edges = face_edges(rolled, solid, face);
      for (const BoardLine& line : parts[part]) rolled_points += line.points.size();
      off = std::max(off, off_edges(rolled, parts[part], face.depth, solid, edges.which));

      const std::size_t ends = rolled.is_flat() ? 1 : 2;
      if (edges.which.size() < ends + holes_of(fitting, rolled.piece()).size() && lacking.empty())
        lacking = fmt::format("{} edges around the face of {} of piece {}", edges.which.size(), face.layer,
                              rolled.piece().id);
      const NearLines contours(parts[part]);
      for (const auto& edge : edges.places)
        for (const Sheet::Place place : edge) {
          bare = std::max(bare, distance_on_board(rolled, place, contours));
          ++edge_points_met;
        }
    }
  }
  const double limit = 0.05 + k_chord_error;
  return {within(roll_name, off, limit, "mm",
                 fmt::format("{} points of both faces to the solid's edges", rolled_points)),
          lacking.empty()
              ? within(cover_name, bare, limit, "mm",
                       fmt::format("{} points of the solid's edges to the contours", edge_points_met))
              : undone(cover_name, lacking)};
}

}  // namespace linerwright
