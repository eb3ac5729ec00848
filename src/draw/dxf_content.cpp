#include "dxf_content.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

#include "linerwright/units/error.hpp"
#include "linerwright/units/units.hpp"
#include "text_codes.hpp"

namespace linerwright {

namespace {

constexpr int k_plain_colour = 7;  // black on white, white on black

int layer_colour(Layer layer) {
  switch (layer) {
    case Layer::cut:
      return 30;
    case Layer::duct_face:
    case Layer::outer_face:
      return 150;
    case Layer::air_face:
    case Layer::inner_face:
      return 112;
    case Layer::mark:
      return 200;
    case Layer::label:
      return 52;
    case Layer::scale:
      return 8;
    case Layer::stock:
      return 253;
  }
  return k_plain_colour;
}

class Gathering {
 public:
  explicit Gathering(const DxfOptions& options)
      : options_(options),
        factor_(options.units == DxfUnits::inch ? to_units(Quantity::length, 1.0, Units::inch) : 1.0),
        grid_(std::pow(10.0, dxf_decimals(options.units))) {}

  DxfContent gather(const Drawing& drawing) {
    std::vector<const Polyline*> lines;
    for (const Polyline& line : drawing.lines)
      if (wanted(line.layer)) lines.push_back(&line);
    std::stable_sort(lines.begin(), lines.end(), [&](const Polyline* a, const Polyline* b) {
      return options_.layers.rank(a->layer) < options_.layers.rank(b->layer);
    });
    for (const Polyline* line : lines) add(line->layer, line->closed, line->points);
    for (const Text& text : drawing.texts) {
      if (!wanted(text.layer)) continue;
      if (options_.text == TextStyle::strokes) {
        for (const std::vector<Vec2>& stroke : stroke_text(text)) add(text.layer, false, stroke);
      } else {
        add(text);
      }
    }
    if (!box_) throw GeometryError("DXF: the drawing holds nothing on the layers asked for");
    content_.extents = *box_;
    list_layers();
    return std::move(content_);
  }

 private:
  bool wanted(Layer layer) const {
    if (layer == Layer::cut) return true;
    return !options_.cut_only && (!options_.single_layer || options_.single_layer_all);
  }

  std::string name(Layer layer) {
    used_[static_cast<std::size_t>(layer)] = true;
    if (options_.single_layer) return "0";
    const LayerName* own = options_.layers.of(layer);
    return own != nullptr ? own->name : layer_name(layer);
  }

  double rounded(double value) const {
    if (!std::isfinite(value)) throw GeometryError("DXF: a coordinate is not a finite number");
    return std::round(value * factor_ * grid_) / grid_;
  }

  void stretch(Vec2 p) { box_ = box_ ? joined(*box_, Box{p, p}) : Box{p, p}; }

  void add(Layer layer, bool closed, const std::vector<Vec2>& points) {
    const bool paired = is_face(layer);
    DxfLineOut line{"", closed, {}};
    for (const Vec2 point : points) {
      const Vec2 p{rounded(point.x), rounded(point.y)};
      if (paired || line.points.empty() || !(line.points.back() == p)) line.points.push_back(p);
    }
    while (!paired && closed && line.points.size() > 1 && line.points.front() == line.points.back()) {
      line.points.pop_back();
    }
    if (line.points.size() < 2) return;
    for (const Vec2 p : line.points) stretch(p);
    line.layer = name(layer);
    content_.lines.push_back(std::move(line));
  }

  void add(const Text& text) {
    DxfLabelOut label{"", text};
    label.text.at = {rounded(text.at.x), rounded(text.at.y)};
    label.text.height = rounded(text.height);
    label.text.text = dxf_escaped(text.text);
    if (!std::isfinite(text.angle)) throw GeometryError("DXF: a text's angle is not a finite number");
    if (label.text.text.find_first_not_of(' ') == std::string::npos || label.text.height <= 0.0) return;
    stretch(label.text.at);
    label.layer = name(text.layer);
    content_.labels.push_back(std::move(label));
  }

  void list_layers() {
    content_.layers.push_back({"0", k_plain_colour});
    if (options_.single_layer) return;
    std::vector<Layer> layers(std::begin(k_all_layers), std::end(k_all_layers));
    std::stable_sort(layers.begin(), layers.end(),
                     [&](Layer a, Layer b) { return options_.layers.rank(a) < options_.layers.rank(b); });
    for (const Layer layer : layers) {
      if (!used_[static_cast<std::size_t>(layer)]) continue;
      const LayerName* own = options_.layers.of(layer);
      content_.layers.push_back(
          {name(layer), own != nullptr ? own->colour.value_or(layer_colour(layer)) : layer_colour(layer)});
    }
  }

  const DxfOptions& options_;
  double factor_;
  double grid_;
  bool used_[std::size(k_all_layers)] = {};
  std::optional<Box> box_;
  DxfContent content_;
};

}  // namespace

int dxf_decimals(DxfUnits units) {
  return units == DxfUnits::inch ? 6 : 4;
}

DxfContent dxf_content(const Drawing& drawing, const DxfOptions& options) {
  return Gathering(options).gather(drawing);
}

}  // namespace linerwright
