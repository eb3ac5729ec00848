// What a fitting is by its request: walls of straight rulings, cylinders and tapers, between edges that are
// closed forms. A point of the liner lies at depth w under the duct's inside surface, along the wall's
// normal.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "space.hpp"

namespace linerwright::asked {

// The height on the ruling at angle theta, at depth w.
using Edge = std::function<double(double theta, double w)>;

// The rim of a hole: angle around the body and height, by the angle psi around the branch (0 faces the far
// end).
using Rim = std::function<Point(double psi, double w)>;

// How long a disc is as a taper to a point, mm: nothing that a double would show.
constexpr double k_flat = 1e-9;

struct Wall {
  std::string id;       // of the piece, or of the pieces it is divided into
  std::string role;     // in the trade's words
  double radius = 0.0;  // of the duct face, where heights are counted from
  // The ruling at theta begins at origin + radius (cos theta zero + sin theta side); side = axis x zero.
  Place origin{};
  Place axis{0.0, 0.0, 1.0};
  Place zero{1.0, 0.0, 0.0};
  // A taper, where it has a length: a second circle so far along the axis, its centre moved sideways by
  // `shift`.
  double taper = 0.0;
  double to_radius = 0.0;
  Point shift{};
  Edge low;  // of the liner and, at depths below zero, of the metal
  Edge high;
  // Where an edge's points are told by another wall's rulings (s), as they lie in space; else by the wall's
  // own.
  std::function<Place(double s, double w)> low_rim;
  std::function<Place(double s, double w)> high_rim;
  bool low_open = true;  // an open end; else it butts against another piece
  bool high_open = true;
  std::vector<Rim> holes;           // that branches stand in
  std::vector<Rim> openings;        // of other holes in the liner
  std::vector<Rim> metal_openings;  // and in the metal
  int around = 720;                 // rulings of an integral; more where edges have corners
  std::optional<double> seam;       // where the request puts it
  std::vector<double> corners{};    // rulings on which an edge of the liner's air face has one

  bool is_disc() const { return taper > 0.0 && taper <= k_flat; }
  double larger() const { return taper > 0.0 && to_radius > radius ? to_radius : radius; }
  Place side() const { return square_to(axis, zero); }
  Place ruling(double theta) const;  // unit
  Place normal(double theta) const;  // unit, outward
  // Rise of the normal over the way out: 0 on a cylinder, the tangent of the half angle on a right cone.
  double lean(double theta) const;
  double full_ruling(double theta) const;  // from circle to circle
  Place at(double theta, double v, double w) const;
  // How deep a point lies under the wall's surface, extended without end.
  double depth_of(const Place& point) const;
  double ruling_over(const Place& point) const;  // the angle of the ruling that is nearest
};

// An open end: where the air goes in or out.
struct OpenEnd {
  std::string wall;
  Place centre{};
  Place outward{};
  double radius = 0.0;  // of the duct face
  bool square = true;  // wall square to the end: the air face is a circle smaller by t, the metal larger by g
};

// One place along a way through the bore.
struct BoreAt {
  std::string passage;
  std::string place;
  double bare = 0.0;   // diameter
  double lined = 0.0;  // diameter of a circle of the same area
};

// Everything the request asks for.
struct Wanted {
  std::vector<Wall> walls;
  std::vector<OpenEnd> ends;
  std::vector<BoreAt> bore;
  std::optional<double> metal_volume{};  // where the metal does not follow the walls
  std::vector<OpenEnd> metal_ends;       // likewise
  std::vector<OpenEnd> bore_ends;        // where the bore's are others than the liner's; radii of the bore
  // Where walls and flat ends do not close around what lies inside a depth: its volume, and how far a place
  // is off what closes the bore, or the metal.
  std::function<double(double w)> inside;
  std::function<double(const Place&, bool metal)> off_closure;
  // Of a straight whose metal is several lengths of duct inside one lining: where they are joined, from its
  // start on; liner joints keep the smallest panel from there.
  std::vector<double> duct_joints;
};

// By integrals written anew, midpoint rule around and Gauss across: area of a wall's surface at depth w,
// holes taken out; volume of its layer between two depths; volume inside the surfaces at depth w.
double area_at(const Wall& wall, double w);
double layer_volume(const Wall& wall, double from, double to);
// Volume of the liner piece on a wall between two depths, whose end faces and holes are straight lines from
// the duct face's edge to the air face's: Gauss's theorem over its faces.
double piece_volume(const Wall& wall, double from, double to);
// What an opening takes out between two depths, its edge straight from one to the other, and of the surface
// at one depth.
double opening_volume(const Wall& wall, const Rim& rim, double from, double to);
double opening_area(const Wall& wall, const Rim& rim, double w);
// All rims of a wall's holes in the liner: those of branches first.
std::vector<Rim> liner_rims(const Wall& wall);
double inside_volume(const Wanted& wanted, double w);
// Area of an open end inside depth w.
double end_area(const Wanted& wanted, const OpenEnd& end, double w);

}  // namespace linerwright::asked
