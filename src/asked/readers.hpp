// Readers of the files a fitting leaves: DXF group codes, facets of a binary STL. They throw Unreadable.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "space.hpp"
#include "written.hpp"

namespace linerwright::asked {

// A polyline, line or text of a DXF file, in mm.
struct Entity {
  std::string type;  // LWPOLYLINE, POLYLINE, LINE, TEXT
  std::string layer;
  std::string text;  // of TEXT
  bool closed = false;
  std::vector<Point> points;
};

struct Drawn {
  std::vector<std::string> comments;
  std::map<std::string, std::string> header;  // "$INSUNITS" to its first value
  std::vector<std::string> layers;            // of the layer table
  std::vector<Entity> entities;
  double mm = 1.0;  // of the file's unit
};

// `unit` is what the file must be in, mm or 25.4: coordinates are multiplied by it.
Drawn read_drawn(const std::string& bytes, const std::string& name, double unit);

struct Facet {
  Place corner[3];
};
std::vector<Facet> read_facets(const std::string& bytes, const std::string& name);
// Volume within facets that close a body, mm3, and their area, mm2.
double volume_of(const std::vector<Facet>& facets);
double surface_of(const std::vector<Facet>& facets);

}  // namespace linerwright::asked
