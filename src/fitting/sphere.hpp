// Walls about one sphere: cylinders and cones of revolution that touch it all around, and where they meet.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "common.hpp"

namespace linerwright {

// A wall that leads away from the sphere's centre, which is the origin. Heights on its sheet count from the
// circle in which it touches the sphere.
struct SphereWall {
  Vec3 axis;                // unit, away from the centre
  double half_angle = 0.0;  // positive where it narrows away from the centre
  double length = 0.0;      // of its axis, from the centre to its open end
  Sheet sheet;
  bool toward = false;  // its sheet runs toward the centre: the wall that the air comes in by
};

// The half angle of a cone about a sphere of this radius that has the end radius at this distance from the
// centre; none where the end lies within the sphere.
std::optional<double> half_angle_to(double radius, double end_radius, double length);

// A wall about a sphere of this radius; its ruling 0 lies toward `zero`.
SphereWall sphere_wall(double radius, Vec3 axis, Vec3 zero, double half_angle, double length, bool toward);

// v away from the centre, for each millimetre of the sphere's radius, at which a wall's ruling begins: where
// it leaves its last neighbour. `neighbour` is that one's index; none where no other wall bounds the ruling.
struct Start {
  double v;
  std::optional<int> neighbour;
};
Start start_of(const std::vector<SphereWall>& walls, int wall, double theta);

// v away from the centre at which a wall's layer at depth w ends openly.
double open_end(const SphereWall& wall, double radius, double w);

// The nearest v, for each millimetre of the sphere's radius, at which a ruling runs into another wall again;
// infinite where it never does.
double meets_again(const std::vector<SphereWall>& walls, int wall, double theta);

// A place where three walls or more meet, on the duct face.
struct SphereCorner {
  Vec3 point;
  std::vector<int> walls;
};
std::vector<SphereCorner> corners_of(const std::vector<SphereWall>& walls, double radius);

// A wall's rulings from one corner to the next, and what they begin at.
struct SphereArc {
  double from, to;  // theta; `to` may lie beyond a turn
  int from_corner, to_corner;
  int neighbour;
};
std::vector<SphereArc> arcs_on(const std::vector<SphereWall>& walls, const std::vector<SphereCorner>& corners,
                               int wall);

// Joins the walls of a fitting, which are the same in number and order, where one rule has them meet: along
// every ruling a wall begins where none of the others lies farther out. Every wall has a corner.
void join_walls(Fitting& fitting, const std::vector<SphereWall>& walls,
                const std::vector<SphereCorner>& corners, double radius);

}  // namespace linerwright
