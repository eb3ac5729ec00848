// Where the layers of a square-to-round end. A layer at depth w lies behind every plane that touches the
// wall, moved in by w; near the rectangle's corners its parts would cross there and are trimmed in a mitre
// shaped like a Y: flat to flat from the rectangle's end up to a fork, then flat to cone on either side. It
// is the same at every depth, larger in proportion, about the corner. Of a short one the fork may lie below
// the rectangle's plane: then the cone comes down to that plane in an arc, between two mitres or none; and
// outside of the duct face (w < 0) the cone folds over itself there. Where a flat leans inward, a short mitre
// of its two cones runs from its tip to the round end, too.
#pragma once

#include <optional>
#include <vector>

#include "linerwright/sheet/sheet.hpp"

namespace linerwright {

// An end of a ruling at one depth.
struct LayerEnd {
  double v;
  // The ruling whose plane it meets there, in a mitre; none: it ends in the plane of the wall's own end.
  std::optional<double> meets{};
};

// What stands on a square-to-round's circle: nothing, so that layers end in its plane, or a straight collar,
// whose layer at the same depth they meet.
enum class RoundEnd { open, collar };

// The ends of ruling theta of a square-to-round at depth w, in local planes z = 0 and z = height or on the
// collar, mitres taken off. Where a ruling comes to no collar, v is infinite.
LayerEnd low_end(const Sheet& sheet, double theta, double w);
LayerEnd high_end(const Sheet& sheet, double theta, double w, RoundEnd round = RoundEnd::open);

// From the point in which a ruling of a wall touches a circle square to z, the way along it at depth w to the
// cylinder of that depth on the circle; nothing where it comes to none.
std::optional<double> way_to_collar(const Sheet::Ruling& ruling, double radius, double w);

// Where the layer at depth w of the collar on the circle is met, on its ruling phi: the square-to-round's own
// ruling there, and the height, local. Throws GeometryError where it is not.
struct CollarMeeting {
  double theta, height;
};
CollarMeeting collar_meeting(const Sheet& sheet, double phi, double w);

// Of a cone's ruling, per millimetre of depth from the corner: where the layer's mitre lies, and where the
// ruling would touch its neighbour. Both along the ruling; the second is never the larger.
double fold_start(const Sheet& sheet, double theta);
double fold_edge(const Sheet& sheet, double theta);

// What a layer of a corner's cone comes to at its lower end: the rectangle's plane, the flat before it or
// after it, or itself.
enum class LowPart { plane, first, second, own };
struct LowArc {
  double from, to;  // turns of its rulings
  LowPart on;
};
struct CornerLow {
  std::vector<LowArc> arcs;  // from 0 to a quarter; two of `own` face each other and meet in one curve
  bool stem;                 // from the rectangle's plane up to the cone the two flats meet

  // Whether all of it comes to the plane.
  bool level() const { return arcs.size() == 1 && comes_to(LowPart::plane); }
  bool comes_to(LowPart part) const;
  // Where the cone meets itself, the turn of the ruling that the one at `turn` meets: of the first of the two
  // arcs, or of the second; nothing elsewhere.
  std::optional<double> faced_by_first(double turn) const;
  std::optional<double> faced_by_second(double turn) const;
  // The turn at which the mitre with a flat ends on the cone, away from its bend line; without a mitre that
  // line's.
  double far_end(LowPart flat) const;
};
// Of the corner that layers on w's side of the duct face have; w is not 0.
CornerLow corner_low(const Sheet& sheet, int corner, double w);
// Where the two flats' layers meet in the rectangle's plane, per millimetre of depth, as a way from the
// corner; local.
Vec3 flats_foot(const Sheet& sheet, int corner);
// Where the end that a flat beside the corner has in the rectangle's plane begins at depth w, as a way from
// the corner; local.
Vec3 low_foot(const Sheet& sheet, int corner, LowPart flat, double w);
// The lower end of ruling theta at depth w, local.
Vec3 low_place(const Sheet& sheet, double theta, double w);

// The Y at corner k (a V where one flat trims all of the cone, its fork on the other's bend line), all per
// millimetre of depth and as a way from the corner. Its fork may lie below the rectangle's plane.
struct CornerFold {
  double fork_theta;             // of the cone's ruling on which the three mitres meet
  Vec3 foot;                     // flats_foot()
  Vec3 fork;                     // local
  double first_end, second_end;  // along the bend lines beside flats k and k + 1
};
CornerFold corner_fold(const Sheet& sheet, int corner);

// Whether each corner folds as CornerLow says: the cone's own rulings are nowhere nearer than the flats and
// the rectangle's plane.
bool folds_as_y(const Sheet& sheet);

// Rulings at which the ends of the layer at depth w have corners, ascending in [0, 2 pi): every part's first,
// the forks', and those between a flat's own end and its mitres.
std::vector<double> low_corners(const Sheet& sheet, double w);
std::vector<double> high_corners(const Sheet& sheet, double w, RoundEnd round = RoundEnd::open);

// Whether each corner's cone has some of the round end at depth w: the mitres at the tips of its two flats do
// not meet below that.
bool tip_mitres_part(const Sheet& sheet, double w, RoundEnd round = RoundEnd::open);

// Where a flat's tip is mitred at depth w: of the ruling on the cone after the flat, a turn from it, that on
// the cone before the flat, its turn from the flat, which it meets there. At the tip itself both are 0.
double tip_partner(const Sheet& sheet, int flat, double turn, double w);

// The ruling of flat k, a quarter of a turn each, through a point of its layer at depth w; local.
double theta_on_flat(const Sheet& sheet, int flat, Vec3 point, double w);

// Area of the section at local height z of what lies deeper than w.
double section_area(const Sheet& sheet, double z, double w);

// A layer that lies this deep has no board left at the round end: its rulings meet there.
double deepest_layer(const Sheet& sheet, RoundEnd round = RoundEnd::open);

}  // namespace linerwright
