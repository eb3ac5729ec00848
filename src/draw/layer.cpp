#include "linerwright/draw.hpp"

namespace linerwright {

const char* layer_name(Layer layer) {
  switch (layer) {
    case Layer::cut:
      return "CUT";
    case Layer::duct_face:
      return "DUCT_FACE";
    case Layer::air_face:
      return "AIR_FACE";
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

std::optional<Layer> layer_named(std::string_view name) {
  for (const Layer layer : k_all_layers) {
    if (name == layer_name(layer)) return layer;
  }
  return std::nullopt;
}

}  // namespace linerwright
