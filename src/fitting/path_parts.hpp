// The parts of a path as a person lists them: "straight 24in, bend 45 turn 90, taper to 18in over 20in".
#pragma once

#include <string>
#include <vector>

#include "common.hpp"

namespace linerwright {

struct PathPart {
  enum class Form { straight, bend, taper };
  Form form = Form::straight;
  double length = 0.0;       // of a straight, of a taper along its axis
  double to_diameter = 0.0;  // of a taper
  double angle = 0.0;        // of a bend
  double turn = 0.0;         // of its plane about the axis, from the bend before
  double centreline = 0.0;   // radius
  int pieces = 0;            // both end pieces counted
  double mitre() const { return angle / (2.0 * (pieces - 1)); }
};

// The parts that a request lists; adds a reason for each that cannot be read. What a bend does not state is
// the fitting's: pieces, radius_ratio (of the diameter there) or centreline_radius.
std::vector<PathPart> read_parts(const FittingRequest& request, Reasons& reasons);

}  // namespace linerwright
