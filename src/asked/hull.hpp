// What a square-to-round encloses: the hull of a rectangle and a circle in two parallel planes. Every plane
// that touches both has the sections of its two ends as touching lines, so one angle phi counts them all.
#pragma once

#include <vector>

#include "request.hpp"
#include "space.hpp"

namespace linerwright::asked {

constexpr double k_quarter = 0.5 * k_pi;

// A straight line of the duct face from the rectangle to the circle.
struct HullRuling {
  Place base{};
  Place way{};     // unit
  Place normal{};  // unit, outward
  double length = 0.0;
  double phi = 0.0;  // of the plane that touches along it
};

struct Stretch {
  double low = 0.0, high = 0.0;
  bool short_of_circle = false;  // another side's layer ends it before the circle's plane
};

// A place p lies off - u.p under it.
struct HullPlane {
  double phi = 0.0;
  Place u{};
  double off = 0.0;
};

// The same as (way x, way y, slope) p = reach, with the size of that normal.
struct HullLine {
  Point way{};
  double reach = 0.0, slope = 0.0, size = 0.0;
};

struct Hull {
  double half_width = 0.0, half_height = 0.0, radius = 0.0, length = 0.0;
  Point moved{};                    // the circle's centre
  double collar = 0.0;              // straight, on the circle
  double square = 0.0;              // straight, under the rectangle (hull_panels.cpp)
  std::vector<HullPlane> planes{};  // even steps of phi, both ends of each quarter
  std::vector<HullLine> fine{};     // finer ones, the end of a quarter left to the next

  // The plane phi: (cos phi) x + (sin phi) y + slope z = reach; `size` of its normal.
  double reach(double phi) const;
  double slope(double phi) const;
  double size_of(double phi) const;
  HullPlane plane(double phi) const;
  Place normal(double phi) const;
  Place corner(int q) const;  // between the sides q and q + 1, counted as quarters of phi
  Place on_circle(double phi) const;
  double half_side(int side) const;

  // How deep a place lies under the plane phi; under the surface: the least of all planes.
  double under(const Place& place, double phi) const;
  double depth_of(const Place& place) const;

  // What lies at least w deep in the plane at height z: the outline that every so many of the fine planes
  // leave of it, and its area.
  std::vector<Point> section(double z, double w, int every) const;
  double section_area(double z, double w) const;
  double open_area(double z, double w) const;  // the same, and in the collar
  double inside(double w) const;               // volume
  double face_area() const;                    // of four triangles, four cones and the collar

  double end() const { return length + collar; }
  double start() const { return -square; }
  // Of the collar under the rectangle: the height at which a side's layers on either meet, and across from
  // the middle how far that side's layer lies off at a height; what its panel is in area and in volume.
  double square_top(int side, double w) const;
  double side_off(int side, double z, double w) const;
  double panel_area(int side, double w) const;
  double panel_volume(int side, double w) const;
  // How deep a place lies under the sides alone.
  double under_sides(const Place& place) const;
  // Of a flat's ruling w deep, where it comes out from behind the collar's panels.
  double above_panels(const HullRuling& ruling, double w) const;
  // Where what lies w deep goes over from the rectangle's side to the collar, on the collar's ruling phi.
  double joint_height(double phi, double w) const;
  // Beside a side that narrows toward the circle, the ruling on which the layers of two corners meet.
  double joint_corner(int side, double w) const;

  HullRuling ruling(int corner, double phi) const;            // from a corner of the rectangle
  HullRuling flat_ruling(int side, double share) const;       // from -1 at one corner to 1 at the next
  Stretch stretch(const HullRuling& ruling, double w) const;  // of it that lies w deep and between the ends
  Stretch beside(const HullRuling& ruling, double w) const;   // by the nearest planes of all
};

Hull hull_of(const Request& request);

}  // namespace linerwright::asked
