// The exact edges of a rolled piece on the board, by the joints' closed forms: what cuts are held against.
#pragma once

#include <vector>

#include "linerwright/reroll/rolled_piece.hpp"

namespace linerwright {

// An edge of both faces on the board, point by point, with the allowance of an end added.
struct EdgeReference {
  std::vector<Vec2> duct, air;
  // The same on the wall, each on its own face.
  std::vector<Sheet::Place> duct_places, air_places;
  bool hole = false;

  // At a share of the way from the duct face's edge to the air face's.
  Vec2 at(std::size_t i, double share) const { return (1.0 - share) * duct[i] + share * air[i]; }
  std::vector<Vec2> between(double share) const;
};

// An end, with the end's allowance or, at a joint, `butt`; and a hole, without. `steps` points around.
EdgeReference end_reference(const Fitting& fitting, const RolledPiece& rolled, End end, double butt,
                            int steps);
// An end without any allowance.
EdgeReference bare_end(const Fitting& fitting, const RolledPiece& rolled, End end, int steps);
EdgeReference hole_reference(const Fitting& fitting, const RolledPiece& rolled, const JointUse& use,
                             int steps);

// Points of the edge of what is left of some holes' common part when all that is nearer than `distance` to an
// edge of theirs is taken off: from each chord of ring `of`, square to it, that far inward; not those to
// which another place of an edge is nearer, for a bend tighter than the distance leaves nothing of its own.
std::vector<Vec2> edge_of_smaller(const std::vector<std::vector<Vec2>>& rings, std::size_t of,
                                  double distance);

}  // namespace linerwright
