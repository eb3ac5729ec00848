// What stands where two fittings of a run meet.
#pragma once

#include <optional>
#include <vector>

#include "linerwright/run/run.hpp"

namespace linerwright {

// Two ports are of one diameter within this, mm.
constexpr double k_same_diameter = 1e-6;

// Directions in space, square to the port's axis, in which the seams of the pieces at a port stand: of the
// layer on the metal.
std::vector<Vec3> seams_at(const Placed& placed, const Port& port);
// The least angle about the axis between one of `a` and one of `b`; nothing where one has none.
std::optional<double> seams_apart(const std::vector<Vec3>& a, const std::vector<Vec3>& b);
// Turns the lining of straights so that seams stand far enough from their neighbours', where that can be.
void stagger_straights(LaidRun& run);

// The joints of a run whose fittings stand in their places, and the notes about them.
void look_at_joints(LaidRun& run);

}  // namespace linerwright
