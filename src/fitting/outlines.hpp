// Closed lines of points on a board: distances, and what room they leave.
#pragma once

#include <vector>

#include "linerwright/units/vector.hpp"

namespace linerwright {

using Outline = std::vector<Vec2>;  // closed; the first point is not repeated

// Distance of a point from an outline, negative inside (even-odd rule).
double signed_distance_to(Vec2 p, const Outline& outline);
// Shortest distance between two outlines; 0 where a point of one lies in the other.
double distance_between(const Outline& a, const Outline& b);

struct Span {
  double low, high;
};
Span span_of(const Outline& outline, Vec2 direction);
Vec2 middle_of(const Outline& outline);

// Radius of the widest circle that lies in all of the outlines, within a hundredth of a millimetre below it;
// 0 where they have nothing in common. Found by quartering squares until none can hold a wider one.
double widest_circle_in(const std::vector<Outline>& outlines);

}  // namespace linerwright
