// The edge of a hole that an allowance makes smaller, as a run for a tilting blade.
#pragma once

#include <functional>
#include <vector>

#include "tilt.hpp"

namespace linerwright {

// All around an exact edge of both faces, its chords so fine that what is moved into the hole from them may
// meet in a sharp corner: there what they stray by counts many times over. `parameters` are some of the edge,
// around it in its sense, and `at` gives a face's place at one.
std::vector<FacePair> fine_edge(const std::vector<double>& parameters, const EdgeOfFace& at);

// The run inside an exact edge of both faces, `distance` mm (above zero) from it, as the knife's own contour
// is; parameters and `at` as above. Throws GeometryError where nothing, or more than one opening, is left of
// a face's hole.
TiltRun moved_into_hole(const std::vector<double>& parameters, const EdgeOfFace& at, double distance);

// The four sides of a rectangular hole one by one, `distance` mm inside the exact edge: points of that, in
// their order (clockwise), and whether each is a corner. Sides are nearly straight.
std::vector<TiltRun> runs_of_sides(const std::vector<FacePair>& points, const std::vector<bool>& corner,
                                   double distance);

}  // namespace linerwright
