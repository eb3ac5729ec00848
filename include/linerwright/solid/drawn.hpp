// Drawn metal: the faces of a STEP file as points with normals and shared edges. No kernel type shows here,
// and no word of the file counts: names, colours and comments are left.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "linerwright/units/vector.hpp"

namespace linerwright {

struct DrawnPoint {
  Vec3 at;
  Vec3 normal;  // unit, out of the material; of a surface without thickness to one of its sides
};

struct DrawnFace {
  int number = 0;    // in the order of the file, from 1
  std::string sort;  // how the file states it: plane, cylinder, B-spline ...
  std::vector<DrawnPoint> points;
  std::vector<int> edges;  // indices in DrawnBody::edges; a seam twice
  double area = 0.0;       // mm2
};

struct DrawnEdge {
  std::vector<Vec3> points;  // from end to end
};

// One solid, or one sewn surface.
struct DrawnBody {
  bool is_solid = false;
  double within = 1e-3;  // mm: what its points may stray from the surfaces they were drawn on
  std::vector<DrawnFace> faces;
  std::vector<DrawnEdge> edges;
};

// All bodies of a STEP file, millimetres whatever its unit. Throws InputError on a file that is broken, empty
// or has far more faces than drawn metal.
std::vector<DrawnBody> read_drawn(const std::filesystem::path& file);

}  // namespace linerwright
