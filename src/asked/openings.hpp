// Holes for access doors, shafts and instruments, as the request lists them.
#pragma once

#include <string>
#include <vector>

#include "request.hpp"
#include "wall.hpp"

namespace linerwright::asked {

// One of those that the request lists.
struct AskedOpening {
  std::string piece;  // that it names; empty: the first
  double at = 0.0, around = 0.0;
  bool round = false;
  double across = 0.0, upward = 0.0;  // halves; of a round one its radius, of a rectangle of its chord
  double setback = 0.0, splay = 0.0;
  std::string bevel;
  bool pair = false, metal = false;
};
std::vector<AskedOpening> asked_openings(const Request& request);

// Around a rectangle of these half sides from its highest corner furthest around.
Point on_rectangle(double x, double y, double psi);

// A curve's point moved square to it, outward where it runs counter-clockwise.
template <class Curve>
Point moved_out(const Curve& at, double psi, double out) {
  const Point here = at(psi);
  if (out == 0.0) return here;
  const double h = 1e-3;  // five points: off by less than 1e-11 of the radius
  const Point after = at(psi + h), before = at(psi - h);
  const Point far_after = at(psi + 2.0 * h), far_before = at(psi - 2.0 * h);
  Point way{};
  for (std::size_t k = 0; k < 2; ++k) way[k] = 8.0 * (after[k] - before[k]) - (far_after[k] - far_before[k]);
  const double length = std::hypot(way[0], way[1]);
  return {here[0] + out * way[1] / length, here[1] - out * way[0] / length};
}

// Adds to the walls their openings in liner and metal. Heights are counted from the metal's edges, which
// `metal` has.
Wanted with_openings(const Request& request, const Wanted& metal, Wanted wanted);

}  // namespace linerwright::asked
