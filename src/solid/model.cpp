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
#include "linerwright/mesh/bodies.hpp"
#include "linerwright/units/error.hpp"
#include "pressed.hpp"

namespace linerwright {

namespace {

constexpr double k_volume_agreement = 1e-7;  // of solids with the integrals, relative

template <class Face>
TopoDS_Solid close_up(const std::vector<Face>& faces) {
  BRep_Builder builder;
  TopoDS_Shell shell;
  builder.MakeShell(shell);
  for (const Face& face : faces) builder.Add(shell, face);
  shell.Closed(true);
  TopoDS_Solid solid;
  builder.MakeSolid(solid);
  builder.Add(solid, shell);
  BRepLib::UpdateTolerances(solid);
  return solid;
}

// The metal: one body, or of a straight with joints inside its lining each length of duct.
std::vector<TopoDS_Shape> metals_of(const Fitting& fitting, Bodies<Faces>& bodies, double fit) {
  if (fitting.pressed) return {close_up(pressed_faces(*fitting.pressed, fitting.liner.gauge))};
  const std::vector<Fitting> lengths = lengths_of_duct(fitting);
  if (lengths.empty()) return {close_up(bodies.metal())};
  std::vector<TopoDS_Shape> metals;
  for (const Fitting& duct : lengths) {
    Faces faces(duct, fit);
    metals.push_back(close_up(Bodies<Faces>(duct, faces).metal()));
  }
  return metals;
}

Model built(const Fitting& fitting, Gate gate, double fit) {
  Model model{};
  Faces faces(fitting, fit);
  Bodies<Faces> bodies(fitting, faces);
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
      throw CurvesTooCoarse(
          fmt::format("{}: volume {} mm3 instead of {} mm3", what, fixed(volume, 3), fixed(integral, 3)));
  };

  const std::vector<TopoDS_Shape> metals = metals_of(fitting, bodies, fit);
  for (std::size_t i = 0; i < metals.size(); ++i) {
    const bool one = metals.size() == 1;
    const std::string name = one ? std::string("metal") : fmt::format("metal {}", i + 1);
    solids.push_back({name, metals[i]});
    const double volume = volume_of(metals[i], fluxes);
    if (!(volume > 0.0)) throw GeometryError(name + ": the metal is turned inside out");
    model.metal_volume += volume;
    model.parts.push_back({name, PartRole::metal,
                           one ? std::nullopt : std::optional<int>(static_cast<int>(i)),
                           make_solid(metals[i]), volume});
  }
  agree(model.metal_volume, metal_integral, "metal");

  for (std::size_t i = 0; i < fitting.pieces.size(); ++i) {
    const Piece& piece = fitting.pieces[i];
    const std::string name = "liner " + piece.id;
    const TopoDS_Solid solid = close_up(bodies.liner(piece));
    solids.push_back({name, solid});
    const double volume = volume_of(solid, fluxes);
    if (!(volume > 0.0)) throw GeometryError(name + ": the piece is turned inside out");
    model.liner_volume += volume;
    model.parts.push_back({name, PartRole::liner, static_cast<int>(i), make_solid(solid), volume});
  }

  const TopoDS_Solid cavity = close_up(bodies.filled(0.0));
  solids.push_back({"cavity", cavity});
  model.cavity_volume = volume_of(cavity, fluxes);
  agree(model.cavity_volume, cavity_integral, "cavity");
  if (!is_disc_alone(fitting)) {
    const TopoDS_Solid bore = close_up(bodies.filled(t));
    solids.push_back({"bore", bore});
    model.bore_volume = volume_of(bore, fluxes);
    agree(model.bore_volume, bore_integral, "bore");
    model.parts.push_back({"bore", PartRole::bore, std::nullopt, make_solid(bore), model.bore_volume});
  }

  for (std::size_t w = 0; w < fitting.walls.size(); ++w)
    for (const JointUse& use : fitting.walls[w].holes)
      if (const Opening* opening = opening_at(fitting, use.joint)) {
        const TopoDS_Solid plug = close_up(bodies.plug(*opening, liner_of(fitting, static_cast<int>(w))));
        solids.push_back({"plug of the " + opening->name, plug});
        model.plug_volume += volume_from_own_corner(plug);
      }
  if (!fitting.openings.empty()) agree(model.plug_volume, plug_volume(fitting), "openings");

  pass_gate(solids, gate);
  model.fill_error =
      std::fabs(model.liner_volume + model.plug_volume - (model.cavity_volume - model.bore_volume)) /
      model.liner_volume;
  model.curve_deviation = faces.edges().deviation();
  return model;
}

}  // namespace

// Thin sheet around a wide hole feels where its edges' curves lie more than anything else does, and so does
// one face over several parts of a short wall: where the usual ones are not near enough, finer ones are
// taken.
Model kernel::build_model(const Fitting& fitting, Gate gate) {
  try {
    return built(fitting, gate, k_usual_fit);
  } catch (const CurvesTooCoarse&) {
    return built(fitting, gate, 0.1 * k_usual_fit);
  }
}

}  // namespace linerwright
