// A drawing with something on every layer, and the files it is written to in the tests.
#pragma once

#include <string>
#include <vector>

#include "linerwright/draw/draw.hpp"

namespace linerwright {

// A plate with a round and a square hole beside a triangle, both faces, a mark, labels, a check line and the
// board.
inline Drawing sample_drawing() {
  Drawing drawing;
  const auto line = [&](Layer layer, bool closed, std::vector<Vec2> points) {
    drawing.lines.push_back({layer, closed, std::move(points)});
  };
  std::vector<Vec2> round_hole;
  for (int i = 0; i < 72; ++i) {
    const double angle = -k_two_pi * i / 72.0;
    round_hole.push_back({150.0 + 40.0 * std::cos(angle), 100.0 + 40.0 * std::sin(angle)});
  }
  line(Layer::cut, true, round_hole);
  line(Layer::cut, true, {{250.0, 80.0}, {250.0, 120.0}, {290.0, 120.0}, {290.0, 80.0}});
  line(Layer::cut, true, {{10.0, 10.0}, {330.0, 10.0}, {330.0, 190.12345}, {10.0, 190.12345}});
  line(Layer::cut, true, {{400.0, 10.0}, {500.0, 10.0}, {450.0, 96.6025403784}});
  line(Layer::duct_face, true, {{10.0, 10.0}, {330.0, 10.0}, {330.0, 190.0}, {10.0, 190.0}});
  line(Layer::air_face, true, {{12.0, 12.0}, {328.0, 12.0}, {328.0, 188.0}, {12.0, 188.0}});
  line(Layer::mark, false, {{170.0, 12.0}, {170.0, 30.0}});
  line(Layer::scale, false, {{10.0, 220.0}, {110.0, 220.0}});
  line(Layer::stock, true, {{0.0, 0.0}, {1220.0, 0.0}, {1220.0, 2440.0}, {0.0, 2440.0}});
  drawing.texts.push_back({Layer::label, {20.0, 20.0}, 8.0, 0.0, false, "E-1 gore 3/5"});
  drawing.texts.push_back({Layer::label, {60.0, 170.0}, 5.0, 0.0, true, "22.5\xC2\xB0 \xC3\x97 2, 100%%"});
  drawing.texts.push_back({Layer::scale, {10.0, 225.0}, 5.0, 0.0, false, "100 mm"});
  return drawing;
}

struct SampleFile {
  std::string name;
  DxfOptions options;
};

// r2000_mm_strokes.dxf and so on: both versions, both units, both text styles; then the short forms.
inline std::vector<SampleFile> sample_files() {
  std::vector<SampleFile> files;
  for (const DxfVersion version : {DxfVersion::r2000, DxfVersion::r12}) {
    const std::string prefix = version == DxfVersion::r2000 ? "r2000" : "r12";
    for (const DxfUnits units : {DxfUnits::millimetre, DxfUnits::inch}) {
      for (const TextStyle text : {TextStyle::strokes, TextStyle::entities}) {
        DxfOptions options;
        options.version = version;
        options.units = units;
        options.text = text;
        options.chord_error = 0.05;
        options.comments = {"sample of the tests"};
        files.push_back({prefix + (units == DxfUnits::inch ? "_in" : "_mm") +
                             (text == TextStyle::strokes ? "_strokes" : "_entities") + ".dxf",
                         options});
      }
    }
    DxfOptions options;
    options.version = version;
    options.cut_only = true;
    files.push_back({prefix + "_cut.dxf", options});
    options.cut_only = false;
    options.single_layer = true;
    files.push_back({prefix + "_layer0.dxf", options});
  }
  return files;
}

}  // namespace linerwright
