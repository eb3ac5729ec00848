// What a square-to-round's layer is put together from, while it is.
#pragma once

#include <array>
#include <cstddef>
#include <functional>
#include <optional>
#include <utility>
#include <vector>

#include "linerwright/mesh/folded_layer.hpp"

namespace linerwright {

// The mitre of two cones at a flat's tip: curves in the sense of the turn on the cone after the flat, with
// the turns on either cone, from the flat on, at which they are cut.
struct FoldedTip {
  std::vector<double> after{}, before{};
  std::vector<int> points{}, curves{};
  bool mitred() const { return !curves.empty(); }
};

// A bend line: its ends as points, and the curve between them.
struct FoldedBend {
  int low, high, line;
};

// The lower end of a cone's ruling, as a point.
struct FoldedLow {
  double turn;
  int point;
};

// Where the cone folds over itself.
struct FoldedOwn {
  double from, to;  // turns of the first of two parts that meet
  int curve;
};

// About a corner of the rectangle.
struct FoldedCorner {
  CornerLow low{};
  FoldedBend first{}, second{};
  int foot = 0, stem = 0;  // where the flats meet
  // On a rectangular collar: where the panels part, and the edge from there to the foot, on the flat before
  // the corner or after it.
  int parting = 0;
  std::optional<int> ear{};
  bool ear_on_first = false;
  int base_first = 0, base_second = 0;
  std::vector<FoldedSide> beside_first{}, beside_second{};  // low edges, in the sense of theta
  std::vector<FoldedLow> lows{};
  std::vector<FoldedOwn> own{};
};

// The place in lists of four of a quarter that is counted on beyond a turn, either way.
inline std::size_t of_quarter(int quarter) {
  return static_cast<std::size_t>(((quarter % 4) + 4) % 4);
}
// The place of what is added.
inline int add_point(FoldedLayer& layer, Vec3 point) {
  layer.points.push_back(point);
  return static_cast<int>(layer.points.size()) - 1;
}
inline int add_curve(FoldedLayer& layer, FoldedCurve curve) {
  layer.curves.push_back(std::move(curve));
  return static_cast<int>(layer.curves.size()) - 1;
}

// Adds the rectangular collar under a layer whose corners are these.
void add_square_collar(FoldedLayer& layer, const std::array<FoldedCorner, 4>& corners, const Sheet& sheet,
                       double w);

// How the curves of a cone's part run: by this cone's turn, or with it reversed where the curve that it
// shares runs against it; with a collar, by shares of the part, so that what lies over against each other
// at two depths runs in step.
struct FoldedCourse {
  double first, last;  // parameters
  std::function<double(double)> turn_at;
  double theta, rate;  // of FoldedCurve
  bool reversed = false;
  std::optional<int> high{};  // a curve that is there already: of a tip's mitre
  std::optional<int> low{};   // where the cone folds over itself
};

}  // namespace linerwright
