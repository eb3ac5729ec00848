// The exact edges of a rolled piece on the board, by the joints' closed forms: what cuts are held against.
#pragma once

#include <vector>

#include "rolled_piece.hpp"

namespace linerwright {

// An edge of both faces on the board, point by point, with the allowance of an end added.
struct EdgeReference {
  std::vector<Vec2> duct, air;
  std::vector<bool> corner;  // near one: there a smaller hole's corner lies further in
  bool hole = false;

  // At a share of the way from the duct face's edge to the air face's.
  Vec2 at(std::size_t i, double share) const { return (1.0 - share) * duct[i] + share * air[i]; }
  std::vector<Vec2> between(double share) const;
};

// An end, with the end's allowance or, at a joint, `butt`; and a hole, without. `steps` points around.
EdgeReference end_reference(const Fitting& fitting, const RolledPiece& rolled, bool high, double butt,
                            int steps);
EdgeReference hole_reference(const Fitting& fitting, const RolledPiece& rolled, const JointUse& use,
                             int steps);

}  // namespace linerwright
