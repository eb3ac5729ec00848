// A run of duct drawn as lines, and as tables.
#pragma once

#include <string>

#include "linerwright/draw/draw.hpp"
#include "linerwright/run/run.hpp"

namespace linerwright {

// The line of centres in isometric projection, seen from the corner of a cube, as pipe and duct fitters draw
// it: one line, a stroke across it at each joint (two where it is made on site), numbers with tag, length and
// angle or sizes, coordinates of the ends, and a list of the fittings. Not to scale across the line.
Picture run_isometric(const LaidRun& run);

// Diameter and area along the line of centres, bare and lined, with joints and tags.
Picture run_profile(const LaidRun& run);

// The bore along the run and the order of work, as tables in the run's units.
std::string run_bore_csv(const LaidRun& run);
std::string run_order_csv(const LaidRun& run);

}  // namespace linerwright
