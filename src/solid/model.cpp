// The bodies of a fitting from its faces: shells at a depth, and liner pieces between two depths.
#include <BRepLib.hxx>
#include <BRep_Builder.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Shell.hxx>
#include <TopoDS_Solid.hxx>
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "faces.hpp"
#include "kernel_side.hpp"
#include "linerwright/error.hpp"
#include "linerwright/port.hpp"
#include "pressed.hpp"

namespace linerwright {

namespace {

constexpr double k_volume_agreement = 1e-7;  // of solids with the integrals, relative

TopoDS_Solid close_up(const std::vector<TopoDS_Shape>& faces) {
  BRep_Builder builder;
  TopoDS_Shell shell;
  builder.MakeShell(shell);
  for (const TopoDS_Shape& face : faces) builder.Add(shell, face);
  shell.Closed(true);
  TopoDS_Solid solid;
  builder.MakeSolid(solid);
  builder.Add(solid, shell);
  BRepLib::UpdateTolerances(solid);
  return solid;
}

class Bodies {
 public:
  explicit Bodies(const Fitting& fitting) : fitting_(fitting), faces_(fitting) {}

  // All walls at depth w, or the metal's face there: natural normals away from the axis.
  std::vector<TopoDS_Face> walls_at(double w, bool metal = false) {
    std::vector<TopoDS_Face> all;
    for (const Wall& wall : fitting_.walls) {
      if (wall.layer != 0) continue;
      const auto loops = [&](const std::vector<JointUse>& uses) {
        std::vector<Loop> made;
        for (const JointUse& use : uses) {
          const Joint& joint = fitting_.joints[static_cast<std::size_t>(use.joint)];
          const int end = w > 0.0 ? use.joint : joint.metal_end.value_or(use.joint);
          made.push_back({end, use.side, shell_end(fitting_, joint, w, metal)});
        }
        return made;
      };
      for (TopoDS_Face& face :
           faces_.band(wall.sheet, w, {wall.face_start, k_two_pi}, loops(joints_at(wall, false)),
                       loops(joints_at(wall, true)), loops(wall.holes)))
        all.push_back(face);
    }
    return all;
  }

  // What is enclosed by the walls at depth w and flat ends.
  TopoDS_Solid filled(double w) {
    std::vector<TopoDS_Shape> shell;
    for (const TopoDS_Face& face : walls_at(w)) shell.push_back(face);
    for_each_open_end([&](int joint, bool high) {
      const bool bare = w > 0.0 && is_metals_alone(joint);
      shell.push_back(turned(faces_.end(joint, shell_depths(bare ? 0.0 : w), nullptr), !high));
    });
    if (w > 0.0) add_bare(shell, w);
    add_standing(shell, w);
    return close_up(shell);
  }

  // The metal between the walls at -gauge and 0.
  TopoDS_Solid metal() {
    std::vector<TopoDS_Shape> shell;
    for (const TopoDS_Face& face : walls_at(-fitting_.liner.gauge, true)) shell.push_back(face);
    for (const TopoDS_Face& face : walls_at(0.0, true)) shell.push_back(turned(face, true));
    const DepthPair inner = shell_depths(0.0);
    for_each_open_end([&](int joint, bool high) {
      shell.push_back(turned(faces_.end(joint, shell_depths(-fitting_.liner.gauge), &inner), !high));
    });
    if (const int joint = joint_on_duct(fitting_); joint >= 0) {
      const Joint& of = fitting_.joints[static_cast<std::size_t>(joint)];
      const DepthPair on = shell_end(fitting_, of, 0.0, true);
      shell.push_back(
          turned(faces_.on_follow(joint, shell_end(fitting_, of, -fitting_.liner.gauge, true), &on), true));
    }
    return close_up(shell);
  }

  TopoDS_Solid liner(const Piece& piece) {
    const LinerSpec& liner = liner_of(fitting_, piece);
    const Wall& wall = fitting_.walls[static_cast<std::size_t>(piece.wall)];
    const Range range = piece.full_turn() ? Range{wall.face_start, k_two_pi} : Range{piece.seam, piece.span};
    const std::vector<std::size_t> holes_here = holes_of(fitting_, piece);
    std::vector<TopoDS_Shape> shell;
    const auto loop = [&](const JointUse& use, double w) {
      const Joint& joint = fitting_.joints[static_cast<std::size_t>(use.joint)];
      return Loop{use.joint, use.side, liner_depths(joint.style, use.side, w, liner.bore_depth())};
    };
    const auto rim = [&](bool high, double w) {
      Rim loops;
      for (const JointUse& use : joints_at(wall, high)) loops.push_back(loop(use, w));
      return loops;
    };
    for (const double w : liner.faces()) {
      std::vector<Loop> holes;
      for (const std::size_t h : holes_here) holes.push_back(loop(wall.holes[h], w));
      for (const TopoDS_Face& face : faces_.band(wall.sheet, w, range, rim(false, w), rim(true, w), holes))
        shell.push_back(turned(face, w > liner.outer_depth));
    }
    // Natural normals of a joint's face point up the wall that leads it; neighbours run the same way, and a
    // branch stands on its hole. Of a chain's joints, those between two legs begin both.
    const auto add_across = [&](const JointUse& use, bool outward_is_up, const Range& over) {
      for (const TopoDS_Face& face : faces_.across(use.joint, use.side, liner, over))
        shell.push_back(turned(face, !outward_is_up));
    };
    for (const bool high : {false, true})
      for (const JointUse& use : joints_at(wall, high))
        add_across(use, up_is_outward(wall, high, use), range);
    for (const std::size_t h : holes_here) add_across(wall.holes[h], true, {});
    if (!piece.full_turn())
      for (const bool last : {false, true})
        shell.push_back(
            turned(faces_.between_panels(wall.sheet, piece.seam + (last ? piece.span : 0.0),
                                         {rim(false, liner.outer_depth), rim(false, liner.inner_depth())},
                                         {rim(true, liner.outer_depth), rim(true, liner.inner_depth())}),
                   !last));
    return close_up(shell);
  }

  double deviation() { return faces_.edges().deviation(); }

 private:
  static TopoDS_Shape turned(const TopoDS_Face& face, bool turn) {
    return turn ? face.Reversed() : TopoDS_Shape(face);
  }

  // Whether the way up the wall that leads a joint leaves this wall's piece there.
  bool up_is_outward(const Wall& wall, bool high, const JointUse& use) const {
    const auto& joint = fitting_.joints[static_cast<std::size_t>(use.joint)];
    if (!joint.stretch || use.side == Side::lead) return high;
    const bool lead_begins = std::any_of(
        fitting_.walls.begin(), fitting_.walls.end(),
        [&](const Wall& other) { return other.layer == wall.layer && begins_leading(other, use.joint); });
    return lead_begins;
  }

  static bool begins_leading(const Wall& wall, int joint) {
    const std::vector<JointUse> uses = joints_at(wall, false);
    return std::any_of(uses.begin(), uses.end(),
                       [&](const JointUse& use) { return use.joint == joint && use.side == Side::lead; });
  }

  bool is_metals_alone(int end) const {
    return std::any_of(fitting_.joints.begin(), fitting_.joints.end(),
                       [&](const Joint& joint) { return joint.metal_end == end; });
  }

  // Beyond a lining that is held back the bore is as wide as the metal: a step, and the metal's wall.
  void add_bare(std::vector<TopoDS_Shape>& shell, double w) {
    LinerSpec whole;
    whole.thickness = w;
    for (const Wall& bare : bare_ends(fitting_)) {
      const bool high = is_metals_alone(bare.high.joint);
      for (const TopoDS_Face& face :
           faces_.across((high ? bare.low : bare.high).joint, Side::lead, whole, {}))
        shell.push_back(turned(face, high));
      const Rim low{{bare.low.joint, Side::lead, shell_depths(0.0)}};
      const Rim upper{{bare.high.joint, Side::lead, shell_depths(0.0)}};
      for (const TopoDS_Face& face :
           faces_.band(bare.sheet, 0.0, {bare.face_start, k_two_pi}, low, upper, {}))
        shell.push_back(face);
    }
  }

  // What closes a tap's shell at depth w toward the duct: the liner's end faces from there on inward, and in
  // their middle the bore's opening.
  void add_standing(std::vector<TopoDS_Shape>& shell, double w) {
    const int joint = joint_on_duct(fitting_);
    if (joint < 0) return;
    const Joint& of = fitting_.joints[static_cast<std::size_t>(joint)];
    for (int layer = 0; layer < layer_count(fitting_); ++layer)
      if (layer_of(fitting_, layer).inner_depth() > w)
        for (const TopoDS_Face& face : faces_.across(joint, Side::lead, layer_of(fitting_, layer), {}))
          shell.push_back(turned(face, true));
    shell.push_back(
        turned(faces_.on_follow(joint, shell_end(fitting_, of, fitting_.liner.bore_depth()), nullptr), true));
  }

  template <class F>
  void for_each_open_end(F&& f) {
    for (const Wall& wall : fitting_.walls) {
      if (wall.layer != 0) continue;
      for (const bool high : {false, true})
        if (fitting_.joints[static_cast<std::size_t>((high ? wall.high : wall.low).joint)].open())
          f(metal_end_of(fitting_, wall, high), high);
    }
  }

  const Fitting& fitting_;
  Faces faces_;
};

// A length of the metal of a straight, as a duct of its own in its place.
Fitting duct_between(const Fitting& straight, double low, double high) {
  Fitting duct;
  duct.liner = straight.liner;
  Wall wall = straight.walls.front();
  const Joint start = straight.joints[static_cast<std::size_t>(wall.low.joint)];
  const Frame& axes = wall.sheet.frame();
  for (const double at : {low, high}) {
    duct.joints.push_back(start);
    duct.joints.back().target = PlaneTarget{axes.point({0.0, 0.0, at}), axes.z};
    duct.joints.back().metal_end.reset();
  }
  wall.low = {0, Side::lead};
  wall.high = {1, Side::lead};
  duct.walls.push_back(std::move(wall));
  return duct;
}

// The metal: one body, or of a straight with joints inside its lining each length of duct.
std::vector<TopoDS_Shape> metals_of(const Fitting& fitting, Bodies& bodies) {
  if (fitting.pressed) return {close_up(pressed_faces(*fitting.pressed, fitting.liner.gauge))};
  std::vector<double> ends = duct_joints(fitting.request);
  if (ends.empty()) return {bodies.metal()};
  ends.insert(ends.begin(), 0.0);
  ends.push_back(fitting.passages.front().stations.back().distance);
  std::vector<TopoDS_Shape> metals;
  for (std::size_t i = 1; i < ends.size(); ++i) {
    const Fitting duct = duct_between(fitting, ends[i - 1], ends[i]);
    metals.push_back(Bodies(duct).metal());
  }
  return metals;
}

}  // namespace

Model kernel::build_model(const Fitting& fitting, Gate gate) {
  Model model{};
  Bodies bodies(fitting);
  FaceFluxes fluxes;
  std::vector<NamedShape> solids;
  const double t = fitting.liner.bore_depth();
  const double cavity_integral = shell_volume(fitting, 0.0);
  const double bore_integral = shell_volume(fitting, t);
  const double metal_integral = metal_volume(fitting);

  const auto agree = [&](double volume, double integral, const std::string& what) {
    const double error = std::fabs(volume - integral) / std::fabs(integral);
    model.volume_error = std::max(model.volume_error, error);
    if (!(error <= k_volume_agreement))
      throw GeometryError(
          fmt::format("{}: volume {} mm3 instead of {} mm3", what, fixed(volume, 3), fixed(integral, 3)));
  };

  const std::vector<TopoDS_Shape> metals = metals_of(fitting, bodies);
  for (std::size_t i = 0; i < metals.size(); ++i) {
    const bool one = metals.size() == 1;
    const std::string name = one ? std::string("metal") : fmt::format("metal {}", i + 1);
    solids.push_back({name, metals[i]});
    const double volume = volume_of(metals[i], fluxes);
    if (!(volume > 0.0)) throw GeometryError(name + ": the metal is turned inside out");
    model.metal_volume += volume;
    model.parts.push_back(
        {name, PartRole::metal, one ? -1 : static_cast<int>(i), make_solid(metals[i]), volume});
  }
  agree(model.metal_volume, metal_integral, "metal");

  for (std::size_t i = 0; i < fitting.pieces.size(); ++i) {
    const Piece& piece = fitting.pieces[i];
    const std::string name = "liner " + piece.id;
    const TopoDS_Solid solid = bodies.liner(piece);
    solids.push_back({name, solid});
    const double volume = volume_of(solid, fluxes);
    if (!(volume > 0.0)) throw GeometryError(name + ": the piece is turned inside out");
    model.liner_volume += volume;
    model.parts.push_back({name, PartRole::liner, static_cast<int>(i), make_solid(solid), volume});
  }

  const TopoDS_Solid cavity = bodies.filled(0.0);
  solids.push_back({"cavity", cavity});
  model.cavity_volume = volume_of(cavity, fluxes);
  agree(model.cavity_volume, cavity_integral, "cavity");
  const TopoDS_Solid bore = bodies.filled(t);
  solids.push_back({"bore", bore});
  model.bore_volume = volume_of(bore, fluxes);
  agree(model.bore_volume, bore_integral, "bore");
  model.parts.push_back({"bore", PartRole::bore, -1, make_solid(bore), model.bore_volume});

  pass_gate(solids, gate);
  model.fill_error =
      std::fabs(model.liner_volume - (model.cavity_volume - model.bore_volume)) / model.liner_volume;
  model.curve_deviation = bodies.deviation();
  return model;
}

}  // namespace linerwright
