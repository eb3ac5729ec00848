// A square-to-round at one depth, as vertices, curves and faces that share them: what its bodies are put
// together from, whatever a face is.
#pragma once

#include <array>
#include <functional>
#include <vector>

#include "linerwright/sheet/sheet.hpp"

namespace linerwright {

// From a point to another: straight, or where `at` says for parameters from `first` to `last`.
struct FoldedCurve {
  int from, to;
  std::function<Vec3(double)> at{};
  double first = 0.0, last = 1.0;

  bool straight() const { return !at; }
};

// A curve as a side of an outline, or of a rim.
struct FoldedSide {
  int curve;
  bool forward;
};

// A part of a cone: ruled between two curves at equal parameters, each of which may be a point. Outward
// normals are (along the curves) x (from low to high), or against that where it is `reversed`.
struct FoldedPatch {
  int low, high;              // curves; -1: a point
  int low_point, high_point;  // then
  FoldedSide start, end;      // straight, from low to high where forward
  bool reversed;
};

// What a flat's middle line shows of the layer: where a seam may lie.
struct FoldedSeam {
  int low, high;  // points, of the line itself
  int line;       // curve from low to high
  std::vector<int>
      tip_curves{};  // of the mitre from the line's upper end to the round end; none: it ends there
  int top;           // point at the round end
};

struct FoldedLayer {
  std::vector<Vec3> points;
  std::vector<FoldedCurve> curves;
  // By quarters, each from the middle line of a flat to that of the next.
  std::array<std::vector<std::vector<FoldedSide>>, 4> flats;  // outlines, counter-clockwise from outside
  std::array<std::vector<FoldedPatch>, 4> patches;
  // What lies in the rectangle's and the circle's plane, in the sense of theta; mitres are not in it.
  std::array<std::vector<FoldedSide>, 4> low_rim, high_rim;
  std::array<FoldedSeam, 4> seams;
};

// The layer of a square-to-round that folds as a Y (folds_as_y) at depth w, in space.
FoldedLayer folded_layer(const Sheet& sheet, double w);

}  // namespace linerwright
