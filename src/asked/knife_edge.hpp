// Which of both faces' edges the knife follows.
#pragma once

#include <algorithm>

#include "request.hpp"

namespace linerwright::asked {

enum class Follows { duct, air, middle, further };  // further: the one that keeps all material of both

inline Follows follows_of(const Request& request) {
  const std::string cut = request.word("cut");
  if (cut == "mid") return Follows::middle;
  if (cut == "duct" || (cut == "tilt" && request.word("face_up") == "duct")) return Follows::duct;
  return cut == "air" || cut == "tilt" ? Follows::air : Follows::further;
}

// The height of what it follows on a ruling, from both faces'; `high` of the upper of two edges.
inline double followed(double duct, double air, bool high, Follows follows) {
  if (follows == Follows::middle) return 0.5 * (duct + air);
  if (follows != Follows::further) return follows == Follows::duct ? duct : air;
  return high ? std::max(duct, air) : std::min(duct, air);
}

}  // namespace linerwright::asked
