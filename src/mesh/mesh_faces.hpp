// Faces of a fitting as triangles. Joints' curves are divided once, for all faces and all depths that meet
// there; a wall then needs no points inside, because it is straight along its rulings and every ruling ends
// on a curve.
#pragma once

#include <array>
#include <functional>
#include <map>
#include <optional>
#include <set>
#include <utility>
#include <vector>

#include "linerwright/mesh/bodies.hpp"
#include "linerwright/mesh/folded_layer.hpp"
#include "linerwright/mesh/mesh.hpp"

namespace linerwright {

// Triangles of a wall with a hole reach farther around than the steps of its curves: smaller steps are
// needed.
struct StepsTooLarge {};

// mm. From one end where the chord has no length.
double distance_to_chord(Vec3 point, Vec3 from, Vec3 to);

class MeshFaces {
 public:
  using Face = std::vector<std::array<int, 3>>;
  static Face reversed(Face face);

  // `share` of the largest steps. Throws GeometryError where a joint's curve cannot be divided.
  MeshFaces(const Fitting& fitting, const MeshOptions& options, double share);

  // As Faces' in src/solid/faces.hpp. Throw StepsTooLarge.
  std::vector<Face> band(const Sheet& sheet, double w, const Range& range, const Rim& low, const Rim& high,
                         const std::vector<Loop>& holes);
  std::vector<Face> across(int joint, Side side, const LinerSpec& liner, const Range& range);
  Face end(int joint, DepthPair outer, const DepthPair* inner);
  Face on_follow(int joint, DepthPair outer, const DepthPair* inner);
  std::vector<Face> between_panels(const Sheet& sheet, double theta, const std::array<Rim, 2>& low,
                                   const std::array<Rim, 2>& high);

  // The mesh of a body's faces, with its own points.
  Mesh mesh_of(const std::vector<Face>& shell) const;

 private:
  // An arc's points, which neighbouring arcs and joints share at their ends.
  struct ArcLine {
    std::vector<double> s;
    std::vector<int> points;
  };
  // A point of a rim with its place on the wall.
  struct RimPoint {
    int point;
    double theta, v;
  };
  const Joint& joint(int index) const { return fitting_.joint(index); }
  Vec3 at(int point) const { return points_[static_cast<std::size_t>(point)]; }
  int new_point(Vec3 point);
  int corner(int number, DepthPair depths, Vec3 point);
  double largest_step(const Sheet& sheet) const;
  std::vector<double> divided(const Joint& joint, const Arc& arc, const std::vector<DepthPair>& depths) const;
  bool too_large(const Joint& joint, const std::vector<DepthPair>& depths, double from, double to) const;
  const std::vector<ArcLine>& lines(int joint, DepthPair depths);
  std::vector<RimPoint> rim_points(const Rim& rim, const Range& range);
  // A closed curve on a wall, its first point not repeated; theta begins near `near`.
  std::vector<RimPoint> closed_points(const Loop& loop, double near);
  Face strip(const std::vector<RimPoint>& low, const std::vector<RimPoint>& high) const;
  Face disk(int index, DepthPair outer);
  // A wall, or the part of it that an outline lies in, unrolled: around and along it; a flat one as it is.
  struct Unrolled {
    std::function<Vec2(const RimPoint&)> place;
    std::optional<double> step;  // that triangles may reach around; none: as far as they like
  };
  Unrolled unrolled(const Sheet& sheet, double w, const std::vector<RimPoint>& outline) const;
  Face filled(const Sheet& sheet, double w, std::vector<RimPoint> outline,
              std::vector<std::vector<RimPoint>> holes) const;
  void add_quad(Face& face, int a, int b, int c, int d) const;
  // Cut from a to c.
  static void add_halves(Face& face, int a, int b, int c, int d);
  // Between two curves in step, arc by arc.
  std::vector<Face> in_step(int joint, DepthPair outer, DepthPair inner);
  // The same on the wall that follows, with curves between the two where they stand far apart: at which
  // depths.
  std::vector<Face> on_wall(int joint, DepthPair outer, DepthPair inner);
  std::vector<DepthPair> rows_on_wall(int joint, DepthPair outer, DepthPair inner);
  std::vector<int> across_at_seam(const Rim& outer, const Rim& inner, double theta);

  // Of a square-to-round at one depth: its layer, with the points of every curve from its beginning on.
  struct FoldedLines {
    FoldedLayer layer;
    std::vector<std::vector<int>> lines;
    std::vector<int> points;

    // The i-th point of a patch's lower side.
    int low(const FoldedPatch& patch, std::size_t i) const {
      return patch.low ? lines[static_cast<std::size_t>(*patch.low)][i]
                       : points[static_cast<std::size_t>(patch.low_point)];
    }
  };
  const FoldedLines& folded(const Sheet& sheet, double w);
  // Points of sides one after another, the last of each left out where the next begins.
  static std::vector<int> chain(const FoldedLines& of, const std::vector<FoldedSide>& sides);
  static std::vector<int> rim_of(const FoldedLines& of, bool round, int quarter);
  std::vector<Face> folded_band(const Sheet& sheet, double w, const Range& range,
                                const std::vector<Loop>& holes);
  // A flat's half after its middle line or before it, or all of it, and a part of a cone, with holes.
  Face pierced_flat(const Sheet& sheet, double w, int flat, bool after, const HolesOfParts& holes);
  Face pierced_cone(const Sheet& sheet, double w, int quarter, const std::vector<Loop>& holes);
  static void turn_from_mitre(Face& face, std::array<int, 2> bend, const std::set<int>& mitre,
                              const std::map<int, Vec2>& places);
  Face whole_half(const FoldedLines& of, int quarter, std::size_t half, bool from_low);
  Face cone_patch(const FoldedLines& of, const FoldedPatch& patch);
  // Between two chains with common ends or links, from the outer one on; shorter diagonals first.
  Face between(const std::vector<int>& outer, const std::vector<int>& inner) const;
  Face folded_across(const Joint& joint, double outer, double inner, const Range& range);
  // The joint with a collar: its arcs at depth w, and the faces across the liner there.
  std::vector<ArcLine> folded_lines(const Joint& joint, double w);
  std::vector<Face> collar_across(int index, Side side, DepthPair outer, DepthPair inner, const Range& range);
  // Of its rectangular collar: a panel at depth w, what ends it between two depths, and what ends the wall
  // above it there, by quarters; and the metal's upright walls.
  Face panel_face(const PanelTarget& panel, double w);
  std::vector<Face> panel_across(const PanelTarget& panel, double outer, double inner);
  Face across_end(const Joint& joint, double outer, double inner, const Range& range);
  Face panel_mitres(const Sheet& sheet, double outer, double inner, int quarter);
  std::vector<Face> skirts(const FoldedLines& of);
  Face folded_disc(const Joint& joint, double w);
  Face folded_seam(const Sheet& sheet, double theta, double outer, double inner);

  const Fitting& fitting_;
  double deflection_, angle_, share_;
  std::vector<std::vector<std::vector<double>>> samples_;  // per joint, per arc
  std::map<std::pair<int, DepthPair>, std::vector<ArcLine>> made_;
  std::map<std::pair<int, DepthPair>, int> corners_;
  std::map<double, FoldedLines> folded_;  // by depth
  std::vector<Vec3> points_;
};

}  // namespace linerwright
