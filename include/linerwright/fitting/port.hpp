// The openings of a fitting, where another one can join.
#pragma once

#include <string>
#include <vector>

#include "linerwright/fitting/fitting.hpp"

namespace linerwright {

// Which way the air goes at an opening, by the fitting's flow arrow.
enum class PortFlow { in, out, unmarked };

// An open end of the metal.
struct Port {
  std::string name;  // "start", "end", "branch1", "branch2" ... or "leg1", "leg2" ...
  // The centre of the metal's end; z points out of the fitting, x lies in the plane of a bend, of an offset
  // or of the branch's saddle.
  Frame frame;
  double bare_diameter = 0.0;  // mm, inside the metal; of a rectangle the circle's of its area
  double lined_diameter =
      0.0;       // mm, of the bore there, square to z; of an open offset taper in its offset's plane
  int wall = 0;  // whose end it is
  End end = End::low;
  PortFlow flow = PortFlow::unmarked;
  Vec2 rectangle{};  // mm, along the frame's x and y, of the end of a square-to-round; none: it is round

  bool is_round() const { return !(rectangle.x > 0.0); }
};

// How wide an opening is inside its metal, in the fitting's units: "16 in", "24 x 16 in".
std::string port_size(const Fitting& fitting, const Port& port);

// All openings: start, end, then the branches in the order of their holes, or start and the legs. The liner
// of a pressed bend's gores ends within the metal's section; the port is the metal's, its lined diameter that
// of the gores' bore.
std::vector<Port> ports_of(const Fitting& fitting);

// Whether the fitting is a cap's disc without a ring: nothing of it opens and it has no bore; what it
// encloses is its own layers.
bool is_disc_alone(const Fitting& fitting);

// Which way the air goes along a piece from its low end: with it, against it, from both of its ends to its
// holes' middle, from there to both ends, or nobody says.
enum class PieceFlow { up, down, meets, parts, unmarked };
PieceFlow flow_along(const Fitting& fitting, const Piece& piece);

// Where the metal of a straight is joined inside one lining (duct_lengths), mm from its start on; none of any
// other fitting.
std::vector<double> duct_joints(const FittingRequest& request);

}  // namespace linerwright
