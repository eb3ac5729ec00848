// Walls of a path: cylinders and tapers laid one behind the other, from an open end or from a body on.
#pragma once

#include <string>
#include <vector>

#include "path_parts.hpp"

namespace linerwright {

struct BendMark {
  int bend;       // counted from 1
  double throat;  // ruling
};

// A cylinder between two cuts, or a taper; its frame runs along its axis, ruling 0 carried on from wall to
// wall.
struct PathWall {
  Frame frame;
  double radius;
  double to_radius;  // of a taper
  double low = 0.0;  // of its axis
  double high = 0.0;
  bool taper = false;
  PlaneTarget mitre{};  // at its high end, against the next; of a cylinder beside a taper none
  bool mitred = false;
  std::vector<BendMark> bends{};
};

struct Path {
  std::vector<PathWall> walls;
  Frame end;
  double centreline = 0.0;  // length of the walls' axes
  int bends = 0;
  std::vector<AirTurn> turns{};
};

// The parts' walls along z of the frame, a bend that turns by nothing toward its x.
Path laid(const std::vector<PathPart>& parts, double diameter, const Frame& frame = Frame{});

Sheet sheet_of(const PathWall& wall);
// Adds the walls behind the path's first one, which stands in the fitting as `wall`, and ends the last one
// openly. Faces of all of them begin on ruling `face_start`.
void go_on(Fitting& fitting, const Path& path, int wall, double face_start);

// Where a path's way of the air begins and what its ends are called.
struct PathWay {
  std::string passage;
  int wall;             // of the path's first one
  double from;          // distance at that one's frame's origin
  bool on_body;         // its low end is a saddle: the first station lies above it
  const char* one_end;  // of the first station
  const char* other_end;
};
// Stations at both ends and in the middle of every cylinder's whole section; where a taper begins or ends, at
// both ends of the whole sections beside it and of its own.
Passage way_along(const Fitting& fitting, const Path& path, const PathWay& way);

}  // namespace linerwright
