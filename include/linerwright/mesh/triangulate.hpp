// Triangles of a region of the plane, without new corners.
#pragma once

#include <array>
#include <vector>

#include "linerwright/units/vector.hpp"

namespace linerwright {

// Triangles, counter-clockwise, of the region inside `outline` (counter-clockwise) and outside the `holes`
// (clockwise); all are indices into `points`. Of two diagonals the one with the shorter `weight`ed extent is
// taken: (0, 1) makes long triangles along x. Empty where the outlines cross or touch. Triangles lower than
// `flattest` times their base are cut off only when no others are left: corners of a straight side that stand
// off it by rounding alone would make slivers whose long side no other diagonal can shorten.
std::vector<std::array<int, 3>> triangulate(const std::vector<Vec2>& points, std::vector<int> outline,
                                            std::vector<std::vector<int>> holes, Vec2 weight,
                                            double flattest = 0.0);

// Triangles of a wall unrolled, x around and y along its rulings, outline first, that reach no farther around
// than `step`; empty where some do.
std::vector<std::array<int, 3>> triangulate_wall(const std::vector<Vec2>& places,
                                                 const std::vector<std::vector<int>>& loops, double step);

}  // namespace linerwright
