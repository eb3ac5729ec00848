#include <algorithm>

#include "linerwright/draw/draw.hpp"

namespace linerwright {

const char* layer_name(Layer layer) {
  switch (layer) {
    case Layer::cut:
      return "CUT";
    case Layer::duct_face:
      return "DUCT_FACE";
    case Layer::air_face:
      return "AIR_FACE";
    case Layer::outer_face:
      return "OUTER_FACE";
    case Layer::inner_face:
      return "INNER_FACE";
    case Layer::mark:
      return "MARK";
    case Layer::label:
      return "LABEL";
    case Layer::scale:
      return "SCALE";
    case Layer::stock:
      return "STOCK";
  }
  return "0";
}

const LayerName* LayerTable::of(Layer layer) const {
  for (const LayerName& name : names)
    if (name.layer == layer) return &name;
  return nullptr;
}

std::size_t LayerTable::rank(Layer layer) const {
  return static_cast<std::size_t>(std::find(order.begin(), order.end(), layer) - order.begin());
}

Layer outer_face_layer(int liner_layer) {
  return liner_layer == 0 ? Layer::duct_face : Layer::outer_face;
}

Layer inner_face_layer(int liner_layer) {
  return liner_layer == 0 ? Layer::air_face : Layer::inner_face;
}

bool is_face(Layer layer) {
  return layer == Layer::duct_face || layer == Layer::air_face || layer == Layer::outer_face ||
         layer == Layer::inner_face;
}

std::optional<Layer> layer_named(std::string_view name) {
  for (const Layer layer : k_all_layers) {
    if (name == layer_name(layer)) return layer;
  }
  return std::nullopt;
}

}  // namespace linerwright
