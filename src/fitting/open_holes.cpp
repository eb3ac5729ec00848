#include "open_holes.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "outlines.hpp"

namespace linerwright {

namespace {

// The hole's edge at liner depth w on the piece's board.
Outline hole_on_board(const Fitting& fitting, const Piece& piece, const JointUse& hole, double w,
                      const Development& board) {
  constexpr int k_points = 180;
  const Joint& joint = fitting.joint(hole.joint);
  const DepthPair depths = liner_depths(joint.style, hole.side, w, fitting.liner.bore_depth());
  Outline outline;
  for (int i = 0; i < k_points; ++i) {
    const Sheet::Place place = place_on(joint, hole.side, k_two_pi * i / k_points, depths);
    const double turn = std::fmod(place.theta - piece.seam, k_two_pi);
    outline.push_back(board.point(piece.seam + (turn < 0.0 ? turn + k_two_pi : turn), place.v));
  }
  return outline;
}

// The opening, or the branch that stands in the hole.
std::string name_of_hole(const Fitting& fitting, const JointUse& hole) {
  if (const Opening* opening = opening_at(fitting, hole.joint)) return "the " + opening->name;
  for (const Piece& piece : fitting.pieces)
    if (ends_in(fitting.wall_of(piece), hole.joint)) return piece.id;
  return "the branch";
}

void require_open(Reasons& reasons, const Fitting& fitting, const Piece& piece, const JointUse& hole) {
  const LinerSpec& liner = liner_of(fitting, piece);
  const Development board = development_of(fitting, piece);
  const Outline outer = hole_on_board(fitting, piece, hole, liner.outer_depth, board);
  const Outline inner = hole_on_board(fitting, piece, hole, liner.inner_depth(), board);
  const bool in_common = liner.cut == CutPolicy::outer;
  const Vec2 middle = 0.5 * (middle_of(outer) + middle_of(inner));
  if (-std::max(signed_distance_to(middle, outer), signed_distance_to(middle, inner)) >
      2.0 * liner.butt_allowance)
    return;
  const double widest = in_common ? widest_circle_in({outer, inner})
                                  : std::min(widest_circle_in({outer}), widest_circle_in({inner}));
  constexpr double k_least = 0.05;  // mm of the opening's half width that are left to cut
  if (liner.butt_allowance + k_least < widest) return;
  const std::string most =
      widest > k_least ? "under " + reasons.length(widest - k_least) : "none, or another cut";
  reasons.add(
      "butt_allowance", most,
      fmt::format("the allowance closes the hole for {}: {} {} wide on the board",
                  name_of_hole(fitting, hole),
                  in_common ? "what its faces leave open in common is" : "the narrower of its faces is",
                  reasons.length(2.0 * widest)));
}

}  // namespace

void require_open_holes(Reasons& reasons, const Fitting& fitting) {
  for (const Piece& piece : fitting.pieces) {
    if (!(liner_of(fitting, piece).butt_allowance > 0.0)) continue;
    for (const std::size_t hole : holes_of(fitting, piece))
      require_open(reasons, fitting, piece, fitting.wall_of(piece).holes[hole]);
  }
}

}  // namespace linerwright
