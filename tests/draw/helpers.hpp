// Short cuts shared by the tests of this folder.
#pragma once

#include <sstream>
#include <string>
#include <vector>

#include "draw/sample.hpp"
#include "linerwright/draw/draw.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

inline std::string dxf_of(const Drawing& drawing, const DxfOptions& options = {}) {
  std::ostringstream out;
  write_dxf(out, drawing, options);
  return out.str();
}

inline DxfFile file_of(const std::string& dxf) {
  std::istringstream in(dxf);
  return read_dxf(in, "test.dxf");
}

// The reader's message for a broken file; empty when it took the file.
inline std::string refusal_of(const std::string& dxf) {
  try {
    file_of(dxf);
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

inline Drawing drawing_of(std::vector<Polyline> lines) {
  Drawing drawing;
  drawing.lines = std::move(lines);
  return drawing;
}

// A rectangle from its lower left corner, counter-clockwise.
inline std::vector<Vec2> rectangle(double x, double y, double width, double height) {
  return {{x, y}, {x + width, y}, {x + width, y + height}, {x, y + height}};
}

inline std::vector<Vec2> reversed(std::vector<Vec2> points) {
  return {points.rbegin(), points.rend()};
}

// A regular polygon of `count` vertices on a circle, counter-clockwise.
inline std::vector<Vec2> circle(Vec2 centre, double radius, int count) {
  std::vector<Vec2> points;
  for (int i = 0; i < count; ++i) {
    const double angle = k_two_pi * i / count;
    points.push_back(centre + radius * Vec2{std::cos(angle), std::sin(angle)});
  }
  return points;
}

// Replaces the first occurrence; the text must be there.
inline std::string replaced(std::string text, const std::string& what, const std::string& with) {
  const std::size_t at = text.find(what);
  if (at == std::string::npos) throw std::logic_error("nothing to replace: " + what);
  return text.replace(at, what.size(), with);
}

}  // namespace linerwright
