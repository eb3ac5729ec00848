// Joints: the curves where lined walls meet or end. Where two walls meet, layer w of one meets layer w of the
// other; the rulings of the leading wall are intersected in closed form with the plane or the other wall at
// that depth.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "linerwright/sheet/sheet.hpp"

namespace linerwright {

// An end of a wall: where its rulings begin, and where they end.
enum class End { low, high };
inline constexpr std::array<End, 2> k_both_ends{End::low, End::high};
inline End opposite(End end) {
  return end == End::low ? End::high : End::low;
}
// The sign of a step along the rulings that leads out of the wall there.
inline double outward(End end) {
  return end == End::high ? 1.0 : -1.0;
}

// The joint lies in a plane: an open end, or the mitre between two equal cylinders.
struct PlaneTarget {
  Vec3 point;
  Vec3 normal;
};
// Cut square to the board at a height along the rulings: a joint between two rings of one wall.
struct SquareTarget {
  double v;
};
// The leading wall (a taper) meets the cylinder that stands on its own low or high circle (a collar).
struct CollarTarget {
  End end;
};
// The leading wall (a branch) meets a cylinder (the body) where its rulings leave the cylinder outward.
struct BodyTarget {
  Sheet body;
};
// Two walls about one sphere meet, at depth w, in the plane normal . (x - centre) = offset (1 - w / radius):
// the mitre of cones whose half angles differ. Where they are alike the offset is none, and a PlaneTarget
// says it.
struct SphereTarget {
  Vec3 centre;
  double radius;
  Vec3 normal;
  double offset;
};
// The leading wall (the ring of a cap) ends on a flat wall that faces its way out: in that one's plane, at
// its depth.
struct FlatTarget {
  Sheet disc;
};
// Where a flat wall's rulings run together: its centre, which is no edge.
struct CentreTarget {};
// The rim of a flat panel of a square-to-round's rectangular collar (panels.hpp), led by the panel's own
// rulings: at every depth another polygon.
struct PanelTarget {
  Sheet hull;
  int side;
};
// How the edge of an opening goes on from the duct face through the liner: square to the board; square to the
// duct's axis; along the opening's own axis; or square and wider by `splay` for each unit of depth.
enum class OpeningBevel { square, radial, straight, splayed };
// A hole of its own in the wall that follows: an access door's, a shaft's, an instrument's. Its axis is the
// wall's normal in its middle. The joint's parameter runs once around its edge; no wall's rulings lead it.
struct OpeningTarget {
  bool round;
  double theta, v;                 // of its middle, on the duct face
  double half_around, half_along;  // round: its radius, across its axis; else half its sides on the flat
  double setback = 0.0;            // of the edge from that, on the flat
  OpeningBevel bevel = OpeningBevel::square;
  double splay = 0.0;
  // The wall unrolled at its duct face (`flat_of`), where that is no closed form: kept, for it takes long.
  std::shared_ptr<const Development> flat{};
};
using Target = std::variant<PlaneTarget, SquareTarget, CollarTarget, BodyTarget, SphereTarget, FlatTarget,
                            CentreTarget, PanelTarget, OpeningTarget>;

// How a branch sits in its body: both bevelled along equal depths; the branch square on the body's duct face;
// or the branch passed through to the body's air face. A ring on its cap's disc likewise: both bevelled, the
// ring up to the disc's duct face and the disc inside it, or the ring up to the disc's air face only.
enum class JointStyle { mitre, over, through };

// Depths of the two walls whose common points make one curve of the joint.
struct DepthPair {
  double lead = 0.0;
  double follow = 0.0;
};
constexpr bool operator<(DepthPair a, DepthPair b) {
  return a.lead != b.lead ? a.lead < b.lead : a.follow < b.follow;
}
constexpr bool operator==(DepthPair a, DepthPair b) {
  return a.lead == b.lead && a.follow == b.follow;
}

enum class Side { lead, follow };

// A ruling of an oblique taper's collar at which panels of the collar meet. Layer by layer it meets another
// ruling of the taper, so its split of the taper's joints has another parameter at each depth.
struct CollarSeam {
  double split;  // its parameter on the duct face, one of the joint's splits
  CollarTarget at;
  Sheet collar;
  double theta;  // on the collar
};

// A joint that is a part of a chain: its curve runs from the first split to the last, which may lie beyond a
// turn, between two corners that it shares with other joints. Corners are numbered through a fitting.
struct Stretch {
  int from_corner;
  int to_corner;
};

struct Joint {
  Sheet lead;
  std::vector<Sheet> follow;  // the other wall; empty at an open end
  Target target;
  JointStyle style = JointStyle::mitre;
  // Parameters in [0, 2 pi), ascending, where the curve has a corner or needs a vertex; at least one. Of a
  // stretch also its two ends, of which the last may lie beyond a turn.
  std::vector<double> splits{0.0};
  // Panels meet at some of the splits: the face across the liner is cut at each of them.
  bool in_panels = false;
  // The two rings of one wall meet, and share their rulings; where they are cut square to the board, they do
  // anyway.
  bool of_rings = false;
  // Splits that move with the depth; at an oblique taper's other joints as well, so that its faces end alike.
  std::vector<CollarSeam> collar_seams{};
  std::optional<Stretch> stretch{};  // none: the curve goes all around
  // The wall that follows is that of a duct which is no part of the fitting, lined alike: a tap stands on it.
  bool on_duct = false;
  // Of a liner's open end that the metal goes on beyond, bare: the joint in which the metal ends.
  std::optional<int> metal_end{};

  bool open() const { return follow.empty(); }
  bool of_opening() const { return std::holds_alternative<OpeningTarget>(target); }
  bool of_panel() const { return std::holds_alternative<PanelTarget>(target); }
  bool is_centre() const { return std::holds_alternative<CentreTarget>(target); }
  // An end of a square-to-round, whose layers are trimmed in mitres and bring their own curves.
  bool folded() const { return lead.is_square_to_round() && !of_opening(); }
};

// A place of an opening's edge on its wall at depth w, counter-clockwise as seen from outside: s from the
// middle of a round one's high side, from the corner of a rectangle that is highest and furthest around.
// Throws GeometryError where the edge leaves the wall.
Sheet::Place place_on_opening(const Sheet& wall, const OpeningTarget& opening, double s, double w);
// The flat of a wall at its duct face, for an opening whose middle lies on this ruling: none of a cylinder, a
// right cone or a disc.
std::shared_ptr<const Development> flat_of(const Sheet& wall, double theta);
// Half the side of a rectangle on the flat of a wall, of which this is half the chord across the opening's
// middle: `theta`, `v` and `flat` of the target are asked. Throws GeometryError where the wall is not so
// wide.
double flat_half(const Sheet& wall, const OpeningTarget& at, double half_chord);
// v on the leading wall's ruling theta at the given depths. Throws GeometryError where the ruling misses the
// target, or where no wall leads the joint.
double height_on_lead(const Joint& joint, double theta, DepthPair depths);
// The plane in which two walls about one sphere meet at depth w.
PlaneTarget plane_at(const SphereTarget& mitre, double w);
// v at which a wall's ruling theta, at depth w, meets a plane. Throws GeometryError where it runs parallel.
double height_on_plane(const Sheet& sheet, double theta, double w, const PlaneTarget& plane);
// The joint's point at parameter s (the leading wall's theta).
Vec3 point_of(const Joint& joint, double s, DepthPair depths);
// The same place in the coordinates of one of the two walls.
Sheet::Place place_on(const Joint& joint, Side side, double s, DepthPair depths);
// How fast the joint turns on the body where a cylinder's branch meets it: the derivative of its theta there
// by s, exact also beside a tangent. Nothing of other joints.
std::optional<double> turn_on_body(const Joint& joint, double s, DepthPair depths);
// v of the joint on a wall's own ruling theta: closed form on the leading side, root search on the following
// side.
double height_at(const Joint& joint, Side side, double theta, DepthPair depths);
// The parameter s at which the joint crosses a wall's own ruling theta.
double parameter_at(const Joint& joint, Side side, double theta, DepthPair depths);

// The depths at which a shell (metal, cavity, bore) at depth w has its joint: equal depths.
constexpr DepthPair shell_depths(double w) {
  return {w, w};
}
// The depths at which layer w of the liner on one side ends, by the joint's style.
DepthPair liner_depths(JointStyle style, Side side, double w, double bore);

// A range of the parameter between two neighbouring splits.
struct Arc {
  double from;
  double to;
};
std::vector<Arc> arcs_of(const Joint& joint);
// Where a collar's seam splits the joints of the taper `lead` at this depth, within half a turn of its split
// on the duct face.
double split_at(const Sheet& lead, const CollarSeam& seam, double w);
// The arcs of arcs_of as they are at these depths: those that end at a collar's seam move with it. Throws
// GeometryError where seams cross.
std::vector<Arc> arcs_at(const Joint& joint, DepthPair depths);

// Parameters from arc.from to arc.to, dense enough that a cubic curve through the joint's points at each of
// the given depth pairs stays within `tolerance` of the joint (estimated between the points).
std::vector<double> sample_arc(const Joint& joint, const Arc& arc, const std::vector<DepthPair>& depths,
                               double tolerance);

}  // namespace linerwright
