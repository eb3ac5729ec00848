// Patterns by the request: both faces' contours, what the knife follows, on the board.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "made.hpp"
#include "wall.hpp"

namespace linerwright::asked {

// The part of a wall that is one pattern: between two rulings and, of a ring, between two heights.
struct Part {
  const Wall* wall = nullptr;
  double start = 0.0;
  double span = k_turn;
  std::optional<double> low, high;  // a ring's square cuts; else the wall's own edges
};

// Stretch-out of a wall at its larger end: what lies square to the rulings, on the fibre that keeps its
// length; for a cylinder pi (D - 2 k t). Without the allowance.
double whole_stretch(const Wall& wall, const Request& request);

// Contours on the board before they are turned or moved; x runs around, mirrored where the air face is up.
struct Flat {
  std::vector<Point> duct, air, cut;               // outer contours, closed
  std::array<Point, 4> duct_corners, cut_corners;  // start low, end low, end high, start high
  struct Hole {
    std::size_t index = 0;  // of the wall's rims
    std::vector<Point> duct, air, mid;
  };
  std::vector<Hole> holes;
  double width = 0.0;   // stretch-out of the part, less its share of the allowance
  double lowest = 0.0;  // height of the lowest point of a face or the cut
};
// Calls change(point) for every point of it.
void each_point(Flat& flat, const std::function<void(Point&)>& change);

// `lift` stands on the board at height 0 of a cylinder.
Flat flat_of(const Part& part, const Request& request, double lift);

// The place on the board of an angle and a height on a cylinder.
Point on_board(const Part& part, const Request& request, const Flat& flat, double lift, double theta,
               double v);

// The largest distance of the points from the closed contour, and of the middles between them.
double stray(const std::vector<Point>& points, const std::vector<Point>& contour);
std::vector<Point> with_middles(const std::vector<Point>& contour);
double area_of(const std::vector<Point>& contour);  // signed
bool inside(const std::vector<Point>& contour, const Point& point);

// The hole whose rectangle is most like the contour's, on the face that it is drawn for; none: null.
const Flat::Hole* nearest_hole(const std::vector<Flat::Hole>& holes, const std::vector<Point>& contour,
                               std::vector<Point> Flat::Hole::*face);
// How far the knife's contour lies from where it is to go around a hole: on the face that the request's cut
// names, half way, or around what both faces leave open; by the butt allowance inside it.
double off_hole(const std::vector<Point>& contour, const Flat::Hole& hole, const Request& request);

// Turns and moves `flat` so that its four corners come to lie on four corners of the contour, as well as they
// do. Returns the largest distance left between corners; nothing where the contour has no four corners.
std::optional<double> lay_on(Flat& flat, const std::array<Point, 4>& corners,
                             const std::vector<Point>& contour);

}  // namespace linerwright::asked
