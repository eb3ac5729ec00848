// The rectangular collar of a square-to-round: four flat panels below its rectangle, lined at equal depth.
// Layer w of a panel meets layer w of its flat at a height proportional to w, and at a corner of the
// rectangle all is proportional to w about that corner: each face between two pieces there is flat.
#pragma once

#include <optional>
#include <vector>

#include "linerwright/sheet/folds.hpp"
#include "linerwright/sheet/sheet.hpp"

namespace linerwright {

// Where a panel meets its flat, local height per millimetre of depth: -tan(phi / 2), phi the flat's lean.
double panel_top(const Sheet& sheet, int side);

// At a corner, as ways from it per millimetre of depth: where the two panels part, and where the higher panel
// ends on both flats. Between them it meets the flat over the lower one: the ear.
struct PanelCorner {
  Vec3 low, high;
  std::optional<LowPart> ear;  // the flat that it lies on; none: both panels are equally high
};
PanelCorner panel_corner(const Sheet& sheet, int corner);

// A panel's own frame: the origin on its middle line, within all its layers; x in the sense of theta, z
// outward.
Frame panel_frame(const Sheet& sheet, int side);
// A corner of all of a panel's layers in that frame's plane: at depth 0, and its way per millimetre of depth.
// Where an ear ends the layer at depth 0 and those in the metal have none of their own.
struct PanelRay {
  Vec2 at, way;
  bool ear = false;
};
// Counter-clockwise from the lower left one.
std::vector<PanelRay> panel_rays(const Sheet& sheet, int side);
// The corners of its layer at depth w, as the rays stand.
std::vector<Vec2> panel_face(const Sheet& sheet, int side, double w);
// How far an ear of that layer lies from the corner in which the panel's upright edge and its upper one would
// meet without it: at the end of the side, or at its beginning; 0 where there is none.
double panel_ear(const Sheet& sheet, int side, bool at_end, double w);
// How far that reaches from the origin on ruling theta of its disc.
double panel_reach(const Sheet& sheet, int side, double theta, double w);
// The rulings of its corners, ascending in [0, 2 pi).
std::vector<double> panel_rulings(const Sheet& sheet, int side, double w);
// The disc that carries a panel's rulings; beyond all its layers.
Sheet panel_disc(const Sheet& sheet, int side);
// Area of its layer at depth w.
double panel_area(const Sheet& sheet, int side, double w);
// Length of the joints on its layer at depth w, those with its flat and with the panel after it.
double panel_seal(const Sheet& sheet, int side, double w);
// Whether each panel's layer at depth w is seen whole from its origin: beside a side that flares far an ear
// is undercut.
bool panels_seen_whole(const Sheet& sheet, double w);
// Whether a higher panel's ears at depth w are undercut on the flats beside it: a flat's rulings run to its
// tip, which lies beyond that panel's layer, as far as the circle's middle does. A ruling beside the ear
// would leave the flat's layer there and come back above it.
bool ears_undercut_flats(const Sheet& sheet, int side, double w);
// Whether at every corner the panels part from the flats below the fork, which lies above the rectangle's
// plane: the collar meets no cone.
bool panels_clear_of_cones(const Sheet& sheet);

}  // namespace linerwright
