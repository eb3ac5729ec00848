// A square-to-round at one depth, as vertices, curves and faces that share them: what its bodies are put
// together from, whatever a face is.
#pragma once

#include <array>
#include <functional>
#include <optional>
#include <vector>

#include "linerwright/fitting/fitting.hpp"
#include "linerwright/sheet/folds.hpp"

namespace linerwright {

// From a point to another: straight, or where `at` says for parameters from `first` to `last`.
struct FoldedCurve {
  int from, to;
  std::function<Vec3(double)> at{};
  double first = 0.0, last = 1.0;
  // Of what lies at the round end: the wall's ruling at a parameter is theta + rate * parameter.
  double theta = 0.0, rate = 1.0;
  double turn = 1.0;  // of the normals, for each unit of the parameter

  bool straight() const { return !at; }
};

// A curve as a side of an outline, or of a rim.
struct FoldedSide {
  int curve;
  bool forward;
};

// A part of a cone: ruled between two curves at equal parameters, the lower of which may be a point. Outward
// normals are (along the curves) x (from low to high), or against that where it is `reversed`.
struct FoldedPatch {
  std::optional<int> low;  // a curve; none: the point low_point
  int high;                // a curve
  int low_point;           // where the lower side begins
  FoldedSide start, end;   // straight, from low to high where forward
  bool reversed;
  std::function<double(double)> turn_at{};  // of the cone's ruling, by the curves' parameter
};

// What a flat's middle line shows of the layer: where a seam may lie.
struct FoldedSeam {
  int low, high;  // points, of the line itself
  int line;       // curve from low to high
  std::vector<int>
      tip_curves{};  // of the mitre from the line's upper end to the round end; none: it ends there
  int top;           // point at the round end
};

// About a corner of the rectangle, where a rectangular collar stands below it.
struct FoldedUpright {
  int line;                   // curve from the open end up to where its two panels part
  std::optional<int> ear{};   // from there up the flat of the lower of them, along the higher panel
  bool ear_on_first = false;  // that flat is the one before the corner
};

struct FoldedLayer {
  std::vector<Vec3> points;
  std::vector<FoldedCurve> curves;
  // By quarters, each from the middle line of a flat to that of the next.
  std::array<std::vector<std::vector<FoldedSide>>, 4> flats;  // outlines, counter-clockwise from outside
  std::array<std::vector<FoldedPatch>, 4> patches;
  // What lies in the rectangle's plane, and in the circle's or on the collar, in the sense of theta; mitres
  // are not in it.
  std::array<std::vector<FoldedSide>, 4> low_rim, high_rim;
  std::array<FoldedSeam, 4> seams;
  // With a rectangular collar: its open end in the sense of theta, by quarters; inside of the metal the
  // panels' outlines, counter-clockwise from outside; outside, where the metal stands upright under the low
  // rim, the sides of its walls, each with what lies under it.
  bool collared = false;
  std::array<std::vector<FoldedSide>, 4> floor;
  std::array<FoldedUpright, 4> uprights{};
  std::array<std::vector<FoldedSide>, 4> panels;
  struct Skirt {
    FoldedSide above, below;
    int first, last;  // curves from below up
  };
  std::array<std::vector<Skirt>, 4> skirts;
};

// What stands on the round end at a layer's depth: with a collar, the arcs of its joint.
struct FoldedRim {
  RoundEnd round = RoundEnd::open;
  std::vector<Arc> arcs{};
};
FoldedRim folded_rim(const Fitting& fitting, double w);

// The layer of a square-to-round that folds as a Y (folds_as_y) at depth w, in space.
FoldedLayer folded_layer(const Sheet& sheet, double w, const FoldedRim& rim = {});

// What lies over against each other at a collar's joint: an arc of the rim at the outer depth, and those of
// the inner rim from there to the next, flats about the cone's own where they come to the collar in a line.
struct RimMatch {
  int quarter;
  FoldedSide outer;
  std::vector<FoldedSide> before, inner, after;  // `inner` is one
};
// In the order of the joint's arcs at the outer depth, at which flats touch the collar in their tips alone.
// Throws GeometryError where the two rims are divided differently.
std::vector<RimMatch> matched_rims(const FoldedLayer& outer, const FoldedLayer& inner);
// What lies over against each other between two depths of a rectangular collar; where the outer one's is the
// rectangle's corner, that point in place of sides.
struct PanelEdge {
  std::vector<FoldedSide> outer;
  int point;
  std::vector<FoldedSide> inner;
};
// All around a panel, counter-clockwise from outside; and what a quarter of the wall above comes to there, in
// the sense of theta.
std::vector<PanelEdge> panel_edges(const FoldedLayer& outer, const FoldedLayer& inner, int side);
std::vector<PanelEdge> mitre_edges(const FoldedLayer& outer, const FoldedLayer& inner, int quarter);
// All sides of the round end in the order of the joint's arcs.
std::vector<FoldedSide> round_rim(const FoldedLayer& layer);

}  // namespace linerwright
