// The ends that guide bands are made for, and which of them one band serves.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "linerwright/fitting/fitting.hpp"

namespace linerwright {

// One end of a wall, seen from the band that lies on it.
struct BandEnd {
  const Fitting* fitting;
  std::size_t index;  // of the fitting
  int wall;
  End end;
  double depth;   // of the liner's outer face
  double middle;  // radius there
  std::vector<double> seams;

  const Wall& of() const { return fitting->wall(wall); }
  double edge(double theta) const { return liner_end(*fitting, wall, end, theta, depth); }
  // Toward the piece's middle positive.
  double inward(double theta) const { return -outward(end) * edge(theta); }
  // The least and the greatest `inward` around.
  std::pair<double, double> reach() const;
};

// How one end's band lies on another's: where a place of it comes to lie.
struct BandMatch {
  double from, to;
  double sense;
  double at(double theta) const { return to + sense * (theta - from); }
};

// A band and the ends that it serves, the first one its own.
struct BandGroup {
  std::vector<BandEnd> ends;
  std::vector<BandMatch> matches;

  // From a ruling of the first end to the nearest seam of one that is served, radians.
  double from_seam(double theta, std::size_t use) const;
  // Where the lap's middle lies: aside of the narrowest place, and clear of the seams of all it serves.
  double place_of_lap() const;
};

// The ends of all pieces that are not square, those together that one band serves.
std::vector<BandGroup> band_groups(const std::vector<Fitting>& fittings);

// "mitre-400-22.5" and what it is in words.
std::pair<std::string, std::string> name_of(const BandEnd& end);

}  // namespace linerwright
