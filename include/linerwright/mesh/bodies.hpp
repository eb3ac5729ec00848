// Which faces bound the bodies of a fitting, whatever a face is: the solids are put together from the
// kernel's, the meshes from triangles.
#pragma once

#include <algorithm>
#include <array>
#include <vector>

#include "linerwright/fitting/fitting.hpp"
#include "linerwright/fitting/port.hpp"

namespace linerwright {

// One joint's curve as used on one side.
struct Loop {
  int joint;
  Side side;
  DepthPair depths;
};

// The curves that bound a wall on one side: one all around, or a chain of them.
using Rim = std::vector<Loop>;

// Rulings that a band reaches over.
struct Range {
  double from = 0.0;
  double span = k_two_pi;
  bool full_turn() const { return span > k_two_pi - 1e-9; }
};

// Does theta grow with the joint's parameter on this side?
bool runs_forward(const Joint& joint, const Loop& loop);

// An arc of a rim, by the way around its wall.
struct RimArc {
  Loop loop;
  std::size_t index;  // of arcs_at()
  bool forward;       // theta grows with the loop's parameter
  double from, to;    // theta, counted on from the range's first
};
// Arcs of a rim that begin within a range of its wall's rulings, as they follow one another around.
std::vector<RimArc> arcs_within(const Fitting& fitting, const Rim& rim, const Range& range);
// The same of a whole rim, each with where it ends. Throws GeometryError where none begins with the range.
std::vector<RimArc> rim_arcs(const Fitting& fitting, const Rim& rim, const Range& range);

// The holes in the parts of a square-to-round.
struct HolesOfParts {
  // Of each flat, beside its middle line: after it, and before it.
  std::array<std::vector<Loop>, 4> after{}, before{};
  std::array<std::vector<Loop>, 4> flats{};  // over its middle line
  std::array<std::vector<Loop>, 4> cones{};
  bool none = true;
};
HolesOfParts holes_of_parts(const Fitting& fitting, const std::vector<Loop>& holes);

// All depth pairs at which a joint's curves are needed.
std::vector<DepthPair> depths_of(const Fitting& fitting, const Joint& joint);

// The lengths of duct that the metal of a straight is made of, each as a duct of its own in its place; none
// where it is one.
std::vector<Fitting> lengths_of_duct(const Fitting& fitting);

// Faces has: a type Face; reversed(face); band(), across(), end(), on_follow() and between_panels() as
// src/solid/faces.hpp says, natural normals included.
template <class Faces>
class Bodies {
 public:
  using Face = typename Faces::Face;
  // The faces that close a body, outward.
  using Shell = std::vector<Face>;

  Bodies(const Fitting& fitting, Faces& faces) : fitting_(fitting), faces_(faces) {}

  // All walls at depth w: natural normals away from the axis.
  Shell walls_at(double w) {
    const bool in_lining = w > 0.0 || is_disc_alone(fitting_);
    return surface(
        w, [&](const JointUse& use) { return in_lining ? use.joint : metals(use.joint); },
        [&](const Joint& joint) { return depths_of_shell(fitting_, joint, w); },
        [&](const Wall& wall) { return shell_holes(fitting_, wall); });
  }

  // The metal's face there, likewise.
  Shell metal_at(double w) {
    return surface(
        w, [&](const JointUse& use) { return metals(use.joint); },
        [&](const Joint& joint) { return depths_of_metal(fitting_, joint, w); },
        [&](const Wall& wall) { return metal_holes(fitting_, wall); });
  }

  // What is enclosed by the walls at depth w and flat ends. A disc alone has no bore: nothing is enclosed at
  // its depth.
  Shell filled(double w) {
    if (is_disc_alone(fitting_)) return layers_of_disc(w);
    Shell shell;
    for (const Face& face : walls_at(w)) shell.push_back(face);
    for_each_open_end([&](int joint, End end) {
      const bool bare = w > 0.0 && is_metals_alone(joint);
      shell.push_back(turned(faces_.end(joint, shell_depths(bare ? 0.0 : w), nullptr), end == End::low));
    });
    if (w > 0.0) add_bare(shell, w);
    add_standing(shell, w);
    return shell;
  }

  // The metal between the walls at -gauge and 0.
  Shell metal() {
    Shell shell;
    for (const Face& face : metal_at(-fitting_.liner.gauge)) shell.push_back(face);
    for (const Face& face : metal_at(0.0)) shell.push_back(turned(face, true));
    if (is_disc_alone(fitting_)) {
      const int rim = metal_end_of(fitting_, fitting_.walls.front(), End::low);
      for (const Face& face : faces_.across(rim, Side::follow, metal_layer(), {}))
        shell.push_back(turned(face, true));
    }
    const DepthPair inner = shell_depths(0.0);
    for_each_open_end([&](int joint, End end) {
      shell.push_back(
          turned(faces_.end(joint, shell_depths(-fitting_.liner.gauge), &inner), end == End::low));
    });
    for (const Opening& opening : fitting_.openings)
      if (opening.metal_joint)
        for (const Face& face : faces_.across(*opening.metal_joint, Side::follow, metal_layer(), {}))
          shell.push_back(face);
    if (const std::optional<int> joint = joint_on_duct(fitting_)) {
      const Joint& of = fitting_.joint(*joint);
      const DepthPair on = depths_of_metal(fitting_, of, 0.0);
      shell.push_back(
          turned(faces_.on_follow(*joint, depths_of_metal(fitting_, of, -fitting_.liner.gauge), &on), true));
    }
    return shell;
  }

  // What an opening takes out of its layer of liner.
  Shell plug(const Opening& opening, const LinerSpec& liner) {
    Shell shell;
    for (const double w : liner.faces())
      shell.push_back(
          turned(faces_.on_follow(opening.joint, shell_depths(w), nullptr), w > liner.outer_depth));
    for (const Face& face : faces_.across(opening.joint, Side::follow, liner, {}))
      shell.push_back(turned(face, true));
    return shell;
  }

  Shell liner(const Piece& piece) {
    const LinerSpec& liner = liner_of(fitting_, piece);
    const Wall& wall = fitting_.wall_of(piece);
    const Range range = piece.full_turn() ? Range{wall.face_start, k_two_pi} : Range{piece.seam, piece.span};
    const std::vector<std::size_t> holes_here = holes_of(fitting_, piece);
    Shell shell;
    const auto loop = [&](const JointUse& use, double w) {
      const Joint& joint = fitting_.joint(use.joint);
      return Loop{use.joint, use.side, liner_depths(joint.style, use.side, w, liner.bore_depth())};
    };
    const auto rim = [&](End end, double w) {
      Rim loops;
      for (const JointUse& use : joints_at(wall, end)) loops.push_back(loop(use, w));
      return loops;
    };
    for (const double w : liner.faces()) {
      std::vector<Loop> holes;
      for (const std::size_t h : holes_here) holes.push_back(loop(wall.holes[h], w));
      for (const Face& face : faces_.band(wall.sheet, w, range, rim(End::low, w), rim(End::high, w), holes))
        shell.push_back(turned(face, w > liner.outer_depth));
    }
    // Natural normals of a joint's face point up the wall that leads it; neighbours run the same way, and a
    // branch stands on its hole; an opening's edge runs as such a branch would. Of a chain's joints, those
    // between two legs begin both.
    const auto add_across = [&](const JointUse& use, bool outward_is_up, const Range& over) {
      for (const Face& face : faces_.across(use.joint, use.side, liner, over))
        shell.push_back(turned(face, !outward_is_up));
    };
    for (const End end : k_both_ends)
      for (const JointUse& use : joints_at(wall, end)) add_across(use, up_is_outward(wall, end, use), range);
    for (const std::size_t h : holes_here) add_across(wall.holes[h], true, {});
    if (!piece.full_turn())
      for (const bool last : {false, true})
        for (const Face& face :
             faces_.between_panels(wall.sheet, piece.seam + (last ? piece.span : 0.0),
                                   {rim(End::low, liner.outer_depth), rim(End::low, liner.inner_depth())},
                                   {rim(End::high, liner.outer_depth), rim(End::high, liner.inner_depth())}))
          shell.push_back(turned(face, !last));
    return shell;
  }

 private:
  LinerSpec metal_layer() const {
    LinerSpec sheet;
    sheet.outer_depth = -fitting_.liner.gauge;
    sheet.thickness = fitting_.liner.gauge;
    return sheet;
  }

  // The layers of a disc alone from depth w on, openings filled.
  Shell layers_of_disc(double w) {
    Shell shell = walls_at(w);
    for (const Face& face : walls_at(fitting_.liner.bore_depth())) shell.push_back(turned(face, true));
    for (int layer = 0; layer < layer_count(fitting_); ++layer)
      if (layer_of(fitting_, layer).inner_depth() > w)
        for (const Face& face :
             faces_.across(fitting_.walls.front().low.joint, Side::follow, layer_of(fitting_, layer), {}))
          shell.push_back(turned(face, true));
    return shell;
  }

  static Face turned(const Face& face, bool turn) { return turn ? Faces::reversed(face) : face; }

  // The joint in which the metal ends, where the liner ends in this one.
  int metals(int joint) const { return fitting_.joint(joint).metal_end.value_or(joint); }

  template <class JointOf, class Depths, class Holes>
  Shell surface(double w, JointOf&& joint_of, Depths&& depths, Holes&& holes) {
    Shell all;
    for (const Wall& wall : fitting_.walls) {
      if (wall.layer != 0) continue;
      const auto loops = [&](const std::vector<JointUse>& uses) {
        std::vector<Loop> made;
        for (const JointUse& use : uses) {
          made.push_back({joint_of(use), use.side, depths(fitting_.joint(use.joint))});
        }
        return made;
      };
      for (Face& face :
           faces_.band(wall.sheet, w, {wall.face_start, k_two_pi}, loops(joints_at(wall, End::low)),
                       loops(joints_at(wall, End::high)), loops(holes(wall))))
        all.push_back(face);
    }
    return all;
  }

  // Whether the way up the wall that leads a joint leaves this wall's piece there.
  bool up_is_outward(const Wall& wall, End end, const JointUse& use) const {
    const auto& joint = fitting_.joint(use.joint);
    if (!joint.stretch || use.side == Side::lead) return end == End::high;
    const bool lead_begins = std::any_of(
        fitting_.walls.begin(), fitting_.walls.end(),
        [&](const Wall& other) { return other.layer == wall.layer && begins_leading(other, use.joint); });
    return lead_begins;
  }

  static bool begins_leading(const Wall& wall, int joint) {
    const std::vector<JointUse> uses = joints_at(wall, End::low);
    return std::any_of(uses.begin(), uses.end(),
                       [&](const JointUse& use) { return use.joint == joint && use.side == Side::lead; });
  }

  bool is_metals_alone(int end) const {
    return std::any_of(fitting_.joints.begin(), fitting_.joints.end(),
                       [&](const Joint& joint) { return joint.metal_end == end; });
  }

  // Beyond a lining that is held back the bore is as wide as the metal: a step, and the metal's wall.
  void add_bare(Shell& shell, double w) {
    LinerSpec whole;
    whole.thickness = w;
    for (const Wall& bare : bare_ends(fitting_)) {
      const End metal = is_metals_alone(bare.high.joint) ? End::high : End::low;
      for (const Face& face : faces_.across(bare.use(opposite(metal)).joint, Side::lead, whole, {}))
        shell.push_back(turned(face, metal == End::high));
      const Rim low{{bare.low.joint, Side::lead, shell_depths(0.0)}};
      const Rim upper{{bare.high.joint, Side::lead, shell_depths(0.0)}};
      for (const Face& face : faces_.band(bare.sheet, 0.0, {bare.face_start, k_two_pi}, low, upper, {}))
        shell.push_back(face);
    }
  }

  // What closes a tap's shell at depth w toward the duct: the liner's end faces from there on inward, and in
  // their middle the bore's opening.
  void add_standing(Shell& shell, double w) {
    const std::optional<int> joint = joint_on_duct(fitting_);
    if (!joint) return;
    const Joint& of = fitting_.joint(*joint);
    for (int layer = 0; layer < layer_count(fitting_); ++layer)
      if (layer_of(fitting_, layer).inner_depth() > w)
        for (const Face& face : faces_.across(*joint, Side::lead, layer_of(fitting_, layer), {}))
          shell.push_back(turned(face, true));
    shell.push_back(turned(
        faces_.on_follow(*joint, depths_of_shell(fitting_, of, fitting_.liner.bore_depth()), nullptr), true));
  }

  template <class F>
  void for_each_open_end(F&& f) {
    for (const Wall& wall : fitting_.walls) {
      if (wall.layer != 0) continue;
      for (const End end : k_both_ends)
        if (fitting_.joint(wall.use(end).joint).open()) f(metal_end_of(fitting_, wall, end), end);
    }
  }

  const Fitting& fitting_;
  Faces& faces_;
};

}  // namespace linerwright
