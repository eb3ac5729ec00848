// How drawings look, on screen and on paper.
#include <algorithm>
#include <cmath>
#include <iterator>

#include "linerwright/draw/draw.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

// cut, duct-face and so on
std::string name_of(Layer layer) {
  std::string name = layer_name(layer);
  for (char& c : name) c = c == '_' ? '-' : static_cast<char>(c - 'A' + 'a');
  return name;
}

Ink ink_of(Layer layer) {
  const std::string name = name_of(layer);
  switch (layer) {
    case Layer::cut:
      return {name, "#b3261e", "#ff9a8f", 0.5, {}};
    case Layer::duct_face:
    case Layer::outer_face:
      return {name, "#1f5fa8", "#8ec1ff", 0.3, {4.0, 1.5}};
    case Layer::air_face:
    case Layer::inner_face:
      return {name, "#0f766e", "#6fd8cb", 0.3, {1.5, 1.5}};
    case Layer::mark:
      return {name, "#6d28a8", "#d0a8ff", 0.3, {}};
    case Layer::label:
      return {name, "#2b2b2b", "#e8e8e8", 0.3, {}};
    case Layer::scale:
      return {name, "#6b5b00", "#e3cd5f", 0.3, {}};
    case Layer::stock:
      return {name, "#6f7680", "#9aa3ad", 0.3, {8.0, 3.0}};
  }
  return {name, "#000000", "#ffffff", 0.3, {}};
}

// What is drawn later covers what was drawn before.
constexpr Layer k_painted[] = {Layer::stock,      Layer::duct_face,  Layer::air_face,
                               Layer::outer_face, Layer::inner_face, Layer::mark,
                               Layer::cut,        Layer::label,      Layer::scale};
static_assert(std::size(k_painted) == std::size(k_all_layers));

}  // namespace

Picture picture_of(const Drawing& drawing, const std::vector<Layer>& hidden) {
  Picture picture;
  for (const Layer layer : k_painted) {
    if (std::find(hidden.begin(), hidden.end(), layer) != hidden.end()) continue;
    InkedGroup group{ink_of(layer), {}, {}};
    for (const Polyline& line : drawing.lines)
      if (line.layer == layer) group.lines.push_back({line.closed, line.points});
    for (const Text& text : drawing.texts)
      if (text.layer == layer) group.texts.push_back(text);
    const bool of_inner_layer = layer == Layer::outer_face || layer == Layer::inner_face;
    if (!of_inner_layer || !group.lines.empty()) picture.push_back(std::move(group));
  }
  return picture;
}

std::optional<Box> extents(const Picture& picture) {
  std::optional<Box> box;
  const auto stretch = [&](const std::vector<Vec2>& points) {
    for (const Vec2 p : points) {
      if (!std::isfinite(p.x) || !std::isfinite(p.y))
        throw GeometryError("picture: a coordinate is not a finite number");
      box = box ? joined(*box, {p, p}) : Box{p, p};
    }
  };
  for (const InkedGroup& group : picture) {
    for (const InkedLine& line : group.lines) stretch(line.points);
    for (const Text& text : group.texts) stretch(text_corners(text));
  }
  return box;
}

}  // namespace linerwright
