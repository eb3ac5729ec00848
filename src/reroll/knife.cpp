// What the knife follows, held against the joints' closed forms under the cut policy and the allowances.
#include <algorithm>
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "linerwright/reroll/dxf_lines.hpp"
#include "linerwright/reroll/edge_reference.hpp"
#include "linerwright/reroll/near_lines.hpp"
#include "linerwright/reroll/reroll.hpp"

namespace linerwright {

namespace {

// Shares of the way from the duct face's edge to the air face's, on any of which the knife may be, of an edge
// that two pieces of a blank share or of any other.
std::vector<double> shares_of(const LinerSpec& liner, bool shared) {
  switch (liner.cut) {
    case CutPolicy::outer:
      if (!shared) return {0.0, 1.0};
      break;  // a shared cut goes half way
    case CutPolicy::mid:
      break;
    case CutPolicy::duct:
      return {0.0};
    case CutPolicy::air:
      return {1.0};
    case CutPolicy::tilt:
      return {liner.face_up == Face::air ? 1.0 : 0.0};
  }
  return {0.5};
}

// A line that the knife may follow: an end's or a seam, or the closed one of a hole.
struct Followed {
  explicit Followed(BoardLine on) : line(std::move(on)), near({line}) {}
  BoardLine line;
  NearLines near;
};

// An edge that a cut follows, on any of these shares.
struct CutEdge {
  EdgeReference reference;
  std::vector<double> shares;
};

// How far the knife's point lies from where it may be: on an end's edge, or inside a hole's edge by the butt
// allowance.
double stray(Vec2 p, const std::vector<Followed>& targets, double butt) {
  double least = std::numeric_limits<double>::infinity();
  for (const Followed& target : targets) {
    double away = target.near.distance(p);
    if (target.line.closed && butt > 0.0)
      away = point_in_polygon(p, target.line.points) ? std::fabs(away - butt) : away + butt;
    least = std::min(least, away);
  }
  return least;
}

// How far from the nearest cut the edge lies that the knife is to follow. Where it keeps all material of both
// faces that is, of an end, whichever face reaches further on the ruling, and of a hole, the edge of what
// both leave open.
double bare(const EdgeReference& reference, const std::vector<double>& shares, const NearLines& cut,
            double butt) {
  double worst = 0.0;
  if (reference.hole) {
    std::vector<std::vector<Vec2>> rings;
    for (const double share : shares) rings.push_back(reference.between(share));
    for (std::size_t ring = 0; ring < rings.size(); ++ring)
      for (const Vec2 p : edge_of_smaller(rings, ring, butt)) worst = std::max(worst, cut.distance(p));
    return worst;
  }
  for (std::size_t i = 0; i < reference.duct.size(); ++i) {
    double away = std::numeric_limits<double>::infinity();
    for (const double share : shares) away = std::min(away, cut.distance(reference.at(i, share)));
    worst = std::max(worst, away);
  }
  return worst;
}

// The farthest of the lines' points from where the knife may be, and of the edges from the lines.
double off_edges(const BoardLines& lines, const std::vector<CutEdge>& edges,
                 const std::vector<Followed>& targets, double butt, std::size_t& points) {
  double off = 0.0;
  for (const BoardLine& line : lines)
    for (const Vec2 p : line.points) {
      off = std::max(off, stray(p, targets, butt));
      ++points;
    }
  const NearLines near(lines);
  for (const CutEdge& edge : edges) off = std::max(off, bare(edge.reference, edge.shares, near, butt));
  return off;
}

std::vector<Followed> followed(const std::vector<CutEdge>& edges) {
  std::vector<Followed> targets;
  for (const CutEdge& edge : edges)
    for (const double share : edge.shares)
      targets.emplace_back(BoardLine{edge.reference.between(share), edge.reference.hole});
  return targets;
}

}  // namespace

CheckResult prove_notched_holes(const Fitting& fitting, const Pattern& pattern, const BoardLines& holes,
                                const std::string& layer, const std::vector<double>& depths) {
  const LinerSpec& liner = liner_of(fitting, pattern);
  constexpr int k_steps = 360;
  const bool knife = depths.size() > 1;
  const std::vector<double> face{depths.front() == liner.outer_depth ? 0.0 : 1.0};
  std::vector<CutEdge> edges;
  for (std::size_t part = 0; part < pattern.pieces.size(); ++part) {
    const RolledPiece rolled(fitting, pattern, part);
    for (const std::size_t h : holes_of(fitting, rolled.piece()))
      edges.push_back({hole_reference(fitting, rolled, fitting.wall(rolled.piece().wall).holes[h], k_steps),
                       knife ? shares_of(liner, false) : face});
  }
  const std::string name = "holes " + layer + " " + pattern.id;
  if (edges.size() != holes.size())
    return undone(name, fmt::format("{} holes on {}, not {}", holes.size(), layer, edges.size()));
  std::size_t points = 0;
  const double off = off_edges(holes, edges, followed(edges), knife ? liner.butt_allowance : 0.0, points);
  return within(
      name, off, 0.05 + k_chord_error, "mm",
      fmt::format("{} points of the holes' edges to their closed forms on the tabs, and back", points));
}

CheckResult prove_knife(const Fitting& fitting, const Pattern& pattern, const BoardLines& cut, int steps) {
  const LinerSpec& liner = liner_of(fitting, pattern);
  const std::vector<BoardLines> parts = lines_by_part(cut, pattern, liner.butt_allowance);
  double off = 0.0;
  std::size_t points = 0;
  for (std::size_t part = 0; part < parts.size(); ++part) {
    const RolledPiece rolled(fitting, pattern, part);
    std::vector<CutEdge> edges;
    for (const End end : k_both_ends) {
      if (rolled.is_flat() && end == End::high) break;
      const std::size_t outermost = end == End::low ? 0 : parts.size() - 1;
      const bool shared = pattern.is_blank && part != outermost;
      // the lines that a blank's parts share come without the butt allowance
      edges.push_back({end_reference(fitting, rolled, end, shared ? 0.0 : liner.butt_allowance, steps),
                       shares_of(liner, shared)});
    }
    for (const std::size_t h : holes_of(fitting, rolled.piece()))
      edges.push_back({hole_reference(fitting, rolled, fitting.wall(rolled.piece().wall).holes[h], steps),
                       shares_of(liner, false)});
    std::vector<Followed> targets = followed(edges);
    // the board's seams are straight, and may have points anywhere
    for (const bool last : {false, true}) {
      if (rolled.is_flat()) break;
      BoardLine seam;
      for (const CutEdge* end : {&edges[0], &edges[1]})
        for (const double share : end->shares)
          seam.points.push_back(end->reference.at(last ? end->reference.duct.size() - 1 : 0, share));
      targets.emplace_back(std::move(seam));
    }
    off = std::max(off, off_edges(parts[part], edges, targets, liner.butt_allowance, points));
  }
  return within("knife " + pattern.id, off, 0.05 + k_chord_error, "mm",
                fmt::format("{} points of the cut to the joints' closed forms, and back", points));
}

}  // namespace linerwright
