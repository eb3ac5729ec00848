// An inside as one of the kinds of fittings.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "inside.hpp"

namespace linerwright {

// What an inside was read as: keys in millimetres and degrees, and how our fitting lies in the drawing: its
// first opening's centre and way in (z), with x as our keys count angles from.
struct ReadShape {
  std::string kind;
  std::vector<std::pair<std::string, std::string>> keys;
  Frame start;
  bool apart = false;              // read from walls that are kept apart
  std::vector<std::string> notes;  // what metal does not tell
  std::string fault;               // why it is none of ours; then nothing else counts
};

// What the inside may be, the likeliest first: the first that our own fitting agrees with counts. `apart`:
// the same with walls that lie on one surface and do not touch kept apart.
std::vector<ReadShape> shapes_of(const Inside& inside, const Inside& apart);

// A length in mm or an angle in degrees with as few decimals as say it to 2e-8 and 2e-9.
std::string length_value(double millimetres);
// A number with as few decimals as say it within so much.
std::string shortest(double value, double within);
std::string angle_value(double radians);

// What two lengths that are the same may differ by besides, mm: nothing in drawings that are exact, more
// where surfaces were told from the corners of a mesh. A hundredth of it goes for angles, radians.
double length_slack(const Inside& inside);

// Whether a surface is a fillet or a sliver: no wall of a fitting.
bool is_small(const InsideSurface& surface, const Inside& inside);

// The direction of an axis that is met first when looked for along z, then y, then x.
bool points_forward(Vec3 direction);

// x of a frame whose z is `along`: the drawing's own x where the fitting stands upright, else `otherwise`.
Vec3 reference(Vec3 along, Vec3 otherwise);

// Of two openings the index of the one a fitting begins at: which the drawing's z axis enters by, or which
// looks back along an axis that the other looks forward along.
std::size_t first_opening(const Inside& inside);

// The wall that an opening ends, a cylinder or a cone about its axis, and its radius there, whatever is
// rounded at the rim.
struct OpeningWall {
  const InsideSurface* surface = nullptr;
  double radius = 0.0;
};
OpeningWall wall_at(const DrawnEnd& opening, const Inside& inside);

// Straight lengths, gored and smooth bends, offsets: two openings on walls of one diameter.
ReadShape chain_of(const Inside& inside);
// Tapers with their collars.
ReadShape taper_of(const Inside& inside);
// Cylinders and right cones one behind the other, of an inside whose walls are kept apart.
ReadShape path_of(const Inside& inside);
// Legs about one sphere, for each opening that could be the inlet.
std::vector<ReadShape> wyes_of(const Inside& inside);
// A body with branches: three openings or more.
ReadShape branched_of(const Inside& inside);

}  // namespace linerwright
