#include "linerwright/reroll/edge_reference.hpp"

#include <algorithm>
#include <cmath>

#include "linerwright/draw/curve_places.hpp"
#include "linerwright/draw/polygon.hpp"
#include "linerwright/joint/folded_ends.hpp"
#include "linerwright/reroll/near_lines.hpp"

namespace linerwright {

namespace {

constexpr double k_chord = 0.005;  // mm: how far edges may stray from the reference's chords

double counted_from(double seam, double theta) {
  double turn = std::fmod(theta - seam, k_two_pi);
  if (turn < 0.0) turn += k_two_pi;
  return seam + turn;
}

// Adds the places of both faces at these parameters, and at others between them where chords would stray.
template <class At>
void add_places(EdgeReference& reference, const RolledPiece& rolled, const LinerSpec& liner, const At& at,
                const std::vector<double>& parameters) {
  const auto faces = [&](double s) {
    return std::array<Vec2, 2>{rolled.board(at(s, liner.outer_depth)),
                               rolled.board(at(s, liner.inner_depth()))};
  };
  for (const CurvePlace& place : curve_places(faces, parameters, k_chord)) {
    reference.duct.push_back(place.at[0]);
    reference.air.push_back(place.at[1]);
    reference.duct_places.push_back(at(place.parameter, liner.outer_depth));
    reference.air_places.push_back(at(place.parameter, liner.inner_depth()));
  }
}

// An end moved outward by `extra`.
EdgeReference moved_end(const Fitting& fitting, const RolledPiece& rolled, End end, double extra, int steps) {
  const Piece& piece = rolled.piece();
  const LinerSpec& liner = liner_of(fitting, piece);
  std::vector<double> rulings;
  for (int i = 0; i <= steps; ++i) rulings.push_back(piece.seam + piece.span * i / steps);
  for (const double theta : corners_at(fitting, piece.wall, end, liner.outer_depth))
    rulings.push_back(counted_from(piece.seam, theta));
  const Joint& joint = fitting.joint(fitting.wall_of(piece).use(end).joint);
  if (joint.folded() || joint.of_panel())
    for (const double theta : corners_at(fitting, piece.wall, end, liner.inner_depth()))
      rulings.push_back(counted_from(piece.seam, theta));
  if (const Sheet& sheet = fitting.wall_of(piece).sheet; sheet.is_square_to_round()) {
    // where carving begins the knife stands up at once
    constexpr double k_beside = 1e-9;
    if (end == End::low)
      for (const Arc& range : carved_ranges(sheet, liner.inner_depth()))
        for (const double theta : {range.from, range.to})
          for (const double side : {-k_beside, k_beside})
            rulings.push_back(counted_from(piece.seam, theta + side));
  }
  std::sort(rulings.begin(), rulings.end());
  while (rulings.back() > piece.seam + piece.span) rulings.pop_back();
  EdgeReference reference;
  const auto at = [&](double theta, double w) {
    return Sheet::Place{theta, liner_end(fitting, piece.wall, end, theta, w) + outward(end) * extra};
  };
  add_places(reference, rolled, liner, at, rulings);
  return reference;
}

}  // namespace

EdgeReference bare_end(const Fitting& fitting, const RolledPiece& rolled, End end, int steps) {
  return moved_end(fitting, rolled, end, 0.0, steps);
}

EdgeReference end_reference(const Fitting& fitting, const RolledPiece& rolled, End end, double butt,
                            int steps) {
  const Piece& piece = rolled.piece();
  const Wall& wall = fitting.wall_of(piece);
  const int joint = wall.use(end).joint;
  const bool open = fitting.joint(joint).open();
  // these take none at their ends
  if (rolled.is_folded() || fitting.joint(joint).of_panel()) return bare_end(fitting, rolled, end, steps);
  return moved_end(fitting, rolled, end, open ? liner_of(fitting, piece).end_allowance : butt, steps);
}

std::vector<Vec2> EdgeReference::between(double share) const {
  std::vector<Vec2> line;
  for (std::size_t i = 0; i < duct.size(); ++i) line.push_back(at(i, share));
  return line;
}

EdgeReference hole_reference(const Fitting& fitting, const RolledPiece& rolled, const JointUse& use,
                             int steps_around) {
  const Joint& joint = fitting.joint(use.joint);
  const LinerSpec& liner = liner_of(fitting, rolled.piece());
  EdgeReference reference;
  reference.hole = true;
  const std::vector<Arc> arcs = arcs_of(joint);
  const int steps = steps_around / static_cast<int>(arcs.size());
  const auto at = [&](double s, double w) {
    Sheet::Place place =
        place_on(joint, use.side, s, liner_depths(joint.style, use.side, w, liner.bore_depth()));
    place.theta = counted_from(rolled.piece().seam, place.theta);
    return place;
  };
  for (const Arc& arc : arcs) {
    std::vector<double> parameters;
    // close together toward the ends, where a curve that is nearly cornered bends
    for (int i = 0; i <= steps; ++i)
      parameters.push_back(arc.from + (arc.to - arc.from) * 0.5 * (1.0 - std::cos(k_pi * i / steps)));
    add_places(reference, rolled, liner, at, parameters);
    // the next arc begins there
    reference.duct.pop_back();
    reference.air.pop_back();
    reference.duct_places.pop_back();
    reference.air_places.pop_back();
  }
  return reference;
}

std::vector<Vec2> edge_of_smaller(const std::vector<std::vector<Vec2>>& rings, std::size_t of,
                                  double distance) {
  constexpr double k_nearer = 1e-4;  // mm
  BoardLines edges;
  for (const std::vector<Vec2>& ring : rings) edges.push_back({ring, true});
  const NearLines near(edges);
  const std::vector<Vec2>& ring = rings[of];
  const double inward = signed_area(ring) > 0.0 ? 1.0 : -1.0;  // to the left of the way around
  std::vector<Vec2> points;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Vec2 a = ring[i];
    const Vec2 along = ring[(i + 1) % ring.size()] - a;
    const double length = norm(along);
    if (!(length > 0.0)) continue;
    const Vec2 p = a + 0.5 * along + (inward * distance / length) * Vec2{-along.y, along.x};
    if (!(near.distance(p) > distance - k_nearer)) continue;
    // no way inward that crosses its own ring comes so far from it
    const bool in_others = std::all_of(rings.begin(), rings.end(), [&](const std::vector<Vec2>& other) {
      return &other == &ring || point_in_polygon(p, other);
    });
    if (in_others) points.push_back(p);
  }
  return points;
}

}  // namespace linerwright
