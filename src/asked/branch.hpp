// A branch on a round body, as a tee and a tap ask for it.
#pragma once

#include "request.hpp"
#include "wall.hpp"

namespace linerwright::asked {

struct Branch {
  Wall wall;
  double angle = 0.0;
  double around = 0.0;
  double position = 0.0;
};

// Where the branch's line at psi and depth w leaves a body of this radius, whose axis is z through
// `body_axis`: how far along the line.
double leaves_body(const Wall& branch, const Place& body_axis, double body, double psi, double w);
// The i-th of so many branches.
Branch branch_of(const Request& request, std::size_t i, std::size_t count);

}  // namespace linerwright::asked
