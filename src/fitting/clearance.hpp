// How near two branches of a body come to each other.
#pragma once

#include <string>

#include "common.hpp"

namespace linerwright {

// A branch's hole in the body, and the direction around the body that it lies in.
struct HoleOf {
  const Joint& joint;
  double around;
};
// The body's depths at which a hole is cut: metal, cavity, bore and the liner's two faces.
std::vector<DepthPair> hole_depths(const LinerSpec& liner);
// Shortest way on the body's surface from one hole to the other, at any of the depths; 0 where they overlap.
double holes_apart(const HoleOf& a, const HoleOf& b, const LinerSpec& liner);
// Where the liner is cut square to the board and keeps all material of both faces (`outer`), adds the reasons
// why the hole for the branch of this name cannot: its two faces have no opening in common on the board.
void require_common_opening(Reasons& reasons, const HoleOf& hole, const LinerSpec& liner,
                            const std::string& name);

}  // namespace linerwright
