// The bore of a taper between two collars or open ends, cut square to the way through it.
#pragma once

#include "linerwright/fitting/fitting.hpp"

namespace linerwright {

// A taper's metal: radii of its two circles, its length along the axis, its collars (0: an open end), and how
// far and which way around the axis the second circle's centre is moved; mm and radians.
struct Taper {
  double r1, r2, length, collar, to_collar;
  double offset;
  double toward;
  bool reduces() const { return r2 < r1; }
};

// Adds the way through a taper to a fitting whose walls and joints stand: stations in order along the line
// of centres, the narrowest place among them. `wall` is the taper's. Throws GeometryError where a corner has
// no place.
void add_taper_passage(Fitting& fitting, const Taper& taper, int wall);

}  // namespace linerwright
