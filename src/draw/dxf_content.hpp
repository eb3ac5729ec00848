// What of a drawing goes into a DXF file, in the numbers that will be printed.
#pragma once

#include <string>
#include <vector>

#include "linerwright/draw/draw.hpp"

namespace linerwright {

// A contour and a text: numbers in the file's unit and rounded, words escaped.
struct DxfLineOut {
  std::string layer;
  bool closed = false;
  std::vector<Vec2> points;
};
struct DxfLabelOut {
  std::string layer;
  Text text;
};
struct DxfContent {
  std::vector<DxfLineOut> lines;
  std::vector<DxfLabelOut> labels;
  std::vector<DxfLayer> layers;
  Box extents;
};

// Decimals of the file's numbers: a step of 1e-4 mm or 1e-6 in.
int dxf_decimals(DxfUnits units);
// The lines and texts on the layers that the options ask for. Throws GeometryError as write_dxf() says.
DxfContent dxf_content(const Drawing& drawing, const DxfOptions& options);

}  // namespace linerwright
