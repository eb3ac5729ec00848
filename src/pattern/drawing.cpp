#include <algorithm>

#include "linerwright/pattern/pattern.hpp"

namespace linerwright {

Drawing drawing_of(const Pattern& pattern, Units units) {
  Drawing drawing;
  const auto add = [&](Layer layer, bool closed, const std::vector<Vec2>& points) {
    if (points.size() >= 2) drawing.lines.push_back({layer, closed, points});
  };
  // the pen first, then the knife: holes before the outline, cuts across before the edges
  for (const auto& line : pattern.marks) add(Layer::mark, false, line);
  for (const auto& line : pattern.label_lines) add(Layer::label, false, line);
  for (const Ring& hole : pattern.cut.holes) add(Layer::cut, true, hole);
  for (const auto& line : pattern.open_cuts) add(Layer::cut, false, line);
  add(Layer::cut, true, pattern.cut.outer);
  const auto add_face = [&](Layer layer, const Region& face, const std::vector<Ring>& rest,
                            const std::vector<std::vector<Vec2>>& lines) {
    add(layer, true, face.outer);
    for (const Ring& ring : rest) add(layer, true, ring);
    for (const Ring& hole : face.holes) add(layer, true, hole);
    for (const auto& line : lines) add(layer, false, line);
  };
  add_face(outer_face_layer(pattern.layer), pattern.duct, pattern.duct_rest, pattern.duct_lines);
  add_face(inner_face_layer(pattern.layer), pattern.air, pattern.air_rest, pattern.air_lines);
  drawing.texts = pattern.labels;

  // a line of stated length, below the pattern, so that a wrong scale shows
  const double length = units == Units::inch ? 4.0 * 25.4 : 100.0;
  const double y = -12.0;
  add(Layer::scale, false, {{0.0, y}, {length, y}});
  for (const double x : {0.0, length}) add(Layer::scale, false, {{x, y - 3.0}, {x, y + 3.0}});
  drawing.texts.push_back({Layer::scale,
                           {0.5 * length, y - 9.0},
                           5.0,
                           0.0,
                           true,
                           units == Units::inch ? "this line is 4 in long" : "this line is 100 mm long"});
  return drawing;
}

}  // namespace linerwright
