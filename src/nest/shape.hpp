// Outlines made ready for the search: grown by half the gap, centred, rounded to the integer grid, each
// different one once.
#pragma once

#include <polyclipping/clipper.hpp>
#include <vector>

#include "linerwright/nest/nest.hpp"

namespace linerwright::nesting {

// Grid of the no-fit polygons.
constexpr double k_units_per_mm = 1e5;

// One outline about the centre of its box. Turning it by 180 degrees is a change of sign.
struct Shape {
  ClipperLib::Paths solid;  // outer contour counter-clockwise, then holes clockwise, grid units
  Vec2 half{};              // half the box of the outline as drawn, mm: what has to stay on the board
  Vec2 reach{};             // largest |x| and |y| of `solid`, mm
  double area = 0.0;        // mm2, of the first part of this shape: a measure of size for the search
};

struct Shapes {
  std::vector<Shape> shapes;
  std::vector<std::size_t> of_part;  // shape of each part
  std::vector<double> area_of_part;  // outline less holes, mm2: parts of one shape may differ in their holes
  std::vector<double>
      taken_of_part;  // what no other piece may lie on, mm2: with the holes where they are not used
  std::vector<Vec2> centre_of_part;  // the centre of the box in the part's own coordinates
};

// Needs a valid job (validate.cpp).
Shapes prepare_shapes(const NestJob& job);

// The ring (material to its left) with fewer vertices and never less material, nowhere more than `tolerance`
// mm outside; as it was if that would make it touch itself.
Ring simplified_outward(const Ring& ring, double tolerance);

// The ring without repeated points (a repeated first point included).
Ring without_repeats(const Ring& ring);

}  // namespace linerwright::nesting
