// How far a drawn inside lies from ours.
#pragma once

#include <string>

#include "linerwright/fitting/fitting.hpp"
#include "shapes.hpp"

namespace linerwright {

struct Residual {
  double largest = 0.0;  // mm
  std::string worst;     // where that is: "face 7", "the opening at (0, 0, 0)"
  std::string fault;     // our fitting has walls or openings that the drawing has not
};

// Of every surface against the wall of ours that it lies nearest to, of free forms against the nearest wall
// of each point, and of the openings against our ports, one to one.
Residual residual_of(const Inside& inside, const ReadShape& shape, const Fitting& fitting);

}  // namespace linerwright
