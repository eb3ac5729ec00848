// Flat drawings and the files they become: DXF for the knife table, SVG for the page.
// Coordinates are millimetres, x to the right and y up.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "linerwright/vector.hpp"

namespace linerwright {

// What each layer is for; the file shows it by this name (letters, digits and _ only).
enum class Layer {
  cut,        // CUT: what the knife follows
  duct_face,  // DUCT_FACE: true contour of the face against the metal
  air_face,   // AIR_FACE: true contour of the face in the air stream
  mark,       // MARK: lines for a pen: stations, seam, heel, throat
  label,      // LABEL: text
  scale,      // SCALE: a check line of stated length
  stock,      // STOCK: the board's edge, never cut
};
const char* layer_name(Layer layer);
constexpr Layer k_all_layers[] = {Layer::cut,  Layer::duct_face, Layer::air_face, Layer::mark,
                                  Layer::label, Layer::scale,    Layer::stock};

// Straight segments; a closed line does not repeat its first point.
struct Polyline {
  Layer layer = Layer::cut;
  bool closed = false;
  std::vector<Vec2> points;
};

// One line of text, its baseline starting at `at` (or centred there), turned by `angle` radians.
struct Text {
  Layer layer = Layer::label;
  Vec2 at{};
  double height = 10.0;  // of a capital letter
  double angle = 0.0;
  bool centred = false;  // horizontally
  std::string text;      // UTF-8
};

struct Drawing {
  std::vector<Polyline> lines;
  std::vector<Text> texts;
};

}  // namespace linerwright
